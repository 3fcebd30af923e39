package store

import (
	"context"
	"database/sql"
	"encoding/json"
	"math"
	"slices"
	"time"

	"rangepost/analysis"
)

// A Reading is how a session's file was read, with what it leaves open.
type Reading struct {
	Session     analysis.Session
	Fingerprint string // of the header: answers are remembered by it
	RowsRead    int
	RowsDropped int      // summary rows left out
	Labelled    bool     // the file names its sets itself
	Decisions   []string // how it was read, one sentence each
	Questions   []analysis.Question
	Taught      []analysis.Observation // by the trial between its sets
	Gist        *analysis.Gist         // what it was found to say, nil while nothing can be said
}

// Said is what people said beside the file. It is kept apart from the reading
// so that reading the file again repeats it.
type Said struct {
	Club    analysis.Club // of shots whose club the file does not say
	Ball    analysis.Ball // "" when not said
	Targets analysis.Targets
	When    time.Time // when it was hit, zero when not said
	Sets    string    // labels for ranges of shots, as typed
	Note    string    // untrusted text
	Answers analysis.Answers
}

// SessionInfo is a session without its shots.
type SessionInfo struct {
	ID, Server, Student string
	PostedBy            string // who handed the file over
	Posted              time.Time
	At                  time.Time // when it was hit, as far as known, else posted; sessions are ordered by it
	Dated               analysis.Dating
	Channel, Message    string // where it was answered, "" if not known
	Name                string // of the file; untrusted text
	SHA256              string // of the file's bytes, hex
	Balls, Used         int
	Open                int // questions left open
}

// A Session is one posted file.
type Session struct {
	SessionInfo
	Reading Reading
	Said    Said

	// FirstBall is the kind of ball that was said first, "" while none is: it
	// stays so in challenges, whatever is said later.
	FirstBall analysis.Ball

	// Was are the clubs the balls were posted as, where they were renamed since:
	// one for each shot, the zero club where it was not. nil if none was, and
	// where the balls are not read.
	Was []analysis.Club
}

// As is the reading with what was posted as a club still called that.
func (s Session) As(club analysis.Club) analysis.Session {
	session := s.Reading.Session
	if slices.Contains(s.Was, club) && !club.Unknown() {
		session.Shots = slices.Clone(session.Shots)
		for i, was := range s.Was {
			if was == club {
				session.Shots[i].Club = club
			}
		}
	}
	return session
}

// Session finds a session by its id, without the balls of its reading; see
// SessionWithBalls.
func (db *DB) Session(ctx context.Context, server, id string) (s Session, err error) {
	err = db.query(ctx, "reading a session", func(tx *sql.Tx) error {
		s, err = findSession(ctx, tx, `WHERE server = ? AND id = ?`, server, id)
		return err
	})
	return s, err
}

// SessionWithBalls is Session with the balls of its reading, of one moment.
func (db *DB) SessionWithBalls(ctx context.Context, server, id string) (s Session, err error) {
	err = db.query(ctx, "reading a session and its balls", func(tx *sql.Tx) error {
		if s, err = findSession(ctx, tx, `WHERE server = ? AND id = ?`, server, id); err != nil {
			return err
		}
		if s.Reading.Session.Shots, err = findShots(ctx, tx, id); err != nil {
			return err
		}
		s.Was, err = renamed(ctx, tx, id)
		return err
	})
	return s, err
}

// LatestSession is the session a student hit last, without its balls.
func (db *DB) LatestSession(ctx context.Context, server, student string) (s Session, err error) {
	err = db.query(ctx, "reading the latest session", func(tx *sql.Tx) error {
		s, err = findSession(ctx, tx, ofStudent+hitLast+` LIMIT 1`, server, student)
		return err
	})
	return s, err
}

// A SessionFilter narrows a list of sessions. The zero filter is all of them.
type SessionFilter struct {
	Since       time.Time // hit then or later
	PostedSince time.Time // posted then or later
	Limit       int       // at most so many, the latest; 0 for all
}

// Sessions lists a student's sessions, the latest first.
func (db *DB) Sessions(ctx context.Context, server, student string, f SessionFilter) (all []SessionInfo, err error) {
	limit := f.Limit
	if limit == 0 {
		limit = math.MaxInt32
	}
	return glance(ctx, db, "listing sessions", scanSessionInfo, `
		SELECT `+infoColumns+` FROM sessions `+ofStudent+` AND at >= ? AND posted >= ?`+hitLast+` LIMIT ?`,
		server, student, since(f.Since), since(f.PostedSince), limit)
}

// Raw is the file of a session as it was handed over.
func (db *DB) Raw(ctx context.Context, server, id string) (raw []byte, err error) {
	err = db.query(ctx, "reading a file", func(tx *sql.Tx) error {
		raw, err = findRaw(ctx, tx, server, id)
		return err
	})
	return raw, err
}

// Clauses that one index answers without a sort.
const (
	ofStudent  = `WHERE server = ? AND student = ?`
	hitFirst   = ` ORDER BY at, posted, id`
	hitLast    = ` ORDER BY at DESC, posted DESC, id DESC`
	postedLast = ` ORDER BY posted DESC, id DESC`
)

const infoColumns = `id, server, student, posted_by, posted, at, dated, channel, message, name, sha256,
	balls, used, json_array_length(questions)`

func scanSessionInfo(row scanner) (SessionInfo, error) { return scanInfoAnd(row) }

func scanInfoAnd(row scanner, more ...any) (i SessionInfo, err error) {
	var posted, at sql.NullInt64
	err = row.Scan(append([]any{&i.ID, &i.Server, &i.Student, &i.PostedBy, &posted, &at, &i.Dated, &i.Channel, &i.Message,
		&i.Name, &i.SHA256, &i.Balls, &i.Used, &i.Open}, more...)...)
	i.Posted, i.At = timeOf(posted), timeOf(at)
	return i, err
}

// findSession reads the session a clause leads to, without its balls.
func findSession(ctx context.Context, tx *sql.Tx, where string, args ...any) (s Session, err error) {
	var (
		r                          = &s.Reading
		hand                       string
		hit                        sql.NullInt64
		decisions, questions, said []byte
		gist                       sql.NullString
		c                          = &r.Session.Conditions
	)
	s.SessionInfo, err = scanInfoAnd(tx.QueryRowContext(ctx, `
		SELECT `+infoColumns+`, fingerprint, rows_read, rows_dropped, labelled, decisions, questions, said,
			hit, hand, ball, target, note, temperature, altitude, wind_speed, wind_from, gist, first_ball
		FROM sessions `+where, args...),
		&r.Fingerprint, &r.RowsRead, &r.RowsDropped, &r.Labelled, &decisions, &questions, &said,
		&hit, &hand, &r.Session.Ball, &r.Session.Target, &r.Session.Note,
		&c.Temperature, &c.Altitude, &c.WindSpeed, &c.WindFrom, &gist, &s.FirstBall)
	if err != nil {
		return s, err
	}
	if r.Session.Hand, err = analysis.ParseHand(hand); err != nil {
		return s, err
	}
	r.Session.When, r.Session.Dated = timeOf(hit), s.Dated
	if err := json.Unmarshal(decisions, &r.Decisions); err != nil {
		return s, err
	}
	if err := json.Unmarshal(questions, &r.Questions); err != nil {
		return s, err
	}
	if s.Said, err = parseSaid(said); err != nil {
		return s, err
	}
	if r.Gist, err = parseGist(gist.String); err != nil {
		return s, err
	}
	r.Taught, err = findTaught(ctx, tx, s.ID)
	return s, err
}
