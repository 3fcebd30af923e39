package store

import (
	"context"
	"database/sql"

	"rangepost/analysis"
)

// A Pool is what one tool of setup does with one club to the students of a coach,
// all together, and what that rests on. Its figures are frozen: what is told of
// them is told of the Students it was made from and of nobody else.
type Pool struct {
	ID            string
	Server, Coach string
	Club          analysis.Club
	Tool          analysis.Tool
	Students      int                 // it was made from, whoever is left of them
	Sessions      map[string][]string // that it rests on and that are left, by student
	Figures       []analysis.Pooled

	// Without are the figures that leave one of the students out, by student: those
	// to go by for that very student.
	Without map[string][]analysis.Pooled
}

// A PooledTrial is what a trial of a coach's student taught.
type PooledTrial struct {
	Student, Session string
	Hand             analysis.Hand
	analysis.Observation
}

// PooledTrials lists what taught of tools in the sessions of every student whose
// consent to this coach stands and who is no junior, by student, oldest session
// first.
func (db *DB) PooledTrials(ctx context.Context, server, coach string) (all []PooledTrial, err error) {
	clubs := clubs{}
	err = db.query(ctx, "reading what students' trials taught", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (t PooledTrial, err error) {
			var hand sql.NullString
			var club, number string
			if err := row.Scan(&t.Student, &hand, &t.Session, &club, &t.Tool, &number, &t.Difference, &t.SE, &t.Balls); err != nil {
				return t, err
			}
			if hand.Valid {
				if t.Hand, err = analysis.ParseHand(hand.String); err != nil {
					return t, err
				}
			}
			if t.Number, err = taughtNumber(number); err != nil {
				return t, err
			}
			t.Club, err = clubs.parse(club)
			return t, err
		}, pooledTrials, server, coach)
		return err
	})
	return all, err
}

const pooledTrials = `
	SELECT b.student, st.hand, s.id, t.club, t.tool, t.number, t.difference, t.error, t.balls
	FROM bindings b CROSS JOIN students st CROSS JOIN sessions s CROSS JOIN taught t
	WHERE st.server = b.server AND st.student = b.student AND st.junior = 0
		AND s.server = b.server AND s.student = b.student AND t.session = s.id
		AND b.server = ? AND b.coach = ? AND b.given IS NOT NULL AND b.ended IS NULL
	ORDER BY b.student || '', s.at, s.id, t.place`

// Pools lists what was ever made of a coach's students, with what it rests on and
// without figures, the first before.
func (db *DB) Pools(ctx context.Context, server, coach string) (all []Pool, err error) {
	err = db.query(ctx, "listing pools", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (p Pool, err error) {
			var club string
			if err := row.Scan(&p.ID, &p.Server, &p.Coach, &club, &p.Tool, &p.Students); err != nil {
				return p, err
			}
			p.Sessions = map[string][]string{}
			p.Club, err = analysis.ParseClub(club)
			return p, err
		}, poolsOfCoach, server, coach)
		if err != nil {
			return err
		}
		for _, p := range all {
			left, err := collect(ctx, tx, func(row scanner) (of [2]string, err error) { return of, row.Scan(&of[0], &of[1]) },
				pooledSessions, p.ID)
			if err != nil {
				return err
			}
			for _, of := range left {
				p.Sessions[of[0]] = append(p.Sessions[of[0]], of[1])
			}
		}
		return nil
	})
	return all, err
}

const (
	poolsOfCoach   = `SELECT id, server, coach, club, tool, students FROM pools WHERE server = ? AND coach = ? ORDER BY at, id`
	pooledSessions = `SELECT s.student, s.id FROM pooled m CROSS JOIN sessions s WHERE s.id = m.session AND m.pool = ? ORDER BY m.session`
)

// KeepPool keeps figures in place of those made before, after being the id of
// those ("" for none). It is ErrTaken if others were made meanwhile.
func (db *DB) KeepPool(ctx context.Context, p Pool, after string) error {
	p.ID = db.newID()
	return db.update(ctx, "keeping a pool", func(tx *sql.Tx) error {
		last, err := optional(scanText(tx.QueryRowContext(ctx, `
			SELECT id FROM pools WHERE server = ? AND coach = ? AND club = ? AND tool = ? ORDER BY at DESC, id DESC LIMIT 1`,
			p.Server, p.Coach, p.Club.Key(), p.Tool)))
		switch {
		case err != nil:
			return err
		case last == nil && after != "", last != nil && *last != after:
			return ErrTaken
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM pool_figures WHERE pool = ?`, after); err != nil {
			return err
		}
		sessions := 0
		for _, ids := range p.Sessions {
			sessions += len(ids)
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO pools (id, server, coach, club, tool, students, sessions, at) VALUES (?, ?, ?, ?, ?, ?, ?, ?)`,
			p.ID, p.Server, p.Coach, p.Club.Key(), p.Tool, len(p.Sessions), sessions, millis(db.now())); err != nil {
			return err
		}
		for _, ids := range p.Sessions {
			for _, id := range ids {
				// One that was deleted meanwhile is missing, and the figures are not told.
				if _, err := tx.ExecContext(ctx, `INSERT INTO pooled (pool, session) SELECT ?1, id FROM sessions WHERE id = ?2`, p.ID, id); err != nil {
					return err
				}
			}
		}
		figures := map[string][]analysis.Pooled{"": p.Figures}
		for student, without := range p.Without {
			figures[student] = without
		}
		for without, f := range figures {
			for _, q := range f {
				if _, err := tx.ExecContext(ctx, `
					INSERT INTO pool_figures (pool, without, number, golfers, trials, mean, low, high, differ, within, least, most)
					VALUES (?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?, ?)`,
					p.ID, without, q.Number.Info().Key, q.Golfers, q.Trials, q.Mean, q.Low, q.High, q.Between, q.Within, q.NewLow, q.NewHigh); err != nil {
					return err
				}
			}
		}
		return nil
	})
}

// Pooled lists the figures over a coach's students that may be told at this moment:
// for everybody, or with a student's own trials left out of them. Those that rest
// on a session that is deleted or teaches nothing of the tool any more, on somebody
// whose consent to this coach is over, or on a junior, are not told at all.
func (db *DB) Pooled(ctx context.Context, server, coach, student string) (all []analysis.Pooled, err error) {
	clubs := clubs{}
	err = db.query(ctx, "reading pools", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, func(row scanner) (p analysis.Pooled, err error) {
			var club, number string
			if err := row.Scan(&club, &p.Tool, &number, &p.Golfers, &p.Trials, &p.Mean, &p.Low, &p.High, &p.Between, &p.Within, &p.NewLow, &p.NewHigh); err != nil {
				return p, err
			}
			if p.Number, err = taughtNumber(number); err != nil {
				return p, err
			}
			p.Club, err = clubs.parse(club)
			return p, err
		}, pooledFigures, server, coach, student)
		return err
	})
	return all, err
}

const pooledFigures = `
	SELECT p.club, p.tool, f.number, f.golfers, f.trials, f.mean, f.low, f.high, f.differ, f.within, f.least, f.most
	FROM pools p CROSS JOIN pool_figures f
	WHERE f.pool = p.id AND p.server = ?1 AND p.coach = ?2
		AND f.without = CASE WHEN EXISTS (
			SELECT 1 FROM pooled m CROSS JOIN sessions s WHERE s.id = m.session AND m.pool = p.id AND s.student = ?3) THEN ?3 ELSE '' END
		AND p.sessions = (
			SELECT count(*) FROM pooled m CROSS JOIN sessions s CROSS JOIN bindings b CROSS JOIN students st
			WHERE s.id = m.session
				AND b.server = s.server AND b.student = s.student AND b.coach = p.coach AND b.given IS NOT NULL AND b.ended IS NULL
				AND st.server = s.server AND st.student = s.student AND st.junior = 0
				AND m.pool = p.id AND EXISTS (SELECT 1 FROM taught t WHERE t.session = s.id AND t.club = p.club AND t.tool = p.tool))
	ORDER BY p.club, p.tool, f.number`
