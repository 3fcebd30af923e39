package store

import (
	"context"
	"database/sql"
	"time"
)

// A View is what a button needs to know, kept so that buttons outlive a
// restart.
type View struct {
	ID, Server string
	Owner      string // who it was made for
	Student    string // whose data it shows, "" for nobody's
	Kind       string
	Body       []byte // the caller's own encoding, never read here
	Expires    time.Time
}

// KeepView keeps a view for ttl and says the id to put into the buttons.
func (db *DB) KeepView(ctx context.Context, v View, ttl time.Duration) (id string, err error) {
	id = db.newID()
	return id, db.update(ctx, "keeping a view", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `
			INSERT INTO views (id, server, owner, student, kind, body, expires) VALUES (?, ?, ?, ?, ?, ?, ?)`,
			id, v.Server, v.Owner, v.Student, v.Kind, nonNil(v.Body), millis(db.now().Add(ttl)))
		return err
	})
}

// View finds a view by its id: ErrExpired when its time has passed (for a
// month, after which nothing is known of it), ErrNotFound when there never was
// one. Whether the one who pressed is its owner is the caller's question.
func (db *DB) View(ctx context.Context, server, id string) (v View, err error) {
	err = db.query(ctx, "reading a view", func(tx *sql.Tx) error {
		var expires sql.NullInt64
		err := tx.QueryRowContext(ctx, `
			SELECT id, server, owner, student, kind, body, expires FROM views WHERE server = ? AND id = ?`, server, id).
			Scan(&v.ID, &v.Server, &v.Owner, &v.Student, &v.Kind, &v.Body, &expires)
		if err != nil {
			return err
		}
		if v.Expires = timeOf(expires); !db.now().Before(v.Expires) {
			v = View{}
			return ErrExpired
		}
		return nil
	})
	return v, err
}

// DropView forgets a view, for buttons that may be pressed once.
func (db *DB) DropView(ctx context.Context, server, id string) error {
	return db.update(ctx, "dropping a view", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `DELETE FROM views WHERE server = ? AND id = ?`, server, id))
	})
}
