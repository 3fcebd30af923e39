-- As in ../sqlite, which says what each is for.

-- +goose Up
CREATE TABLE lives (
    id TEXT COLLATE "C" PRIMARY KEY,
    process TEXT COLLATE "C" NOT NULL,
    started BIGINT NOT NULL,
    until BIGINT NOT NULL
);

CREATE TABLE leases (
    name TEXT COLLATE "C" PRIMARY KEY,
    owner TEXT COLLATE "C" NOT NULL,
    fence BIGINT NOT NULL,
    session TEXT COLLATE "C" NOT NULL,
    address TEXT COLLATE "C" NOT NULL,
    seq BIGINT NOT NULL
);

CREATE TABLE turns (
    name TEXT COLLATE "C" PRIMARY KEY,
    free BIGINT NOT NULL,
    since BIGINT NOT NULL,
    count BIGINT NOT NULL
);

CREATE TABLE handed (
    id TEXT COLLATE "C" PRIMARY KEY,
    person TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL
);
CREATE INDEX handed_person ON handed (person, at);

CREATE TABLE revisions (
    server TEXT COLLATE "C" PRIMARY KEY,
    count BIGINT NOT NULL,
    at BIGINT NOT NULL
);
CREATE INDEX revisions_at ON revisions (at);

ALTER TABLE intake ADD COLUMN worker TEXT COLLATE "C" NOT NULL DEFAULT '';

-- +goose Down
ALTER TABLE intake DROP COLUMN worker;
DROP TABLE revisions, handed, turns, leases, lives;
