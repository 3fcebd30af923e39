package store

import (
	"context"
	"database/sql"

	"rangepost/analysis"
)

// A Gisted session is one with what it was found to say.
type Gisted struct {
	SessionInfo
	Gist   *analysis.Gist // nil while nothing can be said; without its trial where that is one visit of a plan's, which tells by itself
	Stale  bool           // it was read before gists were kept: see KeepGist
	Unread bool           // by the coach who is asked about
}

// mostRecent is how many sessions a roster looks back: as many as it is told
// that the same was found again (our choice).
const mostRecent = 5

// Recent are a student's latest sessions with what they were found to say, the
// latest first, as far as their coach looked at them.
func (db *DB) Recent(ctx context.Context, b Binding, most int) (all []Gisted, err error) {
	err = db.query(ctx, "listing what was found lately", func(tx *sql.Tx) error {
		all, err = recent(ctx, tx, b, most)
		return err
	})
	return all, err
}

func recent(ctx context.Context, tx *sql.Tx, b Binding, most int) ([]Gisted, error) {
	return collect(ctx, tx, scanGisted, selectGisted+` WHERE server = ?2 AND student = ?3 ORDER BY at DESC, posted DESC, id DESC LIMIT ?4`,
		b.Coach, b.Server, b.Student, most)
}

// Before are the latest sessions a student hit before one, at most so many, with
// what they were found to say, the latest first.
func (db *DB) Before(ctx context.Context, s SessionInfo, most int) (all []Gisted, err error) {
	err = db.query(ctx, "listing what was found before", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanGisted, selectGisted+` WHERE server = ?2 AND student = ?3 AND at < ?4 ORDER BY at DESC, posted DESC, id DESC LIMIT ?5`,
			"", s.Server, s.Student, millis(s.At), most) // nobody's coach asks
		return err
	})
	return all, err
}

// ToLookAt are the posts of a student their coach has not looked at, the oldest
// first, at most so many.
func (db *DB) ToLookAt(ctx context.Context, b Binding, most int) (all []Gisted, err error) {
	err = db.query(ctx, "listing unread posts", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanGisted, selectGisted+` WHERE id IN (
			SELECT session FROM unread u WHERE u.server = ?2 AND u.student = ?3 AND `+ofCoach+`?1 ORDER BY posted, session LIMIT ?4)
			ORDER BY posted, id`, b.Coach, b.Server, b.Student, most)
		return err
	})
	return all, err
}

// Shown are those of some sessions whose students agreed to a coach and have
// not taken it back, in the order they are named in.
func (db *DB) Shown(ctx context.Context, server, coach string, sessions []string) (all []Gisted, err error) {
	err = db.query(ctx, "finding posts of a coach's students", func(tx *sql.Tx) error {
		all = nil
		for _, id := range sessions {
			one, err := optional(scanGisted(tx.QueryRowContext(ctx, selectGisted+` WHERE server = ?2 AND id = ?3 AND EXISTS (
				SELECT 1 FROM bindings b WHERE b.server = ?2 AND b.student = sessions.student AND b.coach = ?1 AND b.given IS NOT NULL AND b.ended IS NULL)`, coach, server, id)))
			if err != nil {
				return err
			}
			if one != nil {
				all = append(all, *one)
			}
		}
		return nil
	})
	return all, err
}

// KeepGist keeps what a session that is stale was found to say.
func (db *DB) KeepGist(ctx context.Context, session string, g *analysis.Gist) error {
	return db.update(ctx, "keeping what was found", func(tx *sql.Tx) error {
		_, err := tx.ExecContext(ctx, `UPDATE sessions SET gist = ? WHERE id = ? AND gist IS NULL`, encodeGist(g), session)
		return err
	})
}

const selectGisted = `SELECT ` + infoColumns + `, gist, EXISTS (SELECT 1 FROM unread u WHERE
		u.server = sessions.server AND u.student = sessions.student AND u.posted = sessions.posted AND u.session = sessions.id AND ` + ofCoach + `?1),
	EXISTS (SELECT 1 FROM placed p WHERE p.session = sessions.id AND p.reading <> '` + Elsewhere + `') FROM sessions`

func scanGisted(row scanner) (g Gisted, err error) {
	var gist sql.NullString
	var planned bool
	if g.SessionInfo, err = scanInfoAnd(row, &gist, &g.Unread, &planned); err != nil {
		return g, err
	}
	g.Stale = !gist.Valid
	if g.Gist, err = parseGist(gist.String); planned && g.Gist != nil {
		g.Gist.Trial = nil
	}
	return g, err
}
