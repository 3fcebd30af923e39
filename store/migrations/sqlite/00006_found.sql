-- What was found stays found: the change of a number a lesson made, how a
-- brief was settled, and when somebody noted a drift.

-- +goose Up
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

-- How a brief was settled, once and for all; NULL while it runs.
ALTER TABLE briefs ADD COLUMN settled INTEGER;
ALTER TABLE briefs ADD COLUMN standing TEXT;
ALTER TABLE briefs ADD COLUMN inside INTEGER;
ALTER TABLE briefs ADD COLUMN balls_hit INTEGER;
ALTER TABLE briefs ADD COLUMN counted REAL; -- independent balls those count for
-- Those that ended before are settled as their coach was told.
UPDATE briefs SET settled = (SELECT at FROM told WHERE brief = id), standing = (SELECT t.standing FROM told t WHERE t.brief = id)
WHERE EXISTS (SELECT 1 FROM told WHERE brief = id);

-- +goose Down
ALTER TABLE briefs DROP COLUMN counted;
ALTER TABLE briefs DROP COLUMN balls_hit;
ALTER TABLE briefs DROP COLUMN inside;
ALTER TABLE briefs DROP COLUMN standing;
ALTER TABLE briefs DROP COLUMN settled;
DROP TABLE noted;
DROP TABLE findings;
