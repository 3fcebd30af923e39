-- What tools of setup do to a coach's students, all of them together. Figures
-- stand as they were made, with what they rest on, until enough students have
-- changed: see store/pool.go.

-- +goose Up
-- One making of them. The earlier ones stay, without figures: no later one may
-- differ from any of them by a student alone.
CREATE TABLE pools (
    id       TEXT PRIMARY KEY,
    server   TEXT    NOT NULL,
    coach    TEXT    NOT NULL,
    club     TEXT    NOT NULL,
    tool     TEXT    NOT NULL,
    students INTEGER NOT NULL, -- it rests on
    sessions INTEGER NOT NULL, -- of theirs
    at       INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX pools_of ON pools (server, coach, club, tool, at);

CREATE TABLE pooled (
    pool    TEXT NOT NULL REFERENCES pools (id) ON DELETE CASCADE,
    session TEXT NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    PRIMARY KEY (pool, session)
) STRICT, WITHOUT ROWID;
CREATE INDEX pooled_session ON pooled (session);

CREATE TABLE pool_figures (
    pool    TEXT NOT NULL REFERENCES pools (id) ON DELETE CASCADE,
    without TEXT NOT NULL, -- the student whose trials are left out of them, '' for nobody
    number  TEXT NOT NULL,
    golfers INTEGER NOT NULL,
    trials  INTEGER NOT NULL,
    mean    REAL NOT NULL,
    low     REAL NOT NULL,
    high    REAL NOT NULL,
    differ  REAL NOT NULL, -- standard deviation from student to student
    within  REAL NOT NULL, -- and from trial to trial of one
    least   REAL NOT NULL, -- limits of a student more
    most    REAL NOT NULL,
    PRIMARY KEY (pool, without, number)
) STRICT, WITHOUT ROWID;

-- Of a deleted session nothing is left in any figure, whoever deletes it.
-- +goose StatementBegin
CREATE TRIGGER pooled_gone AFTER DELETE ON pooled BEGIN
    DELETE FROM pool_figures WHERE pool = OLD.pool;
END;
-- +goose StatementEnd

-- +goose Down
DROP TABLE pooled; -- and its trigger
DROP TABLE pool_figures;
DROP TABLE pools;
