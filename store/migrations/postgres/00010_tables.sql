-- The tables of the SQLite line (../sqlite, which says what each column is) as they
-- are at this version: the same names, keys, checks and indexes. Whole numbers are
-- BIGINT and texts compare by their bytes, as SQLite's do. What SQLite gives each
-- row by itself, the order it came in, is a column here. TestSameTables holds the
-- two lines together.

-- +goose Up
-- What SQLite has and PostgreSQL has not under that name.
CREATE FUNCTION json_array_length(TEXT) RETURNS INTEGER
    LANGUAGE SQL IMMUTABLE STRICT PARALLEL SAFE AS 'SELECT pg_catalog.json_array_length($1::JSON)';

CREATE TABLE clubhouses (
    server TEXT COLLATE "C" PRIMARY KEY,
    coach_role TEXT COLLATE "C" NOT NULL,
    challenge_channels TEXT COLLATE "C" NOT NULL,
    distance TEXT COLLATE "C" NOT NULL CHECK (distance IN ('yd', 'm')),
    speed TEXT COLLATE "C" NOT NULL CHECK (speed IN ('mph', 'mps')),
    time_zone TEXT COLLATE "C" NOT NULL,
    quiet_from BIGINT NOT NULL CHECK (quiet_from BETWEEN 0 AND 1439),
    quiet_until BIGINT NOT NULL CHECK (quiet_until BETWEEN 0 AND 1439),
    retention_days BIGINT NOT NULL CHECK (retention_days >= 0),
    juniors_private BIGINT NOT NULL CHECK (juniors_private IN (0, 1))
);

CREATE TABLE students (
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    name TEXT COLLATE "C" NOT NULL,
    hand TEXT COLLATE "C" CHECK (hand IN ('right', 'left')),
    distance TEXT COLLATE "C" CHECK (distance IN ('yd', 'm')),
    speed TEXT COLLATE "C" CHECK (speed IN ('mph', 'mps')),
    junior BIGINT NOT NULL CHECK (junior IN (0, 1)),
    since BIGINT NOT NULL,
    time_zone TEXT COLLATE "C" NOT NULL DEFAULT '',
    detail TEXT COLLATE "C" NOT NULL DEFAULT '',
    explained TEXT COLLATE "C" NOT NULL DEFAULT '',
    PRIMARY KEY (server, student)
);
CREATE INDEX students_servers ON students (student);

CREATE TABLE bindings (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    thread TEXT COLLATE "C" NOT NULL,
    asked BIGINT NOT NULL,
    given BIGINT,
    guardian BIGINT NOT NULL CHECK (guardian IN (0, 1)),
    ended BIGINT,
    why TEXT COLLATE "C" NOT NULL CHECK (why IN ('', 'declined', 'withdrawn', 'unbound', 'replaced')),
    CHECK ((ended IS NULL) = (why = '')),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE UNIQUE INDEX bindings_one_coach ON bindings (server, student) WHERE given IS NOT NULL AND ended IS NULL;
CREATE UNIQUE INDEX bindings_one_student ON bindings (server, thread) WHERE given IS NOT NULL AND ended IS NULL;
CREATE INDEX bindings_student ON bindings (server, student, asked);
CREATE INDEX bindings_coach ON bindings (server, coach) WHERE ended IS NULL;

CREATE TABLE sessions (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    posted_by TEXT COLLATE "C" NOT NULL,
    posted BIGINT NOT NULL,
    hit BIGINT,
    at BIGINT NOT NULL,
    channel TEXT COLLATE "C" NOT NULL DEFAULT '',
    message TEXT COLLATE "C" NOT NULL DEFAULT '',
    name TEXT COLLATE "C" NOT NULL,
    sha256 TEXT COLLATE "C" NOT NULL,
    fingerprint TEXT COLLATE "C" NOT NULL DEFAULT '',
    rows_read BIGINT NOT NULL DEFAULT 0,
    rows_dropped BIGINT NOT NULL DEFAULT 0,
    labelled BIGINT NOT NULL DEFAULT 0 CHECK (labelled IN (0, 1)),
    decisions TEXT COLLATE "C" NOT NULL DEFAULT '[]',
    questions TEXT COLLATE "C" NOT NULL DEFAULT '[]',
    said TEXT COLLATE "C" NOT NULL DEFAULT '{}',
    hand TEXT COLLATE "C" NOT NULL DEFAULT 'right' CHECK (hand IN ('right', 'left')),
    ball TEXT COLLATE "C" NOT NULL DEFAULT '',
    target DOUBLE PRECISION NOT NULL DEFAULT 0,
    note TEXT COLLATE "C" NOT NULL DEFAULT '',
    temperature DOUBLE PRECISION,
    altitude DOUBLE PRECISION,
    wind_speed DOUBLE PRECISION,
    wind_from DOUBLE PRECISION,
    balls BIGINT NOT NULL DEFAULT 0,
    used BIGINT NOT NULL DEFAULT 0,
    request TEXT COLLATE "C" NOT NULL DEFAULT '',
    dated TEXT COLLATE "C" NOT NULL DEFAULT '',
    redate BIGINT NOT NULL DEFAULT 0 CHECK (redate IN (0, 1)),
    gist TEXT COLLATE "C",
    first_ball TEXT COLLATE "C" NOT NULL DEFAULT '',
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE UNIQUE INDEX sessions_once ON sessions (server, student, sha256);
CREATE INDEX sessions_at ON sessions (server, student, at, posted);
CREATE INDEX sessions_posted ON sessions (server, student, posted);

CREATE TABLE files (
    session TEXT COLLATE "C" PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    size BIGINT NOT NULL,
    gzip BYTEA NOT NULL
);

CREATE TABLE shots (
    session TEXT COLLATE "C" NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    place BIGINT NOT NULL,
    n BIGINT NOT NULL,
    file_row BIGINT NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    label TEXT COLLATE "C" NOT NULL,
    aside TEXT COLLATE "C" NOT NULL,
    why TEXT COLLATE "C" NOT NULL,
    inferred TEXT COLLATE "C" NOT NULL,
    club_speed DOUBLE PRECISION,
    attack DOUBLE PRECISION,
    path DOUBLE PRECISION,
    face DOUBLE PRECISION,
    face_to_path DOUBLE PRECISION,
    dynamic_loft DOUBLE PRECISION,
    spin_loft DOUBLE PRECISION,
    lie DOUBLE PRECISION,
    strike_toe DOUBLE PRECISION,
    strike_up DOUBLE PRECISION,
    ball_speed DOUBLE PRECISION,
    smash DOUBLE PRECISION,
    launch DOUBLE PRECISION,
    direction DOUBLE PRECISION,
    spin DOUBLE PRECISION,
    spin_axis DOUBLE PRECISION,
    carry DOUBLE PRECISION,
    total DOUBLE PRECISION,
    "lateral" DOUBLE PRECISION,
    lateral_total DOUBLE PRECISION,
    apex DOUBLE PRECISION,
    descent DOUBLE PRECISION,
    flight DOUBLE PRECISION,
    was TEXT COLLATE "C" NOT NULL DEFAULT '',
    setup BIGINT NOT NULL DEFAULT 0 CHECK (setup IN (0, 1, 2)),
    pause DOUBLE PRECISION NOT NULL DEFAULT 0,
    asked_done DOUBLE PRECISION,
    PRIMARY KEY (session, place)
);

CREATE TABLE session_values (
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    number TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    session TEXT COLLATE "C" NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    club TEXT COLLATE "C" NOT NULL,
    ball TEXT COLLATE "C" NOT NULL,
    balls BIGINT NOT NULL,
    inferred BIGINT NOT NULL,
    mean DOUBLE PRECISION NOT NULL,
    sd DOUBLE PRECISION,
    vals BYTEA NOT NULL,
    PRIMARY KEY (server, student, number, at, session, club)
);
CREATE INDEX session_values_session ON session_values (session);

CREATE TABLE answers (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    fingerprint TEXT COLLATE "C" NOT NULL,
    key TEXT COLLATE "C" NOT NULL,
    value TEXT COLLATE "C" NOT NULL,
    who TEXT COLLATE "C" NOT NULL,
    coach BIGINT NOT NULL CHECK (coach IN (0, 1)),
    at BIGINT NOT NULL,
    student TEXT COLLATE "C" NOT NULL DEFAULT '',
    manager BIGINT NOT NULL DEFAULT 0 CHECK (manager IN (0, 1)),
    rowid BIGINT GENERATED BY DEFAULT AS IDENTITY
);
CREATE INDEX answers_for ON answers (server, fingerprint, key, coach, at);
CREATE INDEX answers_who ON answers (server, who);

CREATE TABLE lessons (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    note TEXT COLLATE "C" NOT NULL,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX lessons_student ON lessons (server, student, at);

CREATE TABLE briefs (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    number TEXT COLLATE "C" NOT NULL,
    low DOUBLE PRECISION,
    high DOUBLE PRECISION,
    club TEXT COLLATE "C" NOT NULL,
    balls BIGINT NOT NULL,
    until BIGINT,
    at BIGINT NOT NULL,
    ended BIGINT,
    settled BIGINT,
    standing TEXT COLLATE "C",
    inside BIGINT,
    balls_hit BIGINT,
    counted DOUBLE PRECISION,
    label TEXT COLLATE "C" NOT NULL DEFAULT '',
    share DOUBLE PRECISION NOT NULL DEFAULT 0,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX briefs_student ON briefs (server, student, at);

CREATE TABLE intake (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    asker TEXT COLLATE "C" NOT NULL,
    kind TEXT COLLATE "C" NOT NULL,
    state TEXT COLLATE "C" NOT NULL CHECK (state IN ('accepted', 'answered', 'failed')),
    at BIGINT NOT NULL,
    attempts BIGINT NOT NULL,
    settled BIGINT,
    reason TEXT COLLATE "C" NOT NULL,
    body BYTEA NOT NULL,
    rowid BIGINT GENERATED BY DEFAULT AS IDENTITY
);
CREATE INDEX intake_open ON intake (at) WHERE state = 'accepted';
CREATE INDEX intake_settled ON intake (settled) WHERE state <> 'accepted';
CREATE INDEX intake_asker ON intake (server, asker);

CREATE TABLE views (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    owner TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    kind TEXT COLLATE "C" NOT NULL,
    body BYTEA NOT NULL,
    expires BIGINT NOT NULL
);
CREATE INDEX views_expires ON views (expires);
CREATE INDEX views_owner ON views (server, owner);
CREATE INDEX views_student ON views (server, student) WHERE student <> '';

CREATE TABLE looks (
    server TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    thread TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    PRIMARY KEY (server, coach, thread)
);

CREATE TABLE taught (
    session TEXT COLLATE "C" NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    place BIGINT NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    tool TEXT COLLATE "C" NOT NULL,
    number TEXT COLLATE "C" NOT NULL,
    difference DOUBLE PRECISION NOT NULL,
    error DOUBLE PRECISION NOT NULL,
    balls BIGINT NOT NULL,
    PRIMARY KEY (session, place)
);

CREATE TABLE looked (
    session TEXT COLLATE "C" NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    coach TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    PRIMARY KEY (session, coach)
);

CREATE TABLE told (
    brief TEXT COLLATE "C" PRIMARY KEY REFERENCES briefs (id) ON DELETE CASCADE,
    standing TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL
);

CREATE TABLE digests (
    server TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    weekday BIGINT NOT NULL CHECK (weekday BETWEEN 0 AND 6),
    hour BIGINT NOT NULL CHECK (hour BETWEEN 0 AND 23),
    time_zone TEXT COLLATE "C" NOT NULL,
    up_to BIGINT NOT NULL,
    refused BIGINT,
    PRIMARY KEY (server, coach)
);

CREATE TABLE challenges (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    name TEXT COLLATE "C" NOT NULL,
    channel TEXT COLLATE "C" NOT NULL,
    message TEXT COLLATE "C" NOT NULL,
    opened BIGINT NOT NULL,
    until BIGINT,
    closed BIGINT,
    terms BYTEA NOT NULL,
    winners TEXT COLLATE "C" NOT NULL,
    revision BIGINT NOT NULL,
    shown BIGINT NOT NULL,
    drawn BIGINT,
    voided TEXT COLLATE "C" NOT NULL DEFAULT '',
    after TEXT COLLATE "C"
);
CREATE INDEX challenges_server ON challenges (server, opened);
CREATE INDEX challenges_behind ON challenges (revision) WHERE revision <> shown;
CREATE INDEX challenges_until ON challenges (until) WHERE closed IS NULL AND until IS NOT NULL;

CREATE TABLE entries (
    id TEXT COLLATE "C" PRIMARY KEY,
    challenge TEXT COLLATE "C" NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    server TEXT COLLATE "C" NOT NULL,
    player TEXT COLLATE "C" NOT NULL,
    session TEXT COLLATE "C" REFERENCES sessions (id) ON DELETE SET NULL,
    sha256 TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    stretch BYTEA NOT NULL,
    past BYTEA NOT NULL,
    reread BIGINT NOT NULL CHECK (reread IN (0, 1)),
    rescored BIGINT,
    final BYTEA,
    waiting BYTEA,
    removed TEXT COLLATE "C" NOT NULL DEFAULT '',
    rowid BIGINT GENERATED BY DEFAULT AS IDENTITY
);
CREATE UNIQUE INDEX entries_player ON entries (challenge, player) WHERE player <> '';
CREATE UNIQUE INDEX entries_file ON entries (challenge, sha256) WHERE sha256 <> '';
CREATE INDEX entries_challenge ON entries (challenge, at);
CREATE INDEX entries_of ON entries (server, player) WHERE player <> '';
CREATE INDEX entries_session ON entries (session);

CREATE TABLE tallies (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    counted BIGINT NOT NULL,
    flights TEXT COLLATE "C" NOT NULL,
    last BIGINT NOT NULL,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX tallies_student ON tallies (server, student, at);

CREATE TABLE findings (
    lesson TEXT COLLATE "C" NOT NULL REFERENCES lessons (id) ON DELETE CASCADE,
    number TEXT COLLATE "C" NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    sessions BIGINT NOT NULL,
    hit BIGINT NOT NULL,
    difference DOUBLE PRECISION NOT NULL,
    low DOUBLE PRECISION NOT NULL,
    high DOUBLE PRECISION NOT NULL,
    at BIGINT NOT NULL,
    PRIMARY KEY (lesson, number, club)
);

CREATE TABLE noted (
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    number TEXT COLLATE "C" NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (server, student, number, club, at),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX sessions_redate ON sessions (server, student) WHERE redate = 1;
CREATE INDEX sessions_balls ON sessions (student, balls, server);

CREATE TABLE digest_students (
    server TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    since BIGINT,
    drift TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (server, coach, student),
    FOREIGN KEY (server, coach) REFERENCES digests (server, coach) ON DELETE CASCADE,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX digest_students_of ON digest_students (server, student);

CREATE TABLE redraw (
    session TEXT COLLATE "C" PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE
);

CREATE TABLE comments (
    server TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    text TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    PRIMARY KEY (server, coach, text)
);

CREATE TABLE pins (
    binding TEXT COLLATE "C" PRIMARY KEY,
    thread TEXT COLLATE "C" NOT NULL,
    message TEXT COLLATE "C" NOT NULL,
    due BIGINT NOT NULL CHECK (due IN (0, 1))
);
CREATE INDEX pins_due ON pins (binding) WHERE due = 1;

CREATE TABLE removed (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    hit BIGINT NOT NULL,
    balls BIGINT NOT NULL,
    at BIGINT NOT NULL,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX removed_of ON removed (server, student, at);

CREATE TABLE plans (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    setter TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    number TEXT COLLATE "C" NOT NULL,
    card TEXT COLLATE "C" NOT NULL,
    claim TEXT COLLATE "C" NOT NULL,
    way BIGINT NOT NULL CHECK (way IN (-1, 0, 1)),
    settled BIGINT,
    status TEXT COLLATE "C" NOT NULL DEFAULT '',
    found TEXT COLLATE "C" NOT NULL DEFAULT '',
    ended BIGINT,
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE UNIQUE INDEX plans_one ON plans (server, student) WHERE ended IS NULL;
CREATE INDEX plans_student ON plans (server, student, at);

CREATE TABLE placed (
    session TEXT COLLATE "C" PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE,
    plan TEXT COLLATE "C" NOT NULL REFERENCES plans (id) ON DELETE CASCADE,
    reading TEXT COLLATE "C" NOT NULL,
    turns TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL
);
CREATE INDEX placed_plan ON placed (plan, at);

CREATE TABLE forecasts (
    plan TEXT COLLATE "C" NOT NULL REFERENCES plans (id) ON DELETE CASCADE,
    who TEXT COLLATE "C" NOT NULL,
    server TEXT COLLATE "C" NOT NULL,
    chance DOUBLE PRECISION NOT NULL CHECK (chance BETWEEN 0 AND 1),
    at BIGINT NOT NULL,
    PRIMARY KEY (plan, who)
);
CREATE INDEX forecasts_who ON forecasts (server, who, at);

CREATE TABLE pools (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    tool TEXT COLLATE "C" NOT NULL,
    students BIGINT NOT NULL,
    sessions BIGINT NOT NULL,
    at BIGINT NOT NULL
);
CREATE INDEX pools_of ON pools (server, coach, club, tool, at);

CREATE TABLE pooled (
    pool TEXT COLLATE "C" NOT NULL REFERENCES pools (id) ON DELETE CASCADE,
    session TEXT COLLATE "C" NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    PRIMARY KEY (pool, session)
);
CREATE INDEX pooled_session ON pooled (session);

CREATE TABLE pool_figures (
    pool TEXT COLLATE "C" NOT NULL REFERENCES pools (id) ON DELETE CASCADE,
    without TEXT COLLATE "C" NOT NULL,
    number TEXT COLLATE "C" NOT NULL,
    golfers BIGINT NOT NULL,
    trials BIGINT NOT NULL,
    mean DOUBLE PRECISION NOT NULL,
    low DOUBLE PRECISION NOT NULL,
    high DOUBLE PRECISION NOT NULL,
    differ DOUBLE PRECISION NOT NULL,
    within DOUBLE PRECISION NOT NULL,
    least DOUBLE PRECISION NOT NULL,
    most DOUBLE PRECISION NOT NULL,
    PRIMARY KEY (pool, without, number)
);
CREATE UNIQUE INDEX challenges_after ON challenges (after) WHERE after IS NOT NULL;

CREATE TABLE entry_sessions (
    entry TEXT COLLATE "C" NOT NULL REFERENCES entries (id) ON DELETE CASCADE,
    place BIGINT NOT NULL,
    session TEXT COLLATE "C" NOT NULL REFERENCES sessions (id) ON DELETE CASCADE,
    PRIMARY KEY (entry, place)
);
CREATE INDEX entry_sessions_session ON entry_sessions (session);

CREATE TABLE rulings (
    id TEXT COLLATE "C" PRIMARY KEY,
    challenge TEXT COLLATE "C" NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    at BIGINT NOT NULL,
    host TEXT COLLATE "C" NOT NULL,
    what TEXT COLLATE "C" NOT NULL CHECK (what IN ('accepted', 'removed', 'voided', 'extended')),
    entry TEXT COLLATE "C",
    reason TEXT COLLATE "C" NOT NULL,
    rowid BIGINT GENERATED BY DEFAULT AS IDENTITY
);
CREATE INDEX rulings_challenge ON rulings (challenge, at);

CREATE TABLE announced (
    challenge TEXT COLLATE "C" NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    server TEXT COLLATE "C" NOT NULL,
    player TEXT COLLATE "C" NOT NULL,
    at BIGINT NOT NULL,
    PRIMARY KEY (challenge, player)
);
CREATE INDEX announced_player ON announced (server, player);

CREATE TABLE left_challenges (
    challenge TEXT COLLATE "C" NOT NULL REFERENCES challenges (id) ON DELETE CASCADE,
    who TEXT COLLATE "C" NOT NULL,
    PRIMARY KEY (challenge, who)
);

CREATE TABLE running (
    id BIGINT PRIMARY KEY CHECK (id = 1),
    at BIGINT NOT NULL
);

CREATE TABLE templates (
    server TEXT COLLATE "C" NOT NULL,
    name TEXT COLLATE "C" NOT NULL,
    terms BYTEA NOT NULL,
    PRIMARY KEY (server, name)
);

CREATE TABLE seasons (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    name TEXT COLLATE "C" NOT NULL,
    club TEXT COLLATE "C" NOT NULL,
    channel TEXT COLLATE "C" NOT NULL,
    message TEXT COLLATE "C" NOT NULL,
    winners TEXT COLLATE "C" NOT NULL,
    made BIGINT NOT NULL,
    first TEXT COLLATE "C" NOT NULL,
    last TEXT COLLATE "C" NOT NULL,
    closed BIGINT,
    terms BYTEA NOT NULL,
    revision BIGINT NOT NULL,
    shown BIGINT NOT NULL,
    drawn BIGINT
);
CREATE INDEX seasons_server ON seasons (server, made);
CREATE INDEX seasons_running ON seasons (server) WHERE closed IS NULL;
CREATE INDEX seasons_behind ON seasons (revision) WHERE revision <> shown;

CREATE TABLE scheduled (
    season TEXT COLLATE "C" NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    day TEXT COLLATE "C" NOT NULL,
    name TEXT COLLATE "C" NOT NULL,
    days BIGINT NOT NULL,
    terms BYTEA NOT NULL,
    challenge TEXT COLLATE "C" REFERENCES challenges (id),
    missed BIGINT NOT NULL CHECK (missed IN (0, 1)),
    PRIMARY KEY (season, day, name)
);
CREATE UNIQUE INDEX scheduled_challenge ON scheduled (challenge) WHERE challenge IS NOT NULL;
CREATE INDEX scheduled_due ON scheduled (day) WHERE challenge IS NULL AND missed = 0;

CREATE TABLE handicaps (
    season TEXT COLLATE "C" NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    server TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    handicap DOUBLE PRECISION,
    band BIGINT NOT NULL,
    junior BIGINT NOT NULL CHECK (junior IN (0, 1)),
    PRIMARY KEY (season, student),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX handicaps_of ON handicaps (server, student);

CREATE TABLE former (
    entry TEXT COLLATE "C" PRIMARY KEY REFERENCES entries (id) ON DELETE CASCADE,
    season TEXT COLLATE "C" NOT NULL REFERENCES seasons (id) ON DELETE CASCADE,
    who TEXT COLLATE "C" NOT NULL,
    band BIGINT NOT NULL,
    junior BIGINT NOT NULL CHECK (junior IN (0, 1))
);
CREATE INDEX former_season ON former (season);

CREATE TABLE openings (
    id TEXT COLLATE "C" PRIMARY KEY,
    server TEXT COLLATE "C" NOT NULL,
    channel TEXT COLLATE "C" NOT NULL,
    student TEXT COLLATE "C" NOT NULL,
    coach TEXT COLLATE "C" NOT NULL,
    asked BIGINT NOT NULL,
    thread TEXT COLLATE "C" NOT NULL,
    UNIQUE (server, student, coach),
    FOREIGN KEY (server, student) REFERENCES students (server, student) ON DELETE CASCADE
);
CREATE INDEX openings_coach ON openings (server, coach);

-- Of a deleted session nothing is left in any figure, whoever deletes it.
-- +goose StatementBegin
CREATE FUNCTION pooled_gone() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    DELETE FROM pool_figures WHERE pool = OLD.pool;
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER pooled_gone AFTER DELETE ON pooled FOR EACH ROW EXECUTE FUNCTION pooled_gone();

-- A season changes with whatever changes in its challenges that are over.
-- +goose StatementBegin
CREATE FUNCTION scheduled_changed() RETURNS TRIGGER LANGUAGE plpgsql AS $$
BEGIN
    UPDATE seasons SET revision = revision + 1 WHERE id = (SELECT season FROM scheduled WHERE challenge = NEW.id);
    RETURN NULL;
END $$;
-- +goose StatementEnd
CREATE TRIGGER scheduled_changed AFTER UPDATE OF revision ON challenges
    FOR EACH ROW WHEN (NEW.closed IS NOT NULL) EXECUTE FUNCTION scheduled_changed();

-- +goose Down
DROP TABLE openings, former, handicaps, scheduled, seasons, templates, running, left_challenges, announced, rulings, entry_sessions, pool_figures, pooled, pools, forecasts, placed, plans, removed, pins, comments, redraw, digest_students, noted, findings, tallies, entries, challenges, digests, told, looked, taught, looks, views, intake, briefs, lessons, answers, session_values, shots, files, sessions, bindings, students, clubhouses;
DROP FUNCTION scheduled_changed;
DROP FUNCTION pooled_gone;
DROP FUNCTION json_array_length;
