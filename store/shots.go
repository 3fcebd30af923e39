package store

import (
	"context"
	"database/sql"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
)

// numberColumns are the columns of table shots that hold numbers, in the order
// of the table of numbers.
var numberColumns = func() string {
	keys := make([]string, 0, analysis.NumNumbers)
	for _, n := range analysis.Numbers() {
		keys = append(keys, `"`+n.Info().Key+`"`) // quoted: lateral is a word of SQL
	}
	return strings.Join(keys, ", ")
}()

var (
	insertShot = `INSERT INTO shots (session, place, n, file_row, club, was, label, setup, aside, why, pause, inferred, ` + numberColumns +
		`) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?` + strings.Repeat(`, ?`, analysis.NumNumbers) + `)`
	selectShots = `SELECT n, file_row, club, label, aside, why, pause, inferred, ` + numberColumns +
		` FROM shots WHERE session = ? ORDER BY place`
)

// insertShots keeps a session's balls; was are the clubs they were posted as, by
// row of the file.
func insertShots(ctx context.Context, tx *sql.Tx, session string, s analysis.Session, was map[int]string) error {
	stmt, err := tx.PrepareContext(ctx, insertShot)
	if err != nil {
		return err
	}
	defer stmt.Close()
	const before = 12 // the numbers
	args := make([]any, before+analysis.NumNumbers)
	setups := s.Setups()
	for place, s := range s.Shots {
		var inferred []string
		for _, n := range analysis.Numbers() {
			args[before+int(n)] = nil
			if v, ok := s.Value(n); ok {
				args[before+int(n)] = v
			}
			if s.Inferred(n) {
				inferred = append(inferred, n.Info().Key)
			}
		}
		club, first := s.Club.Key(), was[s.Row]
		if first == club {
			first = ""
		}
		copy(args, []any{session, place, s.N, s.Row, club, first, s.Label, setups[place], string(s.Aside), s.Why, s.Pause, strings.Join(inferred, " ")})
		if _, err := stmt.ExecContext(ctx, args...); err != nil {
			return fmt.Errorf("shot %d: %w", s.N, err)
		}
	}
	return nil
}

func findShots(ctx context.Context, tx *sql.Tx, session string) ([]analysis.Shot, error) {
	var (
		club, inferred string
		values         [analysis.NumNumbers]sql.NullFloat64
		clubs          = clubs{}
	)
	return collect(ctx, tx, func(row scanner) (s analysis.Shot, err error) {
		to := []any{&s.N, &s.Row, &club, &s.Label, &s.Aside, &s.Why, &s.Pause, &inferred}
		for i := range values {
			to = append(to, &values[i])
		}
		if err := row.Scan(to...); err != nil {
			return s, err
		}
		if s.Club, err = clubs.parse(club); err != nil {
			return s, fmt.Errorf("shot %d: %w", s.N, err)
		}
		worked := strings.Fields(inferred)
		for _, n := range analysis.Numbers() {
			switch v := values[n]; {
			case !v.Valid:
			case slices.Contains(worked, n.Info().Key):
				s = s.WithInferred(n, v.Float64)
			default:
				s = s.With(n, v.Float64)
			}
		}
		return s, nil
	}, selectShots, session)
}

// postedAs are the clubs a session's balls were first posted as, by row of the
// file; a club nobody had said is none.
func postedAs(ctx context.Context, tx *sql.Tx, session string) (map[int]string, error) {
	type ball struct {
		row  int
		club string
	}
	balls, err := collect(ctx, tx, func(row scanner) (b ball, err error) {
		return b, row.Scan(&b.row, &b.club)
	}, `SELECT file_row, CASE was WHEN '' THEN club ELSE was END FROM shots WHERE session = ?`, session)
	was := map[int]string{}
	for _, b := range balls {
		if b.club != "" {
			was[b.row] = b.club
		}
	}
	return was, err
}

// renamed are the clubs that balls of a session were posted as and are not
// called any more, one for each ball in the order of their places: the zero
// club for a ball that still is what it was. nil if all are.
func renamed(ctx context.Context, tx *sql.Tx, session string) (was []analysis.Club, err error) {
	keys, err := collect(ctx, tx, scanText, `SELECT was FROM shots WHERE session = ? ORDER BY place`, session)
	if err != nil || !slices.ContainsFunc(keys, func(key string) bool { return key != "" }) {
		return nil, err
	}
	known := clubs{}
	for _, key := range keys {
		club, err := known.parse(key)
		if err != nil {
			return nil, err
		}
		was = append(was, club)
	}
	return was, nil
}

// clubs reads club keys back, each but once: there are few in many rows.
type clubs map[string]analysis.Club

func (c clubs) parse(key string) (analysis.Club, error) {
	club, ok := c[key]
	if ok {
		return club, nil
	}
	club, err := analysis.ParseClub(key)
	if err == nil {
		c[key] = club
	}
	return club, err
}
