-- The club's challenges, who entered them, and ball flights counted by eye.

-- +goose Up
CREATE TABLE challenges (
    id       TEXT PRIMARY KEY,
    server   TEXT    NOT NULL,
    name     TEXT    NOT NULL,
    channel  TEXT    NOT NULL,
    message  TEXT    NOT NULL, -- the one its standings stand in, '' before it is posted
    opened   INTEGER NOT NULL,
    until    INTEGER,          -- NULL closes by hand alone
    closed   INTEGER,
    terms    BLOB    NOT NULL, -- the caller's own encoding; never changed
    winners  TEXT    NOT NULL, -- the message that says who won, '' before it is posted
    revision INTEGER NOT NULL, -- counts what changed in it
    shown    INTEGER NOT NULL, -- the revision the message shows
    drawn    INTEGER           -- when the message was written last
) STRICT, WITHOUT ROWID;
CREATE INDEX challenges_server ON challenges (server, opened);
CREATE INDEX challenges_behind ON challenges (revision) WHERE revision <> shown;
CREATE INDEX challenges_until ON challenges (until) WHERE closed IS NULL AND until IS NOT NULL;

-- An entry of a closed challenge outlives its player: what leads to them is
-- emptied, and how it ended stays.
CREATE TABLE entries (
    id        TEXT PRIMARY KEY,
    challenge TEXT NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    server    TEXT NOT NULL,
    player    TEXT NOT NULL,
    session   TEXT REFERENCES sessions (id) ON DELETE SET NULL,
    sha256    TEXT NOT NULL,    -- of the session's file
    at        INTEGER NOT NULL,
    stretch   BLOB NOT NULL,    -- the balls, the caller's own encoding
    past      BLOB NOT NULL,
    reread    INTEGER NOT NULL CHECK (reread IN (0, 1)), -- the file was read again since
    rescored  INTEGER,          -- when that last changed the balls
    final     BLOB              -- how it ended
) STRICT;
CREATE UNIQUE INDEX entries_player ON entries (challenge, player) WHERE player <> '';
CREATE UNIQUE INDEX entries_file ON entries (challenge, sha256) WHERE sha256 <> '';
CREATE INDEX entries_challenge ON entries (challenge, at);
CREATE INDEX entries_of ON entries (server, player) WHERE player <> '';
CREATE INDEX entries_session ON entries (session);

CREATE TABLE tallies (
    id      TEXT PRIMARY KEY,
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    club    TEXT    NOT NULL,
    at      INTEGER NOT NULL, -- when it was begun
    counted INTEGER NOT NULL, -- when it was last changed
    flights TEXT    NOT NULL, -- JSON array of counts, the caller's own order
    last    INTEGER NOT NULL, -- which was counted last, -1 for none to take back
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX tallies_student ON tallies (server, student, at);

-- +goose Down
DROP TABLE tallies;
DROP TABLE entries;
DROP TABLE challenges;
