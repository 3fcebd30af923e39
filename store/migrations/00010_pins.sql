-- The message with buttons that stands pinned in a lesson thread. It outlives
-- its binding until it is taken away on the platform, and names nobody.

-- +goose Up
CREATE TABLE pins (
    binding TEXT PRIMARY KEY, -- refers to no row once its student is forgotten
    thread  TEXT NOT NULL,
    message TEXT NOT NULL,    -- '' while there is none
    due     INTEGER NOT NULL CHECK (due IN (0, 1)) -- to be posted, or taken away
) STRICT, WITHOUT ROWID;
CREATE INDEX pins_due ON pins (binding) WHERE due = 1;

INSERT INTO pins (binding, thread, message, due)
SELECT id, thread, '', 1 FROM bindings WHERE given IS NOT NULL AND ended IS NULL;

-- +goose Down
DROP TABLE pins;
