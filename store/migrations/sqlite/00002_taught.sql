-- What a session's trial taught of a setup tool, drawn from its sets whenever
-- they are written: what a tool does to a student is learned from these
-- without running a trial again.

-- +goose Up
CREATE TABLE taught (
    session    TEXT NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    place      INTEGER NOT NULL, -- 0-based, in the order of the trial
    club       TEXT NOT NULL,
    tool       TEXT NOT NULL,
    number     TEXT NOT NULL,
    difference REAL NOT NULL, -- set minus baseline
    error      REAL NOT NULL, -- standard error of the difference
    balls      INTEGER NOT NULL,
    PRIMARY KEY (session, place)
) STRICT, WITHOUT ROWID;

-- +goose Down
DROP TABLE taught;
