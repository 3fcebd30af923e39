-- Lesson threads that a coach asked the bot to open, until they stand and the
-- student is asked in them.

-- +goose Up
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
