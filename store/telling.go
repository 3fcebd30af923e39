package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"slices"
	"time"
)

// A Telling is one message to a coach: what they are told by it, and by what it
// is known again. It is kept before it is sent and until it is known to have
// got through: a process that ends in between leaves it in doubt, and what is
// due is composed anew only when that is settled. A message composed later may
// tell of more.
type Telling struct {
	Server, Coach string
	Sum           string          // of its text (SumOf)
	UpTo          time.Time       // it covers the changes until then
	Told          []Told          // how these briefs ended
	Students      []DigestStudent // what is said otherwise of these than that they were told until UpTo
}

// SumOf is what a text is known again by, without keeping it: names and
// figures are in it that may have to be forgotten meanwhile.
func SumOf(text string) string {
	sum := sha256.Sum256([]byte(text))
	return hex.EncodeToString(sum[:])
}

// tellingKind is the kind of the views that keep what is on its way.
const tellingKind = "telling"

// Sending keeps that a message to a coach is on its way.
func (db *DB) Sending(ctx context.Context, t Telling) error {
	body, err := json.Marshal(t)
	if err != nil {
		return err
	}
	id := db.newID()
	return db.update(ctx, "keeping what is on its way", func(tx *sql.Tx) error {
		if err := dropTelling(ctx, tx, t.Server, t.Coach); err != nil {
			return err
		}
		const outlasts = 100 * 365 * 24 * time.Hour // it never expires
		_, err := tx.ExecContext(ctx, `
			INSERT INTO views (id, server, owner, student, kind, body, expires) VALUES (?, ?, ?, '', ?, ?, ?)`,
			id, t.Server, t.Coach, tellingKind, body, millis(db.now().Add(outlasts)))
		return err
	})
}

// InDoubt lists the messages that were on their way and may or may not have got
// through.
func (db *DB) InDoubt(ctx context.Context) (all []Telling, err error) {
	err = db.query(ctx, "listing what may have got through", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanTelling, `SELECT body FROM views WHERE kind = ? ORDER BY server, owner`, tellingKind)
		return err
	})
	return all, err
}

// NotSent writes down that a message did not get through.
func (db *DB) NotSent(ctx context.Context, t Telling) error {
	return db.update(ctx, "keeping that a message was not sent", func(tx *sql.Tx) error {
		return dropTelling(ctx, tx, t.Server, t.Coach)
	})
}

func dropTelling(ctx context.Context, tx *sql.Tx, server, coach string) error {
	_, err := tx.ExecContext(ctx, `DELETE FROM views WHERE kind = ? AND server = ? AND owner = ?`, tellingKind, server, coach)
	return err
}

// untell takes a student out of what is on its way.
func untell(ctx context.Context, tx *sql.Tx, server, student string) error {
	all, err := collect(ctx, tx, scanTelling, `SELECT body FROM views WHERE kind = ? AND server = ?`, tellingKind, server)
	if err != nil {
		return err
	}
	for _, t := range all {
		t.Students = slices.DeleteFunc(t.Students, func(s DigestStudent) bool { return s.Student == student })
		body, err := json.Marshal(t)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE views SET body = ? WHERE kind = ? AND server = ? AND owner = ?`, body, tellingKind, server, t.Coach); err != nil {
			return err
		}
	}
	return nil
}

func scanTelling(row scanner) (t Telling, err error) {
	var body []byte
	if err := row.Scan(&body); err != nil {
		return t, err
	}
	if err := json.Unmarshal(body, &t); err != nil {
		return t, errors.Join(errors.New("a message on its way cannot be read"), err)
	}
	return t, nil
}
