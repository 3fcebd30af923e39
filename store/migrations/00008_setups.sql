-- Which balls were hit otherwise than usual, so that a number over the sessions
-- is that of one setup; which set a brief is about; how much a student is told,
-- and which words and setups were explained to them.

-- +goose Up
-- 0 the only setup with that club in the session, 1 the usual one beside another,
-- 2 another.
ALTER TABLE shots ADD COLUMN setup INTEGER NOT NULL DEFAULT 0 CHECK (setup IN (0, 1, 2));

-- Sessions of before, until the store has judged that of them: it knows what a
-- usual set is called.
CREATE TABLE redraw (session TEXT PRIMARY KEY REFERENCES sessions (id) ON DELETE CASCADE) STRICT, WITHOUT ROWID;
INSERT INTO redraw SELECT DISTINCT session FROM shots WHERE label <> '';

ALTER TABLE briefs ADD COLUMN label TEXT NOT NULL DEFAULT ''; -- the set it is about, '' for what was tried, or else all

ALTER TABLE students ADD COLUMN detail TEXT NOT NULL DEFAULT ''; -- 'figures' for those at once
ALTER TABLE students ADD COLUMN explained TEXT NOT NULL DEFAULT ''; -- words, ';' between

-- +goose Down
ALTER TABLE students DROP COLUMN explained;
ALTER TABLE students DROP COLUMN detail;
ALTER TABLE briefs DROP COLUMN label;
DROP TABLE redraw;
ALTER TABLE shots DROP COLUMN setup;
