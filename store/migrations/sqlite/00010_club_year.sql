-- Shots that were asked for, challenges that can be trusted, seasons of them, and
-- lesson threads that the bot opens.

-- +goose Up
-- Whether a ball did the shot it was asked for: 1, 0, or nothing where none was
-- asked for or its flight does not tell.

ALTER TABLE shots ADD COLUMN asked_done REAL;

-- Of a brief, the share of its balls that has to be inside, 0 for more than half.
ALTER TABLE briefs ADD COLUMN share REAL NOT NULL DEFAULT 0;

-- Challenges that can be trusted: entries that wait for a host or were taken
-- out, what hosts did, challenges called off and played off, and sessions
-- whose kind of ball is what was said first.

ALTER TABLE sessions ADD COLUMN first_ball TEXT NOT NULL DEFAULT ''; -- the kind first said, '' while it is not; never changed
UPDATE sessions SET first_ball = json_extract(said, '$.ball') WHERE json_extract(said, '$.ball') IN ('new', 'range');

ALTER TABLE challenges ADD COLUMN voided TEXT NOT NULL DEFAULT ''; -- why it was called off, '' if it was not
ALTER TABLE challenges ADD COLUMN after TEXT; -- the challenge it is the play-off of
CREATE UNIQUE INDEX challenges_after ON challenges (after) WHERE after IS NOT NULL;

ALTER TABLE entries ADD COLUMN waiting BLOB; -- why a host is to look at it first, the caller's own encoding; NULL if it counts
ALTER TABLE entries ADD COLUMN removed TEXT NOT NULL DEFAULT ''; -- why a host took it out, '' if none did

-- The sessions whose balls an entry has, in their order.
CREATE TABLE entry_sessions (
    entry   TEXT    NOT NULL REFERENCES entries (id) ON DELETE CASCADE,
    place   INTEGER NOT NULL,
    session TEXT    NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    PRIMARY KEY (entry, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX entry_sessions_session ON entry_sessions (session);
INSERT INTO entry_sessions (entry, place, session) SELECT id, 0, session FROM entries WHERE session IS NOT NULL;

-- What hosts did in a challenge.
CREATE TABLE rulings (
    id        TEXT PRIMARY KEY,
    challenge TEXT    NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    at        INTEGER NOT NULL,
    host      TEXT    NOT NULL, -- '' once they were forgotten
    what      TEXT    NOT NULL CHECK (what IN ('accepted', 'removed', 'voided', 'extended')),
    entry     TEXT,             -- it is about, NULL if about none or its player is gone
    reason    TEXT    NOT NULL
) STRICT;
CREATE INDEX rulings_challenge ON rulings (challenge, at);

-- Who said that their next session counts.
CREATE TABLE announced (
    challenge TEXT    NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    server    TEXT    NOT NULL,
    player    TEXT    NOT NULL,
    at        INTEGER NOT NULL,
    PRIMARY KEY (challenge, player)
) STRICT, WITHOUT ROWID;
CREATE INDEX announced_player ON announced (server, player);

-- Who left an open challenge, or deleted a session posted since it opened, by
-- a sum that names nobody: entering anew, they wait for a host. Gone with the
-- end of the challenge.
CREATE TABLE left_challenges (
    challenge TEXT NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    who       TEXT NOT NULL,
    PRIMARY KEY (challenge, who)
) STRICT, WITHOUT ROWID;

-- When the bot was last seen to run.
CREATE TABLE running (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    at INTEGER NOT NULL
) STRICT;

-- Seasons: challenges on a schedule, made from templates, and what adds them up.

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

-- Lesson threads that a coach asked the bot to open, until they stand and the
-- student is asked in them.

CREATE TABLE openings (
    id      TEXT PRIMARY KEY,
    server  TEXT NOT NULL,
    channel TEXT NOT NULL,    -- the thread is opened in
    student TEXT NOT NULL,
    coach   TEXT NOT NULL,    -- who asked
    asked   INTEGER NOT NULL,
    thread  TEXT NOT NULL,    -- '' until it is open
    UNIQUE (server, student, coach),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX openings_coach ON openings (server, coach);

-- +goose Down
DROP TABLE openings;
DROP TRIGGER scheduled_changed;
DROP TABLE former;
DROP TABLE handicaps;
DROP TABLE scheduled;
DROP TABLE seasons;
DROP TABLE templates;
DROP TABLE running;
DROP TABLE left_challenges;
DROP TABLE announced;
DROP TABLE rulings;
DROP TABLE entry_sessions;
ALTER TABLE entries DROP COLUMN removed;
ALTER TABLE entries DROP COLUMN waiting;
DROP INDEX challenges_after;
ALTER TABLE challenges DROP COLUMN after;
ALTER TABLE challenges DROP COLUMN voided;
ALTER TABLE sessions DROP COLUMN first_ball;
ALTER TABLE briefs DROP COLUMN share;
ALTER TABLE shots DROP COLUMN asked_done;
