-- Which balls were hit otherwise than usual, what a session was found to say, the
-- message pinned in a lesson thread, and what a student deleted, chose to be told
-- and had explained.

-- +goose Up
-- 0 the only setup with that club in the session, 1 the usual one beside another,
-- 2 another.
ALTER TABLE shots ADD COLUMN setup INTEGER NOT NULL DEFAULT 0 CHECK (setup IN (0, 1, 2));

-- Sessions of before, until the store has judged that of them: it knows what a
-- usual set is called.
CREATE TABLE redraw (session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE) STRICT, WITHOUT ROWID;
INSERT INTO redraw SELECT DISTINCT session FROM shots WHERE label <> '';

ALTER TABLE briefs ADD COLUMN label TEXT NOT NULL DEFAULT ''; -- the set it is about, '' for what was tried, or else all

ALTER TABLE students ADD COLUMN detail TEXT NOT NULL DEFAULT ''; -- 'figures' for those at once
ALTER TABLE students ADD COLUMN explained TEXT NOT NULL DEFAULT ''; -- words, ';' between

-- What a session was found to say, so that the coach's desk says it without
-- reading the file again, and the comments a coach sent, for reuse.
ALTER TABLE sessions ADD COLUMN gist TEXT; -- JSON; '' when nothing can be said, NULL of what was read before this

CREATE TABLE comments (
    server TEXT NOT NULL,
    coach  TEXT NOT NULL,
    text   TEXT NOT NULL,
    at     INTEGER NOT NULL, -- when it was sent last
    PRIMARY KEY (server, coach, text)
) STRICT, WITHOUT ROWID;

-- The message with buttons that stands pinned in a lesson thread. It outlives
-- its binding until it is taken away on the platform, and names nobody.
CREATE TABLE pins (
    binding TEXT PRIMARY KEY, -- refers to no row once its student is forgotten
    thread  TEXT NOT NULL,
    message TEXT NOT NULL,    -- '' while there is none
    due     INTEGER NOT NULL CHECK (due IN (0, 1)) -- to be posted, or taken away
) STRICT, WITHOUT ROWID;
CREATE INDEX pins_due ON pins (binding) WHERE due = 1;

INSERT INTO pins (binding, thread, message, due)
SELECT id, thread, '', 1 FROM bindings WHERE given IS NOT NULL AND ended IS NULL;

-- That a student deleted one of their sessions: their coach is told, and not
-- what was in it.
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
DROP TABLE pins;
DROP TABLE comments;
ALTER TABLE sessions DROP COLUMN gist;
ALTER TABLE students DROP COLUMN explained;
ALTER TABLE students DROP COLUMN detail;
ALTER TABLE briefs DROP COLUMN label;
DROP TABLE redraw;
ALTER TABLE shots DROP COLUMN setup;
