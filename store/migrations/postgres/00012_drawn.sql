-- As in ../sqlite, which says what each is for.

-- +goose Up
ALTER TABLE announced ADD COLUMN seed BIGINT NOT NULL DEFAULT 0;
ALTER TABLE announced ADD COLUMN times BIGINT NOT NULL DEFAULT 1;

-- +goose Down
ALTER TABLE announced DROP COLUMN times;
ALTER TABLE announced DROP COLUMN seed;
