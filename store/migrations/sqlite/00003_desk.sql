-- What a coach has looked at and been told.

-- +goose Up
-- Written when a coach says so; opening a post writes nothing here.
CREATE TABLE looked (
    session TEXT NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    coach   TEXT NOT NULL,
    at      INTEGER NOT NULL,
    PRIMARY KEY (session, coach)
) STRICT, WITHOUT ROWID;

-- How a brief ended, once its coach was told: it is told once.
CREATE TABLE told (
    brief    TEXT PRIMARY KEY REFERENCES briefs (id) ON DELETE CASCADE,
    standing TEXT NOT NULL,
    at       INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- When a coach wants to hear of the week's changes.
CREATE TABLE digests (
    server    TEXT    NOT NULL,
    coach     TEXT    NOT NULL,
    weekday   INTEGER NOT NULL CHECK (weekday BETWEEN 0 AND 6), -- 0 is Sunday
    hour      INTEGER NOT NULL CHECK (hour BETWEEN 0 AND 23),
    time_zone TEXT    NOT NULL,
    up_to     INTEGER NOT NULL, -- changes until then were told
    refused   INTEGER,          -- when the last one could not be delivered
    PRIMARY KEY (server, coach)
) STRICT, WITHOUT ROWID;

-- +goose Down
DROP TABLE digests;
DROP TABLE told;
DROP TABLE looked;
