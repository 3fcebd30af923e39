-- Seasons: challenges on a schedule, made from templates, and what adds them up.

-- +goose Up
CREATE TABLE templates (
    server TEXT NOT NULL,
    name   TEXT NOT NULL,
    terms  BLOB NOT NULL, -- of a challenge, the caller's own encoding
    PRIMARY KEY (server, name)
) STRICT, WITHOUT ROWID;

CREATE TABLE seasons (
    id       TEXT PRIMARY KEY,
    server   TEXT    NOT NULL,
    name     TEXT    NOT NULL,
    club     TEXT    NOT NULL, -- what the club calls itself
    channel  TEXT    NOT NULL,
    message  TEXT    NOT NULL, -- the one its table stands in, '' before it is posted
    winners  TEXT    NOT NULL, -- the message that says who won, '' before it is posted
    made     INTEGER NOT NULL,
    first    TEXT    NOT NULL, -- days on the clubhouse's clock, as 2026-06-01
    last     TEXT    NOT NULL,
    closed   INTEGER,
    terms    BLOB    NOT NULL, -- the caller's own encoding
    revision INTEGER NOT NULL, -- counts what changed in it
    shown    INTEGER NOT NULL, -- the revision the message shows
    drawn    INTEGER           -- when the message was written last
) STRICT, WITHOUT ROWID;
CREATE INDEX seasons_server ON seasons (server, made);
CREATE INDEX seasons_running ON seasons (server) WHERE closed IS NULL;
CREATE INDEX seasons_behind ON seasons (revision) WHERE revision <> shown;

-- The same template is on a day once, however often it is put there.
CREATE TABLE scheduled (
    season    TEXT NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    day       TEXT NOT NULL,    -- it opens, on the clubhouse's clock
    name      TEXT NOT NULL,
    days      INTEGER NOT NULL, -- it is open
    terms     BLOB NOT NULL,
    challenge TEXT REFERENCES challenges (id), -- NULL before it opens
    missed    INTEGER NOT NULL CHECK (missed IN (0, 1)), -- nobody was there to open it while it was to be open
    PRIMARY KEY (season, day, name)
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX scheduled_challenge ON scheduled (challenge) WHERE challenge IS NOT NULL;
CREATE INDEX scheduled_due ON scheduled (day) WHERE challenge IS NULL AND missed = 0;

CREATE TABLE handicaps (
    season   TEXT NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    server   TEXT NOT NULL,
    student  TEXT NOT NULL,
    handicap REAL,             -- strokes, below nought better than scratch; NULL was never entered
    band     INTEGER NOT NULL, -- of the season's classes that is in, -1 for none
    junior   INTEGER NOT NULL CHECK (junior IN (0, 1)), -- when the season ended
    PRIMARY KEY (season, student),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX handicaps_of ON handicaps (server, student);

-- Which entries without a name are one member's, so that a table still adds
-- them up, and in which class. It leads to nobody.
CREATE TABLE former (
    entry  TEXT PRIMARY KEY REFERENCES entries (id) ON DELETE CASCADE,
    season TEXT NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    who    TEXT NOT NULL, -- drawn anew for each season
    band   INTEGER NOT NULL,
    junior INTEGER NOT NULL CHECK (junior IN (0, 1))
) STRICT, WITHOUT ROWID;
CREATE INDEX former_season ON former (season);

-- A season changes with whatever changes in its challenges that are over.
-- +goose StatementBegin
CREATE TRIGGER scheduled_changed AFTER UPDATE OF revision ON challenges WHEN NEW.closed IS NOT NULL
BEGIN
    UPDATE seasons SET revision = revision + 1 WHERE id = (SELECT season FROM scheduled WHERE challenge = NEW.id);
END;
-- +goose StatementEnd

-- +goose Down
DROP TRIGGER scheduled_changed;
DROP TABLE former;
DROP TABLE handicaps;
DROP TABLE scheduled;
DROP TABLE seasons;
DROP TABLE templates;
