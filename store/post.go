package store

import (
	"context"
	"crypto/sha256"
	"database/sql"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"slices"

	"rangepost/analysis"
)

// A NewSession is a file to keep.
type NewSession struct {
	Server, Student string
	PostedBy        string // "" for the student
	Channel         string // where it will be answered
	Request         string // the request it is posted by
	Name            string // of the file
	Raw             []byte // the file as it was handed over
	Reading         Reading
	Said            Said

	// Same tells whether two sessions' shots are the same balls, in whatever file;
	// nil never does. It is asked of sessions with as many.
	Same func(a, b []analysis.Shot) bool
}

// PostSession keeps a file, its reading and its shots, all or nothing. The
// same bytes, or the same balls, posted again by the same student on the same
// server are the same session: it comes back as it was kept, without its balls and with created
// false, and nothing of the new reading is. Posted again by the same request,
// taken up after a crash, it counts as created.
func (db *DB) PostSession(ctx context.Context, n NewSession) (s Session, created bool, err error) {
	// Packed before the one writer is taken, which others wait for.
	file, err := pack(n.Raw)
	if err != nil {
		return Session{}, false, fmt.Errorf("store: packing %q: %w", n.Name, err)
	}
	sum := sha256.Sum256(n.Raw)
	fresh := Session{
		SessionInfo: SessionInfo{
			ID: db.newID(), Server: n.Server, Student: n.Student, PostedBy: n.PostedBy,
			Posted: db.stamp(), Channel: n.Channel, Name: n.Name, SHA256: hex.EncodeToString(sum[:]),
		},
		Reading: n.Reading,
		Said:    n.Said,
	}
	if fresh.PostedBy == "" {
		fresh.PostedBy = fresh.Student
	}
	// Likewise the sessions with as many balls are compared before; then only what
	// came meanwhile.
	alike := map[string]bool{}
	err = db.query(ctx, "looking for the same balls", func(tx *sql.Tx) error {
		if _, err := findSame(ctx, tx, n, alike); !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		return nil
	})
	if err != nil {
		return Session{}, false, err
	}
	err = db.update(ctx, "posting a session", func(tx *sql.Tx) error {
		s, created = fresh, false
		if err := db.ensureStudent(ctx, tx, n.Server, n.Student); err != nil {
			return err
		}
		before, err := findSession(ctx, tx, `WHERE server = ? AND student = ? AND sha256 = ?`, s.Server, s.Student, s.SHA256)
		if err == nil {
			s = before
			return tx.QueryRowContext(ctx, `SELECT request <> '' AND request = ? FROM sessions WHERE id = ?`, n.Request, s.ID).Scan(&created)
		} else if !errors.Is(err, sql.ErrNoRows) {
			return err
		}
		if before, err = findSame(ctx, tx, n, alike); !errors.Is(err, sql.ErrNoRows) {
			s = before
			return err
		}
		created = true
		s, err = insertSession(ctx, tx, s, n.Request, file)
		return err
	})
	if err != nil {
		return Session{}, false, err
	}
	return s, created, nil
}

// findSame is the first session of a student with the same balls. What was compared
// stands in alike, by the session's id, and is not compared again.
func findSame(ctx context.Context, tx *sql.Tx, n NewSession, alike map[string]bool) (s Session, err error) {
	shots := n.Reading.Session.Shots
	if n.Same == nil || len(shots) == 0 {
		return s, sql.ErrNoRows
	}
	numbers := analysis.Numbers()
	at := slices.IndexFunc(numbers, func(n analysis.Number) bool {
		return slices.ContainsFunc(shots, func(s analysis.Shot) bool { return s.Measured(n) })
	})
	if at < 0 {
		return s, sql.ErrNoRows
	}
	by := numbers[at]
	values, _ := analysis.Values(shots, by)
	mean, _ := moments(values)
	ids, err := collect(ctx, tx, scanText, sessionsLike(by.Info().Key), n.Student, len(shots), n.Server, mean, analysis.CoarseStep(by))
	if err != nil {
		return s, err
	}
	for _, id := range ids {
		if _, compared := alike[id]; !compared {
			others, err := findShots(ctx, tx, id)
			if err != nil {
				return s, err
			}
			alike[id] = n.Same(shots, others)
		}
		if alike[id] {
			return findSession(ctx, tx, `WHERE id = ?`, id)
		}
	}
	return s, sql.ErrNoRows
}

// sessionsLike is the query for sessions with as many balls and about the same
// mean of a number, so that few have to be compared ball by ball.
func sessionsLike(number string) string {
	return `
	SELECT id FROM sessions s WHERE student = ? AND balls = ? AND server = ?
		AND abs((SELECT avg(h."` + number + `") FROM shots h WHERE h.session = s.id) - ?) <= ?
	ORDER BY +posted, id`
}

// ReplaceReading keeps another reading of the same file, with what was said
// for it: after sets were named, or a question answered. The file and the time
// it was posted stay.
func (db *DB) ReplaceReading(ctx context.Context, server, id string, r Reading, said Said) (s Session, err error) {
	err = db.update(ctx, "replacing a reading", func(tx *sql.Tx) error {
		if s, err = findSession(ctx, tx, `WHERE server = ? AND id = ?`, server, id); err != nil {
			return err
		}
		s.Reading, s.Said = r, said
		s, err = writeReading(ctx, tx, s)
		return err
	})
	return s, err
}

func insertSession(ctx context.Context, tx *sql.Tx, s Session, request string, file packed) (Session, error) {
	if _, err := tx.ExecContext(ctx, `
		INSERT INTO sessions (id, server, student, posted_by, posted, at, channel, name, sha256, request)
		VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
		s.ID, s.Server, s.Student, s.PostedBy, millis(s.Posted), millis(s.Posted), s.Channel, s.Name, s.SHA256, request); err != nil {
		return s, err
	}
	if _, err := tx.ExecContext(ctx, `INSERT INTO files (session, size, gzip) VALUES (?, ?, ?)`,
		s.ID, file.size, file.gzip); err != nil {
		return s, err
	}
	return writeReading(ctx, tx, s)
}

// writeReading writes everything of a session that follows from its reading,
// over whatever was there, and returns it as it would be read back.
func writeReading(ctx context.Context, tx *sql.Tx, s Session) (Session, error) {
	r := s.Reading
	r.Session.Shots = slices.Clone(r.Session.Shots) // the caller's stay as they are
	for i, shot := range r.Session.Shots {
		r.Session.Shots[i].Label, r.Session.Shots[i].Why = legible(shot.Label), legible(shot.Why)
	}
	s.Reading.Session.Shots = r.Session.Shots
	if err := named(s.Said.Club); err != nil {
		return s, err
	}
	s.Balls, s.Used, s.Open = len(r.Session.Shots), 0, len(r.Questions)
	s.At = ordered(r.Session.When, r.Session.Dated, s.Posted)
	for _, shot := range r.Session.Shots {
		if shot.Aside == analysis.Used {
			s.Used++
		}
	}
	said, err := s.Said.encode()
	if err != nil {
		return s, err
	}
	decisions, err := json.Marshal(nonNil(r.Decisions))
	if err != nil {
		return s, err
	}
	questions, err := questionsJSON(r.Questions)
	if err != nil {
		return s, err
	}
	gist := encodeGist(r.Gist)
	c := r.Session.Conditions
	if _, err := tx.ExecContext(ctx, `
		UPDATE sessions SET at = ?, dated = ?, redate = 0, fingerprint = ?, rows_read = ?, rows_dropped = ?, labelled = ?,
			decisions = ?, questions = ?, said = ?, hit = ?, hand = ?, ball = ?, target = ?, note = ?,
			temperature = ?, altitude = ?, wind_speed = ?, wind_from = ?, balls = ?, used = ?, gist = ?,
			first_ball = CASE WHEN first_ball = '' AND ? IN ('new', 'range') THEN ? ELSE first_ball END
		WHERE id = ?`,
		millis(s.At), r.Session.Dated, r.Fingerprint, r.RowsRead, r.RowsDropped, r.Labelled,
		string(decisions), questions, said, millis(r.Session.When), r.Session.Hand.String(),
		r.Session.Ball, r.Session.Target, r.Session.Note,
		c.Temperature, c.Altitude, c.WindSpeed, c.WindFrom, s.Balls, s.Used, gist, s.Said.Ball, s.Said.Ball, s.ID); err != nil {
		return s, err
	}
	was, err := postedAs(ctx, tx, s.ID)
	if err != nil {
		return s, err
	}
	for _, table := range []string{"shots", "session_values", "taught"} {
		if _, err := tx.ExecContext(ctx, `DELETE FROM `+table+` WHERE session = ?`, s.ID); err != nil {
			return s, err
		}
	}
	if err := insertShots(ctx, tx, s.ID, r.Session, was); err != nil {
		return s, err
	}
	if err := insertValues(ctx, tx, s); err != nil {
		return s, err
	}
	if err := insertTaught(ctx, tx, s.ID, r.Taught); err != nil {
		return s, err
	}
	if err := reread(ctx, tx, s.ID); err != nil {
		return s, err
	}
	back, err := findSession(ctx, tx, `WHERE id = ?`, s.ID)
	if err != nil {
		return s, err
	}
	if back.Reading.Session.Shots, err = findShots(ctx, tx, s.ID); err != nil {
		return s, err
	}
	if back.Was, err = renamed(ctx, tx, s.ID); err != nil {
		return s, err
	}
	// A shot that came back as another would be read wrongly ever after.
	for i, shot := range back.Reading.Session.Shots {
		if shot != r.Session.Shots[i] {
			return s, fmt.Errorf("shot %d comes back as %+v", i+1, shot)
		}
	}
	return back, nil
}

func questionsJSON(open []analysis.Question) (string, error) {
	text, err := json.Marshal(nonNil(open))
	return string(text), err
}

// named refuses a club without a name that leads back to it.
func named(c analysis.Club) error {
	if back, err := analysis.ParseClub(c.Key()); err != nil || back != c {
		return fmt.Errorf("club %+v has no name of its own", c)
	}
	return nil
}
