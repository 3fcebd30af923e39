-- A database says whose it is, a session which request it was posted by, and
-- an answer about whose session it was given. Sessions from direct messages
-- of people who became known in a server later go there.

-- +goose Up
-- "Rgpt": what Open and Restore tell our files by.
PRAGMA application_id = 1382510708;

ALTER TABLE sessions ADD COLUMN request TEXT NOT NULL DEFAULT '';
ALTER TABLE answers ADD COLUMN student TEXT NOT NULL DEFAULT '';
ALTER TABLE answers ADD COLUMN manager INTEGER NOT NULL DEFAULT 0 CHECK (manager IN (0, 1));

PRAGMA defer_foreign_keys = ON;

-- Whoever was only known by direct messages, and the first server that came to
-- know them after.
CREATE TEMPORARY TABLE homes AS
SELECT d.student, (
    SELECT s.server FROM students s
    WHERE s.student = d.student AND s.server <> '' ORDER BY s.since, s.server LIMIT 1) AS server,
    d.hand, d.distance, d.speed
FROM students d WHERE d.server = '' AND EXISTS (
    SELECT 1 FROM students s WHERE s.student = d.student AND s.server <> '');

UPDATE students SET
    hand = coalesce(hand, (SELECT h.hand FROM homes h WHERE h.student = students.student)),
    distance = coalesce(distance, (SELECT h.distance FROM homes h WHERE h.student = students.student)),
    speed = coalesce(speed, (SELECT h.speed FROM homes h WHERE h.student = students.student))
WHERE (student, server) IN (SELECT student, server FROM homes);

-- A file that is in both places stays where it is in the server.
UPDATE OR IGNORE sessions SET server = (SELECT h.server FROM homes h WHERE h.student = sessions.student)
WHERE server = '' AND student IN (SELECT student FROM homes);
UPDATE session_values SET server = (SELECT s.server FROM sessions s WHERE s.id = session_values.session)
WHERE server = '' AND student IN (SELECT student FROM homes);
UPDATE tallies SET server = (SELECT h.server FROM homes h WHERE h.student = tallies.student)
WHERE server = '' AND student IN (SELECT student FROM homes);
UPDATE views SET server = (SELECT h.server FROM homes h WHERE h.student = views.owner)
WHERE server = '' AND owner IN (SELECT student FROM homes);
UPDATE answers SET server = (SELECT h.server FROM homes h WHERE h.student = answers.who)
WHERE server = '' AND who IN (SELECT student FROM homes);
UPDATE intake SET server = (SELECT h.server FROM homes h WHERE h.student = intake.asker)
WHERE server = '' AND asker IN (SELECT student FROM homes);
DELETE FROM sessions WHERE server = '' AND student IN (SELECT student FROM homes);
DELETE FROM students WHERE server = '' AND student IN (SELECT student FROM homes);
DROP TABLE homes;

-- +goose Down
ALTER TABLE answers DROP COLUMN manager;
ALTER TABLE answers DROP COLUMN student;
ALTER TABLE sessions DROP COLUMN request;
PRAGMA application_id = 0;
