package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"time"

	"rangepost/analysis"
)

// saidJSON is Said as it is kept: clubs by key, because the order of the
// families is nobody's promise, and nothing where nothing was said.
type saidJSON struct {
	Club    string           `json:"club,omitempty"`
	Ball    analysis.Ball    `json:"ball,omitempty"`
	Targets analysis.Targets `json:"targets_m,omitempty"`
	When    time.Time        `json:"when,omitzero"`
	Sets    string           `json:"sets,omitempty"`
	Note    string           `json:"note,omitempty"`
	Answers analysis.Answers `json:"answers,omitempty"`

	Target float64 `json:"target_m,omitempty"` // before there was one for each club
}

func (s Said) encode() (string, error) {
	b, err := json.Marshal(saidJSON{s.Club.Key(), s.Ball, s.Targets, s.When.UTC(), s.Sets, s.Note, s.Answers, 0})
	return string(b), err
}

func parseSaid(b []byte) (Said, error) {
	var j saidJSON
	if err := json.Unmarshal(b, &j); err != nil {
		return Said{}, err
	}
	if j.Target > 0 {
		j.Targets = j.Targets.Over(analysis.Targets{{}: j.Target})
	}
	club, err := analysis.ParseClub(j.Club)
	return Said{club, j.Ball, j.Targets, j.When, j.Sets, j.Note, j.Answers}, err
}

// Over is what is said now over what was said before, which still holds where
// nothing is said now.
func (s Said) Over(before Said) Said {
	if s.Club.Unknown() {
		s.Club = before.Club
	}
	if s.Ball == "" {
		s.Ball = before.Ball
	}
	s.Targets = s.Targets.Over(before.Targets)
	if s.When.IsZero() {
		s.When = before.When
	}
	if s.Sets == "" {
		s.Sets = before.Sets
	}
	if s.Note == "" {
		s.Note = before.Note
	}
	if s.Answers == nil {
		s.Answers = before.Answers
	}
	return s
}

// LastBall is the kind of ball that was last said of a session of a student's,
// in the order they were posted; "" if it never was.
func (db *DB) LastBall(ctx context.Context, server, student string) (ball analysis.Ball, err error) {
	err = db.query(ctx, "reading the last kind of ball", func(tx *sql.Tx) error {
		rows, err := tx.QueryContext(ctx, lastBall, server, student)
		if err != nil {
			return err
		}
		defer rows.Close()
		for ball = ""; ball == "" && rows.Next(); {
			var text []byte
			if err := rows.Scan(&text); err != nil {
				return err
			}
			said, err := parseSaid(text)
			if err != nil {
				return err
			}
			ball = said.Ball
		}
		return rows.Err()
	})
	return ball, err
}

// lastBall is what was said of sessions, if anything may have been of the ball.
const lastBall = `SELECT said FROM sessions ` + ofStudent + ` AND said LIKE '%"ball":%'` + postedLast
