-- Whether a ball did the shot it was asked for: 1, 0, or nothing where none was
-- asked for or its flight does not tell.

-- +goose Up
ALTER TABLE shots ADD COLUMN asked_done REAL;
