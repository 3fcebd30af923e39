-- What a session was found to say, so that the coach's desk says it without
-- reading the file again, and the comments a coach sent, for reuse.

-- +goose Up
ALTER TABLE sessions ADD COLUMN gist TEXT; -- JSON; '' when nothing can be said, NULL of what was read before this

CREATE TABLE comments (
    server TEXT NOT NULL,
    coach  TEXT NOT NULL,
    text   TEXT NOT NULL,
    at     INTEGER NOT NULL, -- when it was sent last
    PRIMARY KEY (server, coach, text)
) STRICT, WITHOUT ROWID;

-- +goose Down
DROP TABLE comments;
ALTER TABLE sessions DROP COLUMN gist;
