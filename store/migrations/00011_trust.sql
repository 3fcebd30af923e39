-- Challenges that can be trusted: entries that wait for a host or were taken
-- out, what hosts did, challenges called off and played off, and sessions
-- whose kind of ball is what was said first.

-- +goose Up
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

-- +goose Down
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
