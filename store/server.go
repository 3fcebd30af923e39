package store

import (
	"context"
	"database/sql"
	"fmt"
	"time"
)

// A Server is what a check finds of a server of databases.
type Server struct {
	Version string
	Ahead   time.Duration // of its clock before this machine's

	Together  bool // processes write down that they live, and what they hold
	Processes int  // that live
	Shards    int  // of the gateway that they hold
}

// Server looks at the server of the database, which has to be on one.
func (db *DB) Server(ctx context.Context) (s Server, err error) {
	if !IsServer(db.path) {
		return s, fmt.Errorf("store: %s is on no server", db.path)
	}
	err = db.query(ctx, "asking the server", func(tx *sql.Tx) error {
		var now int64
		asked := db.now()
		if err := tx.QueryRowContext(ctx, `
			SELECT current_setting('server_version'), (extract(epoch FROM clock_timestamp()) * 1000)::BIGINT,
				to_regclass('lives') IS NOT NULL AND to_regclass('leases') IS NOT NULL`).Scan(&s.Version, &now, &s.Together); err != nil {
			return err
		}
		// It was read some time between the question and the answer.
		middle := asked.Add(db.now().Sub(asked) / 2)
		s.Ahead = time.UnixMilli(now).Sub(middle)
		if !s.Together {
			return nil
		}
		return tx.QueryRowContext(ctx, `
			SELECT (SELECT count(*) FROM lives WHERE until > ?1),
				(SELECT count(*) FROM leases h JOIN lives l ON l.id = h.owner WHERE l.until > ?1 AND h.name LIKE 'shard %')`, now).
			Scan(&s.Processes, &s.Shards)
	})
	return s, err
}
