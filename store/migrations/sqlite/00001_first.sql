-- Times are milliseconds since 1970 (UTC); quantities are SI and radians.
-- Every table that holds somebody's data carries the server it belongs to.

-- +goose Up
CREATE TABLE clubhouses (
    server             TEXT PRIMARY KEY,
    coach_role         TEXT    NOT NULL,
    challenge_channels TEXT    NOT NULL, -- JSON array of channel ids
    distance           TEXT    NOT NULL CHECK (distance IN ('yd', 'm')),
    speed              TEXT    NOT NULL CHECK (speed IN ('mph', 'mps')),
    time_zone          TEXT    NOT NULL,
    quiet_from         INTEGER NOT NULL CHECK (quiet_from BETWEEN 0 AND 1439), -- minute of the day
    quiet_until        INTEGER NOT NULL CHECK (quiet_until BETWEEN 0 AND 1439),
    retention_days     INTEGER NOT NULL CHECK (retention_days >= 0), -- 0 keeps everything
    juniors_private    INTEGER NOT NULL CHECK (juniors_private IN (0, 1))
) STRICT, WITHOUT ROWID;

CREATE TABLE students (
    server   TEXT NOT NULL,
    student  TEXT NOT NULL,
    name     TEXT NOT NULL,             -- as last seen
    hand     TEXT CHECK (hand IN ('right', 'left')), -- NULL until said
    distance TEXT CHECK (distance IN ('yd', 'm')),   -- NULL follows the clubhouse
    speed    TEXT CHECK (speed IN ('mph', 'mps')),
    junior   INTEGER NOT NULL CHECK (junior IN (0, 1)),
    since    INTEGER NOT NULL,
    PRIMARY KEY (server, student)
) STRICT, WITHOUT ROWID;
CREATE INDEX students_servers ON students (student);

-- A binding is asked for by a coach, given by the student, and over once ended.
CREATE TABLE bindings (
    id       TEXT PRIMARY KEY,
    server   TEXT NOT NULL,
    student  TEXT NOT NULL,
    coach    TEXT NOT NULL,
    thread   TEXT NOT NULL,
    asked    INTEGER NOT NULL,
    given    INTEGER,
    guardian INTEGER NOT NULL CHECK (guardian IN (0, 1)), -- a guardian decided, the coach recorded it
    ended    INTEGER,
    why      TEXT NOT NULL CHECK (why IN ('', 'declined', 'withdrawn', 'unbound', 'replaced')),
    CHECK ((ended IS NULL) = (why = '')),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX bindings_one_coach ON bindings (server, student) WHERE given IS NOT NULL AND ended IS NULL;
CREATE UNIQUE INDEX bindings_one_student ON bindings (server, thread) WHERE given IS NOT NULL AND ended IS NULL;
CREATE INDEX bindings_student ON bindings (server, student, asked);
CREATE INDEX bindings_coach ON bindings (server, coach) WHERE ended IS NULL;

CREATE TABLE sessions (
    id           TEXT PRIMARY KEY,
    server       TEXT NOT NULL,
    student      TEXT NOT NULL,
    posted_by    TEXT NOT NULL,
    posted       INTEGER NOT NULL,
    hit          INTEGER,          -- when it was hit, if file or golfer said
    at           INTEGER NOT NULL, -- hit, else posted: what sessions are ordered by
    channel      TEXT NOT NULL DEFAULT '',
    message      TEXT NOT NULL DEFAULT '',
    name         TEXT NOT NULL,
    sha256       TEXT NOT NULL,
    -- From here on, what follows from the reading; written over with each.
    fingerprint  TEXT    NOT NULL DEFAULT '',
    rows_read    INTEGER NOT NULL DEFAULT 0,
    rows_dropped INTEGER NOT NULL DEFAULT 0,
    labelled     INTEGER NOT NULL DEFAULT 0 CHECK (labelled IN (0, 1)),
    decisions    TEXT    NOT NULL DEFAULT '[]', -- JSON array of sentences
    questions    TEXT    NOT NULL DEFAULT '[]', -- JSON array of open questions
    said         TEXT    NOT NULL DEFAULT '{}', -- JSON object: what people said beside the file
    hand         TEXT    NOT NULL DEFAULT 'right' CHECK (hand IN ('right', 'left')),
    ball         TEXT    NOT NULL DEFAULT '',
    target       REAL    NOT NULL DEFAULT 0,
    note         TEXT    NOT NULL DEFAULT '',
    temperature  REAL,
    altitude     REAL,
    wind_speed   REAL,
    wind_from    REAL,
    balls        INTEGER NOT NULL DEFAULT 0,
    used         INTEGER NOT NULL DEFAULT 0,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX sessions_once ON sessions (server, student, sha256);
CREATE INDEX sessions_at ON sessions (server, student, at, posted);
CREATE INDEX sessions_posted ON sessions (server, student, posted);

-- The file as it was handed over, gzipped.
CREATE TABLE files (
    session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    size    INTEGER NOT NULL,
    gzip    BLOB NOT NULL
) STRICT;

-- One row a ball, one column a number, NULL where unknown. The columns bear
-- the keys of the table of numbers; a new number is one ADD COLUMN.
CREATE TABLE shots (
    session       TEXT NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    place         INTEGER NOT NULL, -- 0-based, file order
    n             INTEGER NOT NULL,
    file_row      INTEGER NOT NULL,
    club          TEXT NOT NULL,
    label         TEXT NOT NULL,
    aside         TEXT NOT NULL,
    why           TEXT NOT NULL,
    inferred      TEXT NOT NULL,    -- keys of the numbers worked back, space between
    club_speed    REAL,
    attack        REAL,
    path          REAL,
    face          REAL,
    face_to_path  REAL,
    dynamic_loft  REAL,
    spin_loft     REAL,
    lie           REAL,
    strike_toe    REAL,
    strike_up     REAL,
    ball_speed    REAL,
    smash         REAL,
    launch        REAL,
    direction     REAL,
    spin          REAL,
    spin_axis     REAL,
    carry         REAL,
    total         REAL,
    lateral       REAL,
    lateral_total REAL,
    apex          REAL,
    descent       REAL,
    flight        REAL,
    PRIMARY KEY (session, place)
) STRICT, WITHOUT ROWID;

-- A number of the used balls of one club in one session, drawn from shots
-- whenever they are written. A timeline is one range of this table's key; a
-- roster reads its means without touching a shot.
CREATE TABLE session_values (
    server   TEXT NOT NULL,
    student  TEXT NOT NULL,
    number   TEXT NOT NULL,
    at       INTEGER NOT NULL,
    session  TEXT NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    club     TEXT NOT NULL,
    ball     TEXT NOT NULL,
    balls    INTEGER NOT NULL,
    inferred INTEGER NOT NULL, -- how many of them were worked back
    mean     REAL NOT NULL,
    sd       REAL,             -- NULL with one ball
    vals     BLOB NOT NULL,    -- the values, float64 little-endian, file order
    PRIMARY KEY (server, student, number, at, session, club)
) STRICT, WITHOUT ROWID;
CREATE INDEX session_values_session ON session_values (session);

-- What people answered about files with the same header. Nothing is
-- overwritten, so that undoing one brings back the one before.
CREATE TABLE answers (
    id          TEXT PRIMARY KEY,
    server      TEXT NOT NULL,
    fingerprint TEXT NOT NULL,
    key         TEXT NOT NULL,
    value       TEXT NOT NULL,
    who         TEXT NOT NULL,
    coach       INTEGER NOT NULL CHECK (coach IN (0, 1)),
    at          INTEGER NOT NULL
) STRICT;
CREATE INDEX answers_for ON answers (server, fingerprint, key, coach, at);
CREATE INDEX answers_who ON answers (server, who);

CREATE TABLE lessons (
    id      TEXT PRIMARY KEY,
    server  TEXT NOT NULL,
    student TEXT NOT NULL,
    coach   TEXT NOT NULL,
    at      INTEGER NOT NULL,
    note    TEXT NOT NULL,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX lessons_student ON lessons (server, student, at);

CREATE TABLE briefs (
    id      TEXT PRIMARY KEY,
    server  TEXT NOT NULL,
    student TEXT NOT NULL,
    coach   TEXT NOT NULL,
    number  TEXT NOT NULL,
    low     REAL,
    high    REAL,
    club    TEXT NOT NULL,
    balls   INTEGER NOT NULL,
    until   INTEGER,
    at      INTEGER NOT NULL,
    ended   INTEGER,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX briefs_student ON briefs (server, student, at);

-- Requests taken on. The body holds the secret way back to the asker and is
-- emptied as soon as the request is settled; the id stays to refuse a repeat.
CREATE TABLE intake (
    id       TEXT PRIMARY KEY,
    server   TEXT NOT NULL,
    asker    TEXT NOT NULL,
    kind     TEXT NOT NULL,
    state    TEXT NOT NULL CHECK (state IN ('accepted', 'answered', 'failed')),
    at       INTEGER NOT NULL,
    attempts INTEGER NOT NULL,
    settled  INTEGER,
    reason   TEXT NOT NULL,
    body     BLOB NOT NULL
) STRICT;
CREATE INDEX intake_open ON intake (at) WHERE state = 'accepted';
CREATE INDEX intake_settled ON intake (settled) WHERE state <> 'accepted';
CREATE INDEX intake_asker ON intake (server, asker);

-- What a button needs to know, kept so that it outlives a restart.
CREATE TABLE views (
    id      TEXT PRIMARY KEY,
    server  TEXT NOT NULL,
    owner   TEXT NOT NULL,
    student TEXT NOT NULL, -- whose data it shows, '' for nobody's
    kind    TEXT NOT NULL,
    body    BLOB NOT NULL,
    expires INTEGER NOT NULL
) STRICT;
CREATE INDEX views_expires ON views (expires);
CREATE INDEX views_owner ON views (server, owner);
CREATE INDEX views_student ON views (server, student) WHERE student <> '';

-- When a coach last looked at a thread.
CREATE TABLE looks (
    server TEXT NOT NULL,
    coach  TEXT NOT NULL,
    thread TEXT NOT NULL,
    at     INTEGER NOT NULL,
    PRIMARY KEY (server, coach, thread)
) STRICT, WITHOUT ROWID;

-- +goose Down
DROP TABLE looks;
DROP TABLE views;
DROP TABLE intake;
DROP TABLE briefs;
DROP TABLE lessons;
DROP TABLE answers;
DROP TABLE session_values;
DROP TABLE shots;
DROP TABLE files;
DROP TABLE sessions;
DROP TABLE bindings;
DROP TABLE students;
DROP TABLE clubhouses;
