package store

import (
	"context"
	"database/sql"
	"time"
)

// A Season is a list of a club's challenges, added up.
type Season struct {
	ID, Server       string
	Name, Club       string // Club is what the club calls itself; both untrusted text
	Channel, Message string // where its table stands; Message is "" until posted
	Winners          string // the message that says who won, "" until posted
	Made             time.Time
	First, Last      time.Time // days on the clubhouse's clock, each as its midnight in UTC
	Closed           time.Time // zero while it runs
	Terms            []byte    // the caller's own encoding, never read here

	Revision, Shown int       // what changed, and what of it the message shows
	Drawn           time.Time // when the message was written last
}

// LastDay is the last whole day of a season, and its first of one that was ended on
// that.
func (s Season) LastDay() time.Time {
	if s.Last.Before(s.First) {
		return s.First
	}
	return s.Last
}

// A Handicap is what a host entered for a member, and whether they were a
// junior when the season ended.
type Handicap struct {
	Season, Server, Student string
	Handicap                *float64 // strokes, below nought better than scratch; nil was never entered
	Band                    int      // of the season's classes that is in; NoBand for none
	Junior                  bool
}

// NoBand is the band of somebody who is in none.
const NoBand = -1

// A FormerMember is who entered without a name now: the same Who of a season is
// the same one. It leads to nobody.
type FormerMember struct {
	Who    string
	Band   int
	Junior bool
}

// OpenSeason keeps a new season. The handicaps of the one before go with it; band
// says in which of the new one's each is.
func (db *DB) OpenSeason(ctx context.Context, s Season, band func(handicap *float64) int) (Season, error) {
	s.ID, s.Made, s.Closed = db.newID(), db.stamp(), time.Time{}
	s.Message, s.Winners, s.Revision, s.Shown, s.Drawn = "", "", 1, 0, time.Time{}
	return s, db.update(ctx, "opening a season", func(tx *sql.Tx) error {
		before, err := collect(ctx, tx, scanHandicap, selectHandicap+`
			WHERE handicap IS NOT NULL AND season = (SELECT id FROM seasons WHERE server = ? ORDER BY made DESC, id DESC LIMIT 1)`, s.Server)
		if err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO seasons (id, server, name, club, channel, message, winners, made, first, last, terms, revision, shown)
			VALUES (?, ?, ?, ?, ?, '', '', ?, ?, ?, ?, 1, 0)`,
			s.ID, s.Server, s.Name, s.Club, s.Channel, millis(s.Made), dayText(s.First), dayText(s.Last), nonNil(s.Terms)); err != nil {
			return err
		}
		for _, h := range before {
			h.Season, h.Band = s.ID, band(h.Handicap)
			if err := setHandicap(ctx, tx, h); err != nil {
				return err
			}
		}
		return nil
	})
}

// Season finds a season by its id.
func (db *DB) Season(ctx context.Context, server, id string) (s Season, err error) {
	err = db.query(ctx, "reading a season", func(tx *sql.Tx) error {
		s, err = findSeason(ctx, tx, server, id)
		return err
	})
	return s, err
}

// Seasons lists a server's seasons, the newest first; those that run only if
// asked.
func (db *DB) Seasons(ctx context.Context, server string, running bool) (all []Season, err error) {
	err = db.query(ctx, "listing seasons", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanSeason, selectSeason+` WHERE server = ? AND (? = 0 OR closed IS NULL) ORDER BY made DESC, id DESC`, server, running)
		return err
	})
	return all, err
}

// DueSeasons lists, of every server, the seasons that run and those whose
// messages are behind.
func (db *DB) DueSeasons(ctx context.Context) (all []Season, err error) {
	err = db.query(ctx, "listing due seasons", func(tx *sql.Tx) error {
		if all, err = collect(ctx, tx, scanSeason, selectSeason+` WHERE closed IS NULL ORDER BY server, id`); err != nil {
			return err
		}
		behind, err := collect(ctx, tx, scanSeason, selectSeason+behind)
		for _, s := range behind {
			if !s.Closed.IsZero() {
				all = append(all, s)
			}
		}
		return err
	})
	return all, err
}

// EndSeason takes what is not open yet out of a season, which then ends with its
// last challenge. One that has ended is ErrExpired.
func (db *DB) EndSeason(ctx context.Context, server, id string, today time.Time) error {
	return db.update(ctx, "ending a season", func(tx *sql.Tx) error {
		s, err := runningSeason(ctx, tx, server, id)
		if err != nil {
			return err
		}
		if today.Before(s.Last) {
			s.Last = today.AddDate(0, 0, -1)
		}
		if _, err := tx.ExecContext(ctx, `DELETE FROM scheduled WHERE season = ? AND challenge IS NULL`, id); err != nil {
			return err
		}
		_, err = tx.ExecContext(ctx, `UPDATE seasons SET last = ?, revision = revision + 1 WHERE id = ?`, dayText(s.Last), id)
		return err
	})
}

// CloseSeason ends a season for good, and keeps which of its members are juniors
// now. Closed already is ErrExpired; a challenge of it that is not over is
// ErrChanged.
func (db *DB) CloseSeason(ctx context.Context, server, id string) error {
	return db.update(ctx, "closing a season", func(tx *sql.Tx) error {
		if _, err := runningSeason(ctx, tx, server, id); err != nil {
			return err
		}
		var open int
		if err := tx.QueryRowContext(ctx, `
			SELECT count(*) FROM scheduled d LEFT JOIN challenges c ON c.id = d.challenge
			WHERE d.season = ? AND d.missed = 0 AND c.closed IS NULL`, id).Scan(&open); err != nil {
			return err
		}
		if open > 0 {
			return ErrChanged
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO handicaps (season, server, student, handicap, band, junior)
			SELECT DISTINCT d.season, e.server, e.player, CAST(NULL AS REAL), -1, 1
			FROM scheduled d JOIN entries e ON e.challenge = d.challenge
				JOIN students s ON s.server = e.server AND s.student = e.player
			WHERE d.season = ? AND s.junior = 1
			ON CONFLICT (season, student) DO UPDATE SET junior = 1`, id); err != nil {
			return err
		}
		_, err := tx.ExecContext(ctx, `UPDATE seasons SET closed = ?, revision = revision + 1 WHERE id = ?`, millis(db.now()), id)
		return err
	})
}

// SeasonShown writes down that the messages of a season, those that s names,
// show it as of s's revision.
func (db *DB) SeasonShown(ctx context.Context, s Season) error {
	return db.update(ctx, "keeping that a table was shown", func(tx *sql.Tx) error {
		return changed(tx.ExecContext(ctx, `UPDATE seasons SET channel = ?, message = ?, winners = ?, shown = ?, drawn = ? WHERE id = ?`,
			s.Channel, s.Message, s.Winners, s.Revision, millis(db.now()), s.ID))
	})
}

// SetHandicaps keeps handicaps for a season that runs; nil takes one back.
func (db *DB) SetHandicaps(ctx context.Context, server, season string, all []Handicap) error {
	return db.update(ctx, "keeping handicaps", func(tx *sql.Tx) error {
		if _, err := runningSeason(ctx, tx, server, season); err != nil {
			return err
		}
		for _, h := range all {
			if err := db.ensureStudent(ctx, tx, server, h.Student); err != nil {
				return err
			}
			h.Season, h.Server = season, server
			if err := setHandicap(ctx, tx, h); err != nil {
				return err
			}
		}
		return reviseSeason(ctx, tx, season)
	})
}

func setHandicap(ctx context.Context, tx *sql.Tx, h Handicap) error {
	_, err := tx.ExecContext(ctx, `
		INSERT INTO handicaps (season, server, student, handicap, band, junior) VALUES (?, ?, ?, ?, ?, 0)
		ON CONFLICT (season, student) DO UPDATE SET handicap = excluded.handicap, band = excluded.band`, h.Season, h.Server, h.Student, h.Handicap, h.Band)
	return err
}

// Handicaps lists those of a season.
func (db *DB) Handicaps(ctx context.Context, season string) (all []Handicap, err error) {
	err = db.query(ctx, "listing handicaps", func(tx *sql.Tx) error {
		all, err = collect(ctx, tx, scanHandicap, selectHandicap+` WHERE season = ? ORDER BY student`, season)
		return err
	})
	return all, err
}

// FormerMembers says of entries of a season without a name whose they are.
func (db *DB) FormerMembers(ctx context.Context, season string) (by map[string]FormerMember, err error) {
	err = db.query(ctx, "listing former members", func(tx *sql.Tx) error {
		by = map[string]FormerMember{}
		_, err := collect(ctx, tx, func(row scanner) (entry string, err error) {
			var f FormerMember
			err = row.Scan(&entry, &f.Who, &f.Band, &f.Junior)
			by[entry] = f
			return entry, err
		}, `SELECT entry, who, band, junior FROM former WHERE season = ?`, season)
		return err
	})
	return by, err
}

// nameless keeps that an entry whose name goes belongs with the others of its
// player in its season; drawn holds what each season's were given so far.
func (db *DB) nameless(ctx context.Context, tx *sql.Tx, e Entry, drawn map[string]string) error {
	seasons, err := collect(ctx, tx, scanText, `SELECT season FROM scheduled WHERE challenge = ?`, e.Challenge)
	if err != nil {
		return err
	}
	for _, season := range seasons {
		if drawn[season] == "" {
			drawn[season] = db.newID()
		}
		if _, err := tx.ExecContext(ctx, `
			INSERT INTO former (entry, season, who, band, junior)
			SELECT ?1, n.id, ?2, coalesce(h.band, -1), CASE WHEN h.junior = 1 OR n.closed IS NULL AND s.junior = 1 THEN 1 ELSE 0 END
			FROM seasons n
				LEFT JOIN students s ON s.server = n.server AND s.student = ?3
				LEFT JOIN handicaps h ON h.season = n.id AND h.student = ?3
			WHERE n.id = ?4`, e.ID, drawn[season], e.Player, season); err != nil {
			return err
		}
	}
	return nil
}

const selectSeason = `
	SELECT id, server, name, club, channel, message, winners, made, first, last, closed, terms, revision, shown, drawn FROM seasons`

func findSeason(ctx context.Context, tx *sql.Tx, server, id string) (Season, error) {
	return scanSeason(tx.QueryRowContext(ctx, selectSeason+` WHERE server = ? AND id = ?`, server, id))
}

// runningSeason is a season that has not ended; one that has is ErrExpired.
func runningSeason(ctx context.Context, tx *sql.Tx, server, id string) (Season, error) {
	s, err := findSeason(ctx, tx, server, id)
	if err == nil && !s.Closed.IsZero() {
		err = ErrExpired
	}
	return s, err
}

func reviseSeason(ctx context.Context, tx *sql.Tx, season string) error {
	_, err := tx.ExecContext(ctx, `UPDATE seasons SET revision = revision + 1 WHERE id = ?`, season)
	return err
}

func scanSeason(row scanner) (s Season, err error) {
	var made, closed, drawn sql.NullInt64
	var first, last string
	if err = row.Scan(&s.ID, &s.Server, &s.Name, &s.Club, &s.Channel, &s.Message, &s.Winners, &made, &first, &last,
		&closed, &s.Terms, &s.Revision, &s.Shown, &drawn); err != nil {
		return s, err
	}
	s.Made, s.Closed, s.Drawn = timeOf(made), timeOf(closed), timeOf(drawn)
	if s.First, err = time.Parse(time.DateOnly, first); err != nil {
		return s, err
	}
	s.Last, err = time.Parse(time.DateOnly, last)
	return s, err
}

const selectHandicap = `SELECT season, server, student, handicap, band, junior FROM handicaps`

func scanHandicap(row scanner) (h Handicap, err error) {
	err = row.Scan(&h.Season, &h.Server, &h.Student, &h.Handicap, &h.Band, &h.Junior)
	return h, err
}

// dayText is a day as it is kept, which sorts as days do.
func dayText(day time.Time) string { return day.Format(time.DateOnly) }
