-- What an announced session is to hold: drawn by a seed, and how often it was announced.

-- +goose Up
ALTER TABLE announced ADD COLUMN seed  INTEGER NOT NULL DEFAULT 0;
ALTER TABLE announced ADD COLUMN times INTEGER NOT NULL DEFAULT 1;

-- +goose Down
ALTER TABLE announced DROP COLUMN times;
ALTER TABLE announced DROP COLUMN seed;
