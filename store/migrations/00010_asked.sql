-- Whether a ball did the shot it was asked for: 1, 0, or nothing where none was
-- asked for or its flight does not tell.

-- +goose Up
ALTER TABLE shots ADD COLUMN asked_done REAL;

-- Of a brief, the share of its balls that has to be inside, 0 for more than half.
ALTER TABLE briefs ADD COLUMN share REAL NOT NULL DEFAULT 0;
