package store

import (
	"context"
	"database/sql"
	"math"
	"time"
)

// A Challenge is a contest of a club. Its terms never change.
type Challenge struct {
	ID, Server       string
	Name             string // untrusted text
	Channel, Message string // where its standings stand; Message is "" until posted
	Opened           time.Time
	Until            time.Time // zero: closes by hand alone
	Closed           time.Time // zero while open
	Terms            []byte    // the caller's own encoding, never read here
	Winners          string    // the message that says who won, "" until posted
	Voided           string    // why it was called off, "" if it was not; untrusted text
	After            string    // the challenge it is the play-off of, "" if of none

	Revision, Shown int       // what changed, and what of it the message shows
	Drawn           time.Time // when the message was written last
}

// Over reports whether nobody may enter any more.
func (c Challenge) Over(now time.Time) bool {
	return !c.Closed.IsZero() || !c.Until.IsZero() && !now.Before(c.Until)
}

// OpenChallenge opens a challenge. Its message is yet to be posted. A second
// play-off of one challenge is ErrTaken.
func (db *DB) OpenChallenge(ctx context.Context, c Challenge) (Challenge, error) {
	c = db.newChallenge(c)
	return c, db.update(ctx, "opening a challenge", func(tx *sql.Tx) error { return insertChallenge(ctx, tx, c) })
}

// newChallenge is a challenge as it opens now.
func (db *DB) newChallenge(c Challenge) Challenge {
	c.ID, c.Opened, c.Until, c.Closed = db.newID(), db.stamp(), timeOf(millis(c.Until)), time.Time{}
	c.Message, c.Winners, c.Voided, c.Revision, c.Shown, c.Drawn = "", "", "", 1, 0, time.Time{}
	return c
}

func insertChallenge(ctx context.Context, tx *sql.Tx, c Challenge) error {
	var there bool
	if err := tx.QueryRowContext(ctx, `SELECT EXISTS (SELECT 1 FROM challenges WHERE after = ? AND ? <> '')`, c.After, c.After).Scan(&there); err != nil {
		return err
	}
	if there {
		return ErrTaken
	}
	_, err := tx.ExecContext(ctx, `
		INSERT INTO challenges (id, server, name, channel, message, opened, until, terms, winners, after, revision, shown)
		VALUES (?, ?, ?, ?, '', ?, ?, ?, '', ?, 1, 0)`,
		c.ID, c.Server, c.Name, c.Channel, millis(c.Opened), millis(c.Until), nonNil(c.Terms), sql.NullString{String: c.After, Valid: c.After != ""})
	return err
}

// Challenge finds a challenge by its id.
func (db *DB) Challenge(ctx context.Context, server, id string) (c Challenge, err error) {
	err = db.query(ctx, "reading a challenge", func(tx *sql.Tx) error {
		c, err = findChallenge(ctx, tx, server, id)
		return err
	})
	return c, err
}

// Challenges lists a server's challenges, the newest first; open ones only if
// asked. At most limit, 0 for all.
func (db *DB) Challenges(ctx context.Context, server string, open bool, limit int) (all []Challenge, err error) {
	if limit == 0 {
		limit = math.MaxInt32
	}
	err = db.query(ctx, "listing challenges", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanChallenge, selectChallenge+`
			WHERE server = ? AND (? = 0 OR closed IS NULL AND (until IS NULL OR until > ?))
			ORDER BY opened DESC, id DESC LIMIT ?`, server, open, millis(db.now()), limit)
		return err
	})
	return all, err
}

// DueChallenges lists, of every server, the challenges whose message is behind
// and those whose time has come while they are open.
func (db *DB) DueChallenges(ctx context.Context) (all []Challenge, err error) {
	err = db.query(ctx, "listing due challenges", func(tx *sql.Tx) error {
		if all, err = collect(ctx, tx, scanChallenge, selectChallenge+behind); err != nil {
			return err
		}
		over, err := collect(ctx, tx, scanChallenge, selectChallenge+ended, millis(db.now()))
		for _, c := range over {
			if c.Revision == c.Shown {
				all = append(all, c)
			}
		}
		return err
	})
	return all, err
}

// Each clause is answered by an index that holds what is due and nothing else.
const (
	behind = ` WHERE revision <> shown ORDER BY revision, id`
	ended  = ` WHERE closed IS NULL AND until IS NOT NULL AND until <= ? ORDER BY until, id`
)

// CloseChallenge closes a challenge and keeps how each entry in play ended, by
// its id. Closed already is ErrExpired; finals that are not of the very entries
// in play is ErrChanged.
func (db *DB) CloseChallenge(ctx context.Context, server, id string, finals map[string][]byte) (c Challenge, err error) {
	err = db.update(ctx, "closing a challenge", func(tx *sql.Tx) error {
		if c, err = findChallenge(ctx, tx, server, id); err != nil {
			return err
		}
		if !c.Closed.IsZero() {
			return ErrExpired
		}
		// Closed late, after the bot was away, it still closed when it was to.
		c.Closed = db.stamp()
		if !c.Until.IsZero() && c.Until.Before(c.Closed) {
			c.Closed = c.Until
		}
		c.Revision++
		for entry, final := range finals {
			if _, err := tx.ExecContext(ctx, `UPDATE entries SET final = ?, reread = 0 WHERE challenge = ? AND id = ?`, final, id, entry); err != nil {
				return err
			}
		}
		var all, ended int
		if err := tx.QueryRowContext(ctx, `SELECT count(*), count(final) FROM entries WHERE challenge = ? AND `+inPlay, id).Scan(&all, &ended); err != nil {
			return err
		}
		if all != ended || ended != len(finals) {
			return ErrChanged
		}
		if err := forgetLeft(ctx, tx, id); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `UPDATE challenges SET closed = ?, revision = revision + 1 WHERE id = ?`, millis(c.Closed), id)
		return err
	})
	return c, err
}

// ChallengeShown writes down that the messages of a challenge, those that c
// names, show it as of c's revision.
func (db *DB) ChallengeShown(ctx context.Context, c Challenge) error {
	return db.update(ctx, "keeping that standings were shown", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `UPDATE challenges SET channel = ?, message = ?, winners = ?, shown = ?, drawn = ? WHERE id = ?`,
			c.Channel, c.Message, c.Winners, c.Revision, millis(db.now()), c.ID))
	})
}

const selectChallenge = `
	SELECT id, server, name, channel, message, opened, until, closed, terms, winners, voided, after, revision, shown, drawn FROM challenges`

func findChallenge(ctx context.Context, tx *sql.Tx, server, id string) (Challenge, error) {
	return scanChallenge(tx.QueryRowContext(ctx, selectChallenge+` WHERE server = ? AND id = ?`, server, id))
}

func scanChallenge(row scanner) (c Challenge, err error) {
	var opened, until, closed, drawn sql.NullInt64
	var after sql.NullString
	err = row.Scan(&c.ID, &c.Server, &c.Name, &c.Channel, &c.Message, &opened, &until, &closed,
		&c.Terms, &c.Winners, &c.Voided, &after, &c.Revision, &c.Shown, &drawn)
	c.After = after.String
	c.Opened, c.Until, c.Closed, c.Drawn = timeOf(opened), timeOf(until), timeOf(closed), timeOf(drawn)
	return c, err
}
