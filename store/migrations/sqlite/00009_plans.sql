-- Plans: the card of a trial that is laid out before a ball is hit, the sessions
-- whose balls found their places on it, and what its coach and student expect.

-- +goose Up
CREATE TABLE plans (
    id      TEXT PRIMARY KEY,
    server  TEXT NOT NULL,
    student TEXT NOT NULL,
    setter  TEXT NOT NULL,    -- who set it: the student, or their coach
    at      INTEGER NOT NULL,
    club    TEXT NOT NULL,
    number  TEXT NOT NULL,    -- the number of interest
    card    TEXT NOT NULL,    -- JSON, never changed
    claim   TEXT NOT NULL,    -- what somebody holds to be so, '' for none
    way     INTEGER NOT NULL CHECK (way IN (-1, 0, 1)), -- where the number has to go if it is; 0 until somebody says
    settled INTEGER,          -- when it was, once and for all
    status  TEXT NOT NULL DEFAULT '', -- how, '' while it is not
    found   TEXT NOT NULL DEFAULT '', -- JSON, as a gist: what it was found to say then
    ended   INTEGER,          -- when it was replaced, ended or settled
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX plans_one ON plans (server, student) WHERE ended IS NULL;
CREATE INDEX plans_student ON plans (server, student, at);

-- A session belongs to one plan at most. It stays where it was placed whatever
-- becomes of the plan.
CREATE TABLE placed (
    session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    plan    TEXT NOT NULL REFERENCES plans (id) ON DELETE CASCADE,
    reading TEXT NOT NULL,    -- how its balls were taken
    turns   TEXT NOT NULL,    -- JSON: the turn of each ball, -1 for none
    at      INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX placed_plan ON placed (plan, at);

CREATE TABLE forecasts (
    plan   TEXT NOT NULL REFERENCES plans (id) ON DELETE CASCADE,
    who    TEXT NOT NULL,
    server TEXT NOT NULL,
    chance REAL NOT NULL CHECK (chance BETWEEN 0 AND 1), -- that the claim is so
    at     INTEGER NOT NULL,
    PRIMARY KEY (plan, who)
) STRICT, WITHOUT ROWID;
CREATE INDEX forecasts_who ON forecasts (server, who, at);

-- Somebody who sets up otherwise for a turn may pause before it.
ALTER TABLE shots ADD COLUMN pause REAL NOT NULL DEFAULT 0; -- s since the ball before, 0 if the file does not say

-- What tools of setup do to a coach's students, all of them together. Figures
-- stand as they were made, with what they rest on, until enough students have
-- changed: see store/pool.go.
--
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
ALTER TABLE shots DROP COLUMN pause;
DROP TABLE forecasts;
DROP TABLE placed;
DROP TABLE plans;
