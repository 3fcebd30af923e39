-- Several processes that serve one bot together: who lives, who holds what, and
-- what they have to agree about. Where one process serves, all of it stays empty.

-- +goose Up
-- A life of a process, which ends unless it is renewed and never comes back.
CREATE TABLE lives (
    id      TEXT PRIMARY KEY,
    process TEXT    NOT NULL, -- for the operator: which process on which host
    started INTEGER NOT NULL,
    until   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- What one life at a time does. A lease lasts as long as the life of its owner.
CREATE TABLE leases (
    name    TEXT PRIMARY KEY,
    owner   TEXT    NOT NULL, -- the life that holds it, '' if it was given back
    fence   INTEGER NOT NULL, -- grows whenever it changes hands
    session TEXT    NOT NULL, -- the gateway's, for who holds it next to resume; '' for none
    address TEXT    NOT NULL, -- where that is resumed
    seq     INTEGER NOT NULL  -- events up to this one are written down
) STRICT, WITHOUT ROWID;

-- When the next session may start on the gateway, by group of shards.
CREATE TABLE turns (
    name  TEXT PRIMARY KEY,
    free  INTEGER NOT NULL,
    since INTEGER NOT NULL, -- the hour began that count is of
    count INTEGER NOT NULL
) STRICT, WITHOUT ROWID;

-- Who handed over files of late, for the most that one person may.
CREATE TABLE handed (
    id     TEXT PRIMARY KEY,
    person TEXT    NOT NULL,
    at     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX handed_person ON handed (person, at);

-- How often something changed on a server that processes know by heart, and when
-- it last did.
CREATE TABLE revisions (
    server TEXT PRIMARY KEY,
    count  INTEGER NOT NULL,
    at     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX revisions_at ON revisions (at);

-- The life that works on a request; '' for none, or where one process serves.
ALTER TABLE intake ADD COLUMN worker TEXT NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE intake DROP COLUMN worker;
DROP TABLE revisions;
DROP TABLE handed;
DROP TABLE turns;
DROP TABLE leases;
DROP TABLE lives;
