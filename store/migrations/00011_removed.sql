-- That a student deleted one of their sessions: their coach is told, and not
-- what was in it.

-- +goose Up
CREATE TABLE removed (
    id      TEXT PRIMARY KEY, -- the session it was
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    hit     INTEGER NOT NULL, -- what it was ordered by
    balls   INTEGER NOT NULL,
    at      INTEGER NOT NULL,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX removed_of ON removed (server, student, at);

-- +goose Down
DROP TABLE removed;
