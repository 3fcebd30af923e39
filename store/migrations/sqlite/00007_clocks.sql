-- Whose clock a session's time was read on, where everybody's clock stands,
-- what a ball's club was called before it was renamed, and what a coach's
-- digest has told of each student.

-- +goose Up
ALTER TABLE students ADD COLUMN time_zone TEXT NOT NULL DEFAULT ''; -- '' follows the clubhouse

-- How `hit` is known (see analysis.Dating); by 'day' it is where that day
-- begins, and `at` its middle or when it was posted.
ALTER TABLE sessions ADD COLUMN dated TEXT NOT NULL DEFAULT '';
-- The time is to be read again: the clock it was read on has changed since, or
-- was UTC's, as all were before this.
ALTER TABLE sessions ADD COLUMN redate INTEGER NOT NULL DEFAULT 0 CHECK (redate IN (0, 1));
UPDATE sessions SET dated = 'clock', redate = 1 WHERE hit IS NOT NULL;
CREATE INDEX sessions_redate ON sessions (server, student) WHERE redate = 1;

-- The same balls in another file are found among sessions with as many.
CREATE INDEX sessions_balls ON sessions (student, balls, server);

ALTER TABLE shots ADD COLUMN was TEXT NOT NULL DEFAULT ''; -- the club it was posted as, '' if that one still

-- Of students all of whose changes were told, and who are not drifting, there
-- is no row.
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

-- +goose Down
DROP TABLE digest_students;
ALTER TABLE shots DROP COLUMN was;
DROP INDEX sessions_balls;
DROP INDEX sessions_redate;
ALTER TABLE sessions DROP COLUMN redate;
ALTER TABLE sessions DROP COLUMN dated;
ALTER TABLE students DROP COLUMN time_zone;
