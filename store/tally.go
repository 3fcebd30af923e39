package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"errors"
	"time"

	"rangepost/analysis"
)

// A Tally is ball flights somebody counted by eye. It is no session: nothing
// in it was measured.
type Tally struct {
	ID, Server, Student string
	Club                analysis.Club // the zero club if not said
	At, Counted         time.Time     // when it was begun, and last changed
	Flights             []int         // counts, in the caller's own order
	Last                int           // which was counted last, -1 for none to take back
}

// StartTally is the tally a student is at: the one with this club changed
// within the last while, or a new one with room for so many flights.
func (db *DB) StartTally(ctx context.Context, server, student string, club analysis.Club, flights int, while time.Duration) (t Tally, err error) {
	id := db.newID()
	err = db.update(ctx, "starting a tally", func(tx *sql.Tx) error {
		if err := db.ensureStudent(ctx, tx, server, student); err != nil {
			return err
		}
		t, err = scanTally(tx.QueryRowContext(ctx, selectTally+`
			WHERE server = ? AND student = ? AND club = ? AND counted > ? ORDER BY at DESC, id DESC LIMIT 1`,
			server, student, club.Key(), millis(db.now().Add(-while))))
		if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		t = Tally{ID: id, Server: server, Student: student, Club: club, At: db.stamp(), Flights: make([]int, flights), Last: -1}
		t.Counted = t.At
		_, err = tx.ExecContext(ctx, `
			INSERT INTO tallies (id, server, student, club, at, counted, flights, last) VALUES (?, ?, ?, ?, ?, ?, ?, -1)`,
			t.ID, t.Server, t.Student, club.Key(), millis(t.At), millis(t.Counted), flightsJSON(t.Flights))
		return err
	})
	return t, err
}

// ChangeTally changes a tally by what change makes of it, in one transaction.
func (db *DB) ChangeTally(ctx context.Context, server, id string, change func(*Tally) error) (t Tally, err error) {
	err = db.update(ctx, "counting flights", func(tx *sql.Tx) error {
		if t, err = findTally(ctx, tx, server, id); err != nil {
			return err
		}
		if err := change(&t); err != nil {
			return err
		}
		t.Counted = db.stamp()
		_, err := tx.ExecContext(ctx, `UPDATE tallies SET flights = ?, last = ?, counted = ? WHERE id = ?`,
			flightsJSON(t.Flights), t.Last, millis(t.Counted), id)
		return err
	})
	return t, err
}

// Tally finds a tally by its id.
func (db *DB) Tally(ctx context.Context, server, id string) (t Tally, err error) {
	err = db.query(ctx, "reading a tally", func(tx *sql.Tx) error {
		t, err = findTally(ctx, tx, server, id)
		return err
	})
	return t, err
}

// Tallies lists a student's tallies begun then or later, oldest first.
func (db *DB) Tallies(ctx context.Context, server, student string, from time.Time) (all []Tally, err error) {
	err = db.query(ctx, "listing tallies", func(tx *sql.Tx) error {
		all, err = tallies(ctx, tx, server, student, from)
		return err
	})
	return all, err
}

const selectTally = `SELECT id, server, student, club, at, counted, flights, last FROM tallies`

func tallies(ctx context.Context, tx *sql.Tx, server, student string, from time.Time) ([]Tally, error) {
	return collect(ctx, tx, scanTally, selectTally+` WHERE server = ? AND student = ? AND at >= ? ORDER BY at, id`,
		server, student, since(from))
}

func findTally(ctx context.Context, tx *sql.Tx, server, id string) (Tally, error) {
	return scanTally(tx.QueryRowContext(ctx, selectTally+` WHERE server = ? AND id = ?`, server, id))
}

func scanTally(row scanner) (t Tally, err error) {
	var club string
	var flights []byte
	var at, counted sql.NullInt64
	if err := row.Scan(&t.ID, &t.Server, &t.Student, &club, &at, &counted, &flights, &t.Last); err != nil {
		return t, err
	}
	t.At, t.Counted = timeOf(at), timeOf(counted)
	if err := json.Unmarshal(flights, &t.Flights); err != nil {
		return t, err
	}
	t.Club, err = analysis.ParseClub(club)
	return t, err
}

func flightsJSON(flights []int) string {
	b, err := json.Marshal(nonNil(flights))
	if err != nil {
		panic(err) // whole numbers
	}
	return string(b)
}
