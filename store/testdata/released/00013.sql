CREATE TABLE goose_db_version (
		id INTEGER PRIMARY KEY AUTOINCREMENT,
		version_id INTEGER NOT NULL,
		is_applied INTEGER NOT NULL,
		tstamp TIMESTAMP DEFAULT (datetime('now'))
	);
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
    since    INTEGER NOT NULL, time_zone TEXT NOT NULL DEFAULT '', detail TEXT NOT NULL DEFAULT '', explained TEXT NOT NULL DEFAULT '',
    PRIMARY KEY (server, student)
) STRICT, WITHOUT ROWID;
CREATE INDEX students_servers ON students (student);
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
    used         INTEGER NOT NULL DEFAULT 0, request TEXT NOT NULL DEFAULT '', dated TEXT NOT NULL DEFAULT '', redate INTEGER NOT NULL DEFAULT 0 CHECK (redate IN (0, 1)), gist TEXT, first_ball TEXT NOT NULL DEFAULT '',
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE UNIQUE INDEX sessions_once ON sessions (server, student, sha256);
CREATE INDEX sessions_at ON sessions (server, student, at, posted);
CREATE INDEX sessions_posted ON sessions (server, student, posted);
CREATE TABLE files (
    session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    size    INTEGER NOT NULL,
    gzip    BLOB NOT NULL
) STRICT;
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
    flight        REAL, was TEXT NOT NULL DEFAULT '', setup INTEGER NOT NULL DEFAULT 0 CHECK (setup IN (0, 1, 2)), pause REAL NOT NULL DEFAULT 0, asked_done REAL,
    PRIMARY KEY (session, place)
) STRICT, WITHOUT ROWID;
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
CREATE TABLE answers (
    id          TEXT PRIMARY KEY,
    server      TEXT NOT NULL,
    fingerprint TEXT NOT NULL,
    key         TEXT NOT NULL,
    value       TEXT NOT NULL,
    who         TEXT NOT NULL,
    coach       INTEGER NOT NULL CHECK (coach IN (0, 1)),
    at          INTEGER NOT NULL
, student TEXT NOT NULL DEFAULT '', manager INTEGER NOT NULL DEFAULT 0 CHECK (manager IN (0, 1))) STRICT;
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
    ended   INTEGER, settled INTEGER, standing TEXT, inside INTEGER, balls_hit INTEGER, counted REAL, label TEXT NOT NULL DEFAULT '', share REAL NOT NULL DEFAULT 0,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX briefs_student ON briefs (server, student, at);
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
, worker TEXT NOT NULL DEFAULT '') STRICT;
CREATE INDEX intake_open ON intake (at) WHERE state = 'accepted';
CREATE INDEX intake_settled ON intake (settled) WHERE state <> 'accepted';
CREATE INDEX intake_asker ON intake (server, asker);
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
CREATE TABLE looks (
    server TEXT NOT NULL,
    coach  TEXT NOT NULL,
    thread TEXT NOT NULL,
    at     INTEGER NOT NULL,
    PRIMARY KEY (server, coach, thread)
) STRICT, WITHOUT ROWID;
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
CREATE TABLE looked (
    session TEXT NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    coach   TEXT NOT NULL,
    at      INTEGER NOT NULL,
    PRIMARY KEY (session, coach)
) STRICT, WITHOUT ROWID;
CREATE TABLE told (
    brief    TEXT PRIMARY KEY REFERENCES briefs (id) ON DELETE CASCADE,
    standing TEXT NOT NULL,
    at       INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
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
, voided TEXT NOT NULL DEFAULT '', after TEXT) STRICT, WITHOUT ROWID;
CREATE INDEX challenges_server ON challenges (server, opened);
CREATE INDEX challenges_behind ON challenges (revision) WHERE revision <> shown;
CREATE INDEX challenges_until ON challenges (until) WHERE closed IS NULL AND until IS NOT NULL;
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
, waiting BLOB, removed TEXT NOT NULL DEFAULT '') STRICT;
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
CREATE TABLE findings (
    lesson     TEXT    NOT NULL REFERENCES lessons (id) ON DELETE CASCADE,
    number     TEXT    NOT NULL,
    club       TEXT    NOT NULL,
    sessions   INTEGER NOT NULL, -- after the lesson, at which it was found
    hit        INTEGER NOT NULL, -- when the last of those was
    difference REAL    NOT NULL, -- as it was told then, with its limits
    low        REAL    NOT NULL,
    high       REAL    NOT NULL,
    at         INTEGER NOT NULL, -- when it was written down
    PRIMARY KEY (lesson, number, club)
) STRICT, WITHOUT ROWID;
CREATE TABLE noted (
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    number  TEXT    NOT NULL,
    club    TEXT    NOT NULL,
    at      INTEGER NOT NULL,
    coach   TEXT    NOT NULL,
    PRIMARY KEY (server, student, number, club, at),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX sessions_redate ON sessions (server, student) WHERE redate = 1;
CREATE INDEX sessions_balls ON sessions (student, balls, server);
CREATE TABLE digest_students (
    server  TEXT NOT NULL,
    coach   TEXT NOT NULL,
    student TEXT NOT NULL,
    since   INTEGER,       -- changes until then were told, NULL for all until the digest's own time
    drift   TEXT NOT NULL, -- number and club whose drift was told, '' for none
    PRIMARY KEY (server, coach, student),
    FOREIGN KEY (server, coach) REFERENCES digests (server, coach) ON DELETE CASCADE,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX digest_students_of ON digest_students (server, student);
CREATE TABLE redraw (session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE) STRICT, WITHOUT ROWID;
CREATE TABLE comments (
    server TEXT NOT NULL,
    coach  TEXT NOT NULL,
    text   TEXT NOT NULL,
    at     INTEGER NOT NULL, -- when it was sent last
    PRIMARY KEY (server, coach, text)
) STRICT, WITHOUT ROWID;
CREATE TABLE pins (
    binding TEXT PRIMARY KEY, -- refers to no row once its student is forgotten
    thread  TEXT NOT NULL,
    message TEXT NOT NULL,    -- '' while there is none
    due     INTEGER NOT NULL CHECK (due IN (0, 1)) -- to be posted, or taken away
) STRICT, WITHOUT ROWID;
CREATE INDEX pins_due ON pins (binding) WHERE due = 1;
CREATE TABLE removed (
    id      TEXT PRIMARY KEY, -- the session it was
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    hit     INTEGER NOT NULL, -- what it was ordered by
    balls   INTEGER NOT NULL,
    at      INTEGER NOT NULL,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
) STRICT, WITHOUT ROWID;
CREATE INDEX removed_of ON removed (server, student, at);
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
CREATE TRIGGER pooled_gone AFTER DELETE ON pooled BEGIN
    DELETE FROM pool_figures WHERE pool = OLD.pool;
END;
CREATE UNIQUE INDEX challenges_after ON challenges (after) WHERE after IS NOT NULL;
CREATE TABLE entry_sessions (
    entry   TEXT    NOT NULL REFERENCES entries (id) ON DELETE CASCADE,
    place   INTEGER NOT NULL,
    session TEXT    NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    PRIMARY KEY (entry, place)
) STRICT, WITHOUT ROWID;
CREATE INDEX entry_sessions_session ON entry_sessions (session);
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
CREATE TABLE announced (
    challenge TEXT    NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    server    TEXT    NOT NULL,
    player    TEXT    NOT NULL,
    at        INTEGER NOT NULL, seed  INTEGER NOT NULL DEFAULT 0, times INTEGER NOT NULL DEFAULT 1,
    PRIMARY KEY (challenge, player)
) STRICT, WITHOUT ROWID;
CREATE INDEX announced_player ON announced (server, player);
CREATE TABLE left_challenges (
    challenge TEXT NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    who       TEXT NOT NULL,
    PRIMARY KEY (challenge, who)
) STRICT, WITHOUT ROWID;
CREATE TABLE running (
    id INTEGER PRIMARY KEY CHECK (id = 1),
    at INTEGER NOT NULL
) STRICT;
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
CREATE TABLE scheduled (
    season    TEXT NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    day       TEXT NOT NULL,    -- it opens, on the clubhouse's clock
    name      TEXT NOT NULL,
    days      INTEGER NOT NULL, -- it is open
    terms     BLOB NOT NULL,
    challenge TEXT REFERENCES challenges (id), -- NULL before it opens
    missed    INTEGER NOT NULL CHECK (missed IN (0, 1)), made INTEGER, -- nobody was there to open it while it was to be open
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
CREATE TABLE former (
    entry  TEXT PRIMARY KEY REFERENCES entries (id) ON DELETE CASCADE,
    season TEXT NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    who    TEXT NOT NULL, -- drawn anew for each season
    band   INTEGER NOT NULL,
    junior INTEGER NOT NULL CHECK (junior IN (0, 1))
) STRICT, WITHOUT ROWID;
CREATE INDEX former_season ON former (season);
CREATE TRIGGER scheduled_changed AFTER UPDATE OF revision ON challenges WHEN NEW.closed IS NOT NULL
BEGIN
    UPDATE seasons SET revision = revision + 1 WHERE id = (SELECT season FROM scheduled WHERE challenge = NEW.id);
END;
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
CREATE TABLE lives (
    id      TEXT PRIMARY KEY,
    process TEXT    NOT NULL, -- for the operator: which process on which host
    started INTEGER NOT NULL,
    until   INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE leases (
    name    TEXT PRIMARY KEY,
    owner   TEXT    NOT NULL, -- the life that holds it, '' if it was given back
    fence   INTEGER NOT NULL, -- grows whenever it changes hands
    session TEXT    NOT NULL, -- the gateway's, for who holds it next to resume; '' for none
    address TEXT    NOT NULL, -- where that is resumed
    seq     INTEGER NOT NULL  -- events up to this one are written down
) STRICT, WITHOUT ROWID;
CREATE TABLE turns (
    name  TEXT PRIMARY KEY,
    free  INTEGER NOT NULL,
    since INTEGER NOT NULL, -- the hour began that count is of
    count INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE TABLE handed (
    id     TEXT PRIMARY KEY,
    person TEXT    NOT NULL,
    at     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX handed_person ON handed (person, at);
CREATE TABLE revisions (
    server TEXT PRIMARY KEY,
    count  INTEGER NOT NULL,
    at     INTEGER NOT NULL
) STRICT, WITHOUT ROWID;
CREATE INDEX revisions_at ON revisions (at);
CREATE VIEW waiting AS
    SELECT s.server, s.student, s.posted, s.id AS session, b.coach
    FROM sessions s JOIN bindings b ON b.server = s.server AND b.student = s.student AND b.given IS NOT NULL AND b.ended IS NULL
    WHERE s.posted >= b.given AND NOT EXISTS (SELECT 1 FROM looked l WHERE l.session = s.id AND l.coach = b.coach);
CREATE TABLE unread (
    server  TEXT    NOT NULL,
    student TEXT    NOT NULL,
    posted  INTEGER NOT NULL,
    session TEXT    NOT NULL,
    coach   TEXT    NOT NULL,
    PRIMARY KEY (server, student, posted, session)
) STRICT, WITHOUT ROWID;
CREATE INDEX unread_coach ON unread (server, coach, posted, session);
CREATE TRIGGER unread_posted AFTER INSERT ON sessions BEGIN
    INSERT INTO unread (server, student, posted, session, coach)
    SELECT server, student, posted, session, coach FROM waiting WHERE session = NEW.id;
END;
CREATE TRIGGER unread_looked AFTER INSERT ON looked BEGIN
    DELETE FROM unread WHERE coach = NEW.coach
        AND (server, student, posted, session) = (SELECT s.server, s.student, s.posted, s.id FROM sessions s WHERE s.id = NEW.session);
END;
CREATE TRIGGER unread_gone AFTER DELETE ON sessions BEGIN
    DELETE FROM unread WHERE server = OLD.server AND student = OLD.student AND posted = OLD.posted AND session = OLD.id;
END;
CREATE TRIGGER unread_bound AFTER UPDATE OF given, ended ON bindings BEGIN
    DELETE FROM unread WHERE server = NEW.server AND student = NEW.student;
    INSERT INTO unread (server, student, posted, session, coach)
    SELECT server, student, posted, session, coach FROM waiting WHERE server = NEW.server AND student = NEW.student;
END;
INSERT INTO goose_db_version VALUES (1, 0, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (2, 1, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (3, 2, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (4, 3, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (5, 4, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (6, 5, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (7, 6, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (8, 7, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (9, 8, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (10, 9, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (11, 10, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (12, 11, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (13, 12, 1, '2026-11-28 07:18:21');
INSERT INTO goose_db_version VALUES (14, 13, 1, '2026-11-28 07:18:21');
INSERT INTO students VALUES ('server-saltmarsh', 'user-wren', 'zqwren', 'left', 'm', 'mph', 0, 1775034000000, 'America/Los_Angeles', 'figures', 'path;zqwren');
INSERT INTO bindings VALUES ('8fhn8tfrdy', 'server-saltmarsh', 'user-wren', 'user-coach', 'thread-zqwren', 1775034060000, 1775034060000, 0, NULL, '');
INSERT INTO bindings VALUES ('8yaak1dzbz', 'server-saltmarsh', 'user-wren', 'user-rival', 'thread-r-zqwren', 1775034000000, NULL, 0, 1775034000000, 'declined');
INSERT INTO sessions VALUES ('afn9gt211k', 'server-saltmarsh', 'user-wren', 'user-coach', 1775034060000, 1774890306007, 1774890306007, 'thread-1', '', 'zqwren.csv', '589d9d5a7d9d3a134fa57fcc22d26b1c3b0eb8c34a973f795823cebbc761f441', 'club|face', 4, 1, 1, '["+ read as right of target"]', '[{"Key":"signs","Text":"Which way is +?","Choices":[{"Value":"target","Text":"right"}],"Alone":true}]', '{"club":"56","ball":"new","targets_m":{"":90},"when":"2026-03-30T00:00:00Z","sets":"1-2 zqwren","note":"zqwren","answers":{"unit:carry":"yd"}}', 'left', 'range', 91.44, 'zqwren', 283.15, 0.0, 4.5, -1.2, 2, 2, 'event-7', 'clock', 0, '{"set":{"Label":"zqwren","Used":12,"Verdict":"face","Miss":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true},"Face":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true},"Path":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true},"Inferred":true,"Width":9,"Wide":true,"MoreBalls":3,"Club":"7i"},"others":1,"trial":{"Club":"56","Base":"zqwren","Sets":[{"Label":"zqwren","Tool":"stronger grip","Used":12,"Asked":12,"Done":7,"Held":2,"Untold":1,"MoreBalls":11,"Follow":"cancels","Cancelled":0.9,"Moved":[{"Difference":-0.03,"Low":-0.05,"High":-0.01,"Little":true,"Number":"face"}],"Lead":"path"}]},"control":[{"Club":"7i","Number":"path","Made":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true}}]}', 'new');
INSERT INTO sessions VALUES ('gbhn5p95fh', 'server-saltmarsh', 'user-wren', 'user-coach', 1775034120000, 1774976706007, 1774976706007, 'thread-1', '', 'zqwren.csv', '51910c7b55f3e1396cc02493751ffd12772129607f0c7e8018f48e93abc4670e', 'club|face', 4, 1, 1, '["+ read as right of target"]', '[{"Key":"signs","Text":"Which way is +?","Choices":[{"Value":"target","Text":"right"}],"Alone":true}]', '{"club":"56","ball":"new","targets_m":{"":90},"when":"2026-03-30T00:00:00Z","sets":"1-2 zqwren","note":"zqwren","answers":{"unit:carry":"yd"}}', 'left', 'range', 91.44, 'zqwren', 283.15, 0.0, 4.5, -1.2, 2, 2, 'event-7', 'clock', 0, '{"set":{"Label":"zqwren","Used":12,"Verdict":"face","Miss":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true},"Face":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true},"Path":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true},"Inferred":true,"Width":9,"Wide":true,"MoreBalls":3,"Club":"7i"},"others":1,"trial":{"Club":"56","Base":"zqwren","Sets":[{"Label":"zqwren","Tool":"stronger grip","Used":12,"Asked":12,"Done":7,"Held":2,"Untold":1,"MoreBalls":11,"Follow":"cancels","Cancelled":0.9,"Moved":[{"Difference":-0.03,"Low":-0.05,"High":-0.01,"Little":true,"Number":"face"}],"Lead":"path"}]},"control":[{"Club":"7i","Number":"path","Made":{"N":12,"Mean":0.1,"Low":0.05,"High":0.15,"SD":0.02,"OK":true}}]}', 'new');
INSERT INTO files VALUES ('afn9gt211k', 6, X'1F8B08000000000000FFAA2A2C2F4ACD03040000FFFFDDB1D4CC06000000');
INSERT INTO files VALUES ('gbhn5p95fh', 9, X'1F8B08000000000000FFAA2A2C2F4ACDE332CF04040000FFFF970A8EAF09000000');
INSERT INTO shots VALUES ('afn9gt211k', 0, 1, 3, '56', 'zqwren', '', 'carry does not fit ball speed', 'attack face dynamic_loft lie strike_up smash direction spin_axis total lateral_total descent asked_done', 0.1, -0.43333333333333335, 0.76666666666666661, -1.1, 1.4333333333333334, -1.7666666666666668, 2.1, -2.4333333333333336, 2.7666666666666666, -3.1, 3.4333333333333336, -3.7666666666666666, 4.1, -4.4333333333333327, 4.7666666666666666, -5.1, 5.4333333333333327, -5.7666666666666666, 6.1, -6.4333333333333327, 6.7666666666666666, -7.1, 7.4333333333333327, '', 0, 21.5, -7.7666666666666666);
INSERT INTO shots VALUES ('afn9gt211k', 1, 2, 5, 'driver', '', '', '', '', NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, '', 0, 0.0, NULL);
INSERT INTO shots VALUES ('gbhn5p95fh', 0, 1, 3, '56', 'zqwren', '', 'carry does not fit ball speed', 'attack face dynamic_loft lie strike_up smash direction spin_axis total lateral_total descent asked_done', 0.1, -0.43333333333333335, 0.76666666666666661, -1.1, 1.4333333333333334, -1.7666666666666668, 2.1, -2.4333333333333336, 2.7666666666666666, -3.1, 3.4333333333333336, -3.7666666666666666, 4.1, -4.4333333333333327, 4.7666666666666666, -5.1, 5.4333333333333327, -5.7666666666666666, 6.1, -6.4333333333333327, 6.7666666666666666, -7.1, 7.4333333333333327, '', 0, 21.5, -7.7666666666666666);
INSERT INTO shots VALUES ('gbhn5p95fh', 1, 2, 5, 'driver', '', '', '', '', NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, NULL, '', 0, 0.0, NULL);
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'apex', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 6.7666666666666666, NULL, X'1111111111111B40');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'apex', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 6.7666666666666666, NULL, X'1111111111111B40');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'asked_done', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -7.7666666666666666, NULL, X'1111111111111FC0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'asked_done', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -7.7666666666666666, NULL, X'1111111111111FC0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'attack', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -0.43333333333333335, NULL, X'BCBBBBBBBBBBDBBF');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'attack', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -0.43333333333333335, NULL, X'BCBBBBBBBBBBDBBF');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'ball_speed', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 3.4333333333333336, NULL, X'7877777777770B40');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'ball_speed', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 3.4333333333333336, NULL, X'7877777777770B40');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'carry', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 5.4333333333333327, NULL, X'BBBBBBBBBBBB1540');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'carry', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 5.4333333333333327, NULL, X'BBBBBBBBBBBB1540');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'club_speed', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 0.1, NULL, X'9A9999999999B93F');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'club_speed', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 0.1, NULL, X'9A9999999999B93F');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'descent', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -7.1, NULL, X'6666666666661CC0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'descent', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -7.1, NULL, X'6666666666661CC0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'direction', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -4.4333333333333327, NULL, X'BBBBBBBBBBBB11C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'direction', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -4.4333333333333327, NULL, X'BBBBBBBBBBBB11C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'dynamic_loft', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -1.7666666666666668, NULL, X'454444444444FCBF');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'dynamic_loft', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -1.7666666666666668, NULL, X'454444444444FCBF');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'face', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -1.1, NULL, X'9A9999999999F1BF');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'face', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -1.1, NULL, X'9A9999999999F1BF');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'face_to_path', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 1.4333333333333334, NULL, X'EFEEEEEEEEEEF63F');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'face_to_path', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 1.4333333333333334, NULL, X'EFEEEEEEEEEEF63F');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'flight', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 7.4333333333333327, NULL, X'BBBBBBBBBBBB1D40');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'flight', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 7.4333333333333327, NULL, X'BBBBBBBBBBBB1D40');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'lateral', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 6.1, NULL, X'6666666666661840');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'lateral', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 6.1, NULL, X'6666666666661840');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'lateral_total', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -6.4333333333333327, NULL, X'BBBBBBBBBBBB19C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'lateral_total', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -6.4333333333333327, NULL, X'BBBBBBBBBBBB19C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'launch', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 4.1, NULL, X'6666666666661040');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'launch', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 4.1, NULL, X'6666666666661040');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'lie', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -2.4333333333333336, NULL, X'78777777777703C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'lie', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -2.4333333333333336, NULL, X'78777777777703C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'path', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 0.76666666666666661, NULL, X'888888888888E83F');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'path', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 0.76666666666666661, NULL, X'888888888888E83F');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'smash', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -3.7666666666666666, NULL, X'2222222222220EC0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'smash', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -3.7666666666666666, NULL, X'2222222222220EC0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'spin', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 4.7666666666666666, NULL, X'1111111111111340');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'spin', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 4.7666666666666666, NULL, X'1111111111111340');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'spin_axis', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -5.1, NULL, X'66666666666614C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'spin_axis', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -5.1, NULL, X'66666666666614C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'spin_loft', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 2.1, NULL, X'CDCCCCCCCCCC0040');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'spin_loft', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 2.1, NULL, X'CDCCCCCCCCCC0040');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'strike_toe', 1774890306007, 'afn9gt211k', '56', 'range', 1, 0, 2.7666666666666666, NULL, X'2222222222220640');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'strike_toe', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 0, 2.7666666666666666, NULL, X'2222222222220640');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'strike_up', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -3.1, NULL, X'CDCCCCCCCCCC08C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'strike_up', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -3.1, NULL, X'CDCCCCCCCCCC08C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'total', 1774890306007, 'afn9gt211k', '56', 'range', 1, 1, -5.7666666666666666, NULL, X'11111111111117C0');
INSERT INTO session_values VALUES ('server-saltmarsh', 'user-wren', 'total', 1774976706007, 'gbhn5p95fh', '56', 'range', 1, 1, -5.7666666666666666, NULL, X'11111111111117C0');
INSERT INTO answers VALUES ('7vwyj7eywe', 'server-saltmarsh', 'zqwren', 'signs', 'target', 'user-wren', 0, 1775034180000, '', 0);
INSERT INTO lessons VALUES ('2dtsbn5qn5', 'server-saltmarsh', 'user-wren', 'user-coach', 1775034180000, 'zqwren');
INSERT INTO briefs VALUES ('vzsta3c8xy', 'server-saltmarsh', 'user-wren', 'user-coach', 'face', NULL, 0.02, '7i', 0, NULL, 1775034180000, NULL, 1775034180000, 'kept', 0, 0, 0.0, 'zqwren', 0.0);
INSERT INTO intake VALUES ('open-zqwren', 'server-saltmarsh', 'user-wren', 'command', 'accepted', 1775034180000, 0, NULL, '', X'7A717772656E', '');
INSERT INTO intake VALUES ('done-zqwren', 'server-saltmarsh', 'user-wren', 'command', 'answered', 1775034180000, 0, 1775034180000, '', X'', '');
INSERT INTO views VALUES ('084tzh5ypm', 'server-saltmarsh', 'coach of wren', '', 'telling', X'7B22536572766572223A227365727665722D73616C746D61727368222C22436F616368223A22636F616368206F66207772656E222C2253756D223A22222C225570546F223A22323032362D30342D30315430393A30333A30305A222C22546F6C64223A6E756C6C2C2253747564656E7473223A5B7B2253747564656E74223A22757365722D7772656E222C2253696E6365223A22323032362D30342D30315430393A30333A30305A222C224472696674223A227A717772656E227D5D7D', 4928634180000);
INSERT INTO views VALUES ('9wwcv5fx4n', 'server-saltmarsh', 'user-wren', '', 'post', X'7A717772656E', 1775037780000);
INSERT INTO views VALUES ('d38x6rgeke', 'server-saltmarsh', 'user-coach', 'user-wren', 'cause', X'7A717772656E', 1775037780000);
INSERT INTO looks VALUES ('server-saltmarsh', 'user-coach', 'thread-zqwren', 1775034060000);
INSERT INTO taught VALUES ('afn9gt211k', 0, '56', 'stronger grip', 'face', -0.05, 0.01, 12);
INSERT INTO taught VALUES ('gbhn5p95fh', 0, '56', 'stronger grip', 'face', -0.05, 0.01, 12);
INSERT INTO looked VALUES ('afn9gt211k', 'user-coach', 1775034180000);
INSERT INTO told VALUES ('vzsta3c8xy', 'kept', 1775034180000);
INSERT INTO digests VALUES ('server-saltmarsh', 'user-wren', 0, 18, 'Europe/London', 1775034180000, NULL);
INSERT INTO challenges VALUES ('3j0vejar8e', 'server-saltmarsh', 'Straightest', 'challenges', '', 1775034180000, NULL, NULL, X'7B7D', '', 2, 0, NULL, '', NULL);
INSERT INTO challenges VALUES ('4tpg6p8eba', 'server-saltmarsh', 'Straightest', 'challenges', '', 1775034180000, NULL, 1775034180000, X'7B7D', '', 3, 0, NULL, '', NULL);
INSERT INTO entries VALUES ('azfv8qa8yd', '4tpg6p8eba', 'server-saltmarsh', 'user-wren', 'afn9gt211k', '589d9d5a7d9d3a134fa57fcc22d26b1c3b0eb8c34a973f795823cebbc761f441', 1775034180000, X'7A717772656E', X'7A717772656E', 0, NULL, X'6669727374', NULL, '');
INSERT INTO entries VALUES ('hqsm4xag61', '3j0vejar8e', 'server-saltmarsh', 'user-wren', 'afn9gt211k', '589d9d5a7d9d3a134fa57fcc22d26b1c3b0eb8c34a973f795823cebbc761f441', 1775034180000, X'7A717772656E', X'7A717772656E', 0, NULL, NULL, NULL, '');
INSERT INTO tallies VALUES ('dzdna79xjf', 'server-saltmarsh', 'user-wren', '7i', 1775034180000, 1775034180000, '[0,0,0,4,0,0,0,0,0]', 3);
INSERT INTO findings VALUES ('2dtsbn5qn5', 'face', '7i', 6, 1775034180000, 0.03, 0.01, 0.05, 1775034180000);
INSERT INTO noted VALUES ('server-saltmarsh', 'user-wren', 'face', '7i', 1775034180000, 'user-coach');
INSERT INTO digest_students VALUES ('server-saltmarsh', 'user-wren', 'user-wren', 1775034180000, 'zqwren');
INSERT INTO comments VALUES ('server-saltmarsh', 'user-wren', 'zqwren', 1775034180000);
INSERT INTO pins VALUES ('8fhn8tfrdy', 'thread-zqwren', '', 1);
INSERT INTO removed VALUES ('14z0zpyybq', 'server-saltmarsh', 'user-wren', 1774890306007, 2, 1775034180000);
INSERT INTO plans VALUES ('06cwn19taa', 'server-saltmarsh', 'user-wren', 'user-wren', 1775034180000, '7i', 'face', '"zqwren"', 'zqwren', -1, 1775034180000, 'moved', '{"set":{"Label":"","Used":0,"Verdict":"","Miss":{"N":0,"Mean":0,"Low":0,"High":0,"SD":0,"OK":false},"Face":{"N":0,"Mean":0,"Low":0,"High":0,"SD":0,"OK":false},"Path":{"N":0,"Mean":0,"Low":0,"High":0,"SD":0,"OK":false},"Inferred":false,"Width":0,"Wide":false,"MoreBalls":0,"Club":""},"trial":{"Club":"7i","Base":"zqwren","Sets":null}}', 1775034180000);
INSERT INTO placed VALUES ('afn9gt211k', '06cwn19taa', 'whole', '[0,1]', 1775034180000);
INSERT INTO forecasts VALUES ('06cwn19taa', 'user-wren', 'server-saltmarsh', 0.7, 1775034180000);
INSERT INTO entry_sessions VALUES ('azfv8qa8yd', 0, 'afn9gt211k');
INSERT INTO entry_sessions VALUES ('hqsm4xag61', 0, 'afn9gt211k');
INSERT INTO seasons VALUES ('bdy4mp559s', 'server-saltmarsh', 'Spring', '', '', '', '', 1775034180000, '2026-04-01', '2026-04-08', NULL, X'', 2, 0, NULL);
INSERT INTO handicaps VALUES ('bdy4mp559s', 'server-saltmarsh', 'user-wren', 12.4, -1, 0);
