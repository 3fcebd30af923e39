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
		keys = append(keys, n.Info().Key)
	}
	return strings.Join(keys, ", ")
}()

var (
	insertShot = `INSERT INTO shots (session, place, n, file_row, club, label, aside, why, inferred, ` + numberColumns +
		`) VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?` + strings.Repeat(`, ?`, analysis.NumNumbers) + `)`
	selectShots = `SELECT n, file_row, club, label, aside, why, inferred, ` + numberColumns +
		` FROM shots WHERE session = ? ORDER BY place`
)

func insertShots(ctx context.Context, tx *sql.Tx, session string, shots []analysis.Shot) error {
	stmt, err := tx.PrepareContext(ctx, insertShot)
	if err != nil {
		return err
	}
	defer stmt.Close()
	args := make([]any, 9+analysis.NumNumbers)
	for place, s := range shots {
		var inferred []string
		for _, n := range analysis.Numbers() {
			args[9+int(n)] = nil
			if v, ok := s.Value(n); ok {
				args[9+int(n)] = v
			}
			if s.Inferred(n) {
				inferred = append(inferred, n.Info().Key)
			}
		}
		copy(args, []any{session, place, s.N, s.Row, s.Club.Key(), s.Label, string(s.Aside), s.Why, strings.Join(inferred, " ")})
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
		to := []any{&s.N, &s.Row, &club, &s.Label, &s.Aside, &s.Why, &inferred}
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
