package store

import (
	"context"
	"database/sql"
	"encoding/binary"
	"fmt"
	"math"
	"slices"
	"time"

	"rangepost/analysis"
)

// A ValuesFilter narrows a number's values. The zero filter but for Number is
// all of them.
type ValuesFilter struct {
	Number    analysis.Number
	Club      analysis.Club // the zero club is every club
	Since     time.Time     // sessions hit then or later
	MeansOnly bool          // leave Values nil
}

// Values lists a number of a student's used balls by session and club, oldest
// session first. It reads one stretch of a key, whatever else is kept: for
// 30,000 balls in a ninth of the time that reading their shots takes.
func (db *DB) Values(ctx context.Context, server, student string, f ValuesFilter) (all []analysis.SessionValues, err error) {
	if int(f.Number) >= analysis.NumNumbers {
		return nil, fmt.Errorf("store: reading values: there is no number %d", f.Number)
	}
	query, args := valuesQuery(server, student, f)
	return glance(ctx, db, "reading values", valuesScan(), query, args...)
}

func values(ctx context.Context, tx *sql.Tx, server, student string, f ValuesFilter) ([]analysis.SessionValues, error) {
	query, args := valuesQuery(server, student, f)
	return collect(ctx, tx, valuesScan(), query, args...)
}

func valuesQuery(server, student string, f ValuesFilter) (query string, args []any) {
	query = `SELECT session, at, club, ball, inferred, mean, sd, vals`
	if f.MeansOnly {
		query = `SELECT session, at, club, ball, inferred, mean, sd, NULL`
	}
	query += ` FROM session_values WHERE server = ? AND student = ? AND number = ? AND at >= ?`
	args = []any{server, student, f.Number.Info().Key, since(f.Since)}
	if !f.Club.Unknown() {
		query += ` AND club = ?`
		args = append(args, f.Club.Key())
	}
	return query + ` ORDER BY at, session, club`, args
}

func valuesScan() func(scanner) (analysis.SessionValues, error) {
	clubs := clubs{}
	return func(row scanner) (v analysis.SessionValues, err error) {
		var at sql.NullInt64
		var club string
		var sd sql.NullFloat64
		var vals sql.RawBytes
		if err := row.Scan(&v.Session, &at, &club, &v.Ball, &v.Inferred, &v.Mean, &sd, &vals); err != nil {
			return v, err
		}
		v.At, v.SD = timeOf(at), sd.Float64
		if vals != nil {
			v.Values = make([]float64, len(vals)/8)
			for i := range v.Values {
				v.Values[i] = math.Float64frombits(binary.LittleEndian.Uint64(vals[8*i:]))
			}
		}
		v.Club, err = clubs.parse(club)
		return v, err
	}
}

// insertValues draws the rows of session_values from a session's shots: those
// hit as usual, so that a number over the sessions is that of one setup; of what is
// judged of a ball, all that were struck.
func insertValues(ctx context.Context, tx *sql.Tx, s Session) error {
	var rows [][]any
	var clubs []analysis.Club
	used, struck := map[analysis.Club][]analysis.Shot{}, map[analysis.Club][]analysis.Shot{}
	setups := s.Reading.Session.Setups()
	for i, shot := range s.Reading.Session.Shots {
		if shot.Aside != analysis.Used && shot.Aside != analysis.Mishit {
			continue
		}
		if !slices.Contains(clubs, shot.Club) {
			clubs = append(clubs, shot.Club)
		}
		struck[shot.Club] = append(struck[shot.Club], shot)
		if shot.Aside == analysis.Used && setups[i] != analysis.Tried {
			used[shot.Club] = append(used[shot.Club], shot)
		}
	}
	for _, club := range clubs {
		for _, n := range analysis.Numbers() {
			of := used[club]
			if n.Info().Judged { // of every ball by what that ball was asked
				of = struck[club]
			}
			known, at := analysis.Values(of, n)
			if len(known) == 0 {
				continue
			}
			inferred := 0
			for _, i := range at {
				if of[i].Inferred(n) {
					inferred++
				}
			}
			mean, sd := moments(known)
			var vals []byte
			for _, v := range known {
				vals = binary.LittleEndian.AppendUint64(vals, math.Float64bits(v))
			}
			rows = append(rows, []any{s.Server, s.Student, n.Info().Key, millis(s.At), s.ID, club.Key(),
				s.Reading.Session.Ball, len(known), inferred, mean, sql.NullFloat64{Float64: sd, Valid: len(known) > 1}, vals})
		}
	}
	return insertRows(ctx, tx, "session_values", []string{
		"server", "student", "number", "at", "session", "club", "ball", "balls", "inferred", "mean", "sd", "vals"}, rows)
}

// moments is the mean of values and their standard deviation about it (n-1),
// in two passes so that a far-off mean costs no digits.
func moments(values []float64) (mean, sd float64) {
	n := float64(len(values))
	for _, v := range values {
		mean += v
	}
	mean /= n
	if len(values) < 2 {
		return mean, 0
	}
	var squares float64
	for _, v := range values {
		squares += (v - mean) * (v - mean)
	}
	return mean, math.Sqrt(squares / (n - 1))
}
