package record

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/store"
)

// Enter enters a player's first session that counts; want is the one they
// mean, "" for whichever it is.
func (rs *Records) Enter(ctx context.Context, c store.Challenge, player, want string) (s store.Session, stretch challenge.Stretch, err error) {
	if c.Over(rs.now()) {
		return s, stretch, Over(c)
	}
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return s, stretch, err
	}
	if s, stretch, err = rs.counting(ctx, c, terms, player, want); err != nil {
		return s, stretch, err
	}
	var past challenge.Past
	if terms.Rule == challenge.Progress {
		if past, err = rs.past(ctx, c, terms, player); err != nil {
			return s, stretch, err
		}
	}
	entry := store.Entry{Challenge: c.ID, Server: c.Server, Player: player, Session: s.ID, SHA256: s.SHA256}
	if entry.Stretch, err = json.Marshal(stretch); err != nil {
		return s, stretch, err
	}
	if entry.Past, err = json.Marshal(past); err != nil {
		return s, stretch, err
	}
	_, err = rs.db.Enter(ctx, entry, func(others []store.Entry) error {
		for _, o := range others {
			other, err := decodeEntry(o)
			if err != nil {
				return err
			}
			if challenge.Same(stretch, other.stretch) {
				return analysis.Refuse("Enter balls of your own.", "These balls are in the challenge already, from another file.")
			}
		}
		return nil
	})
	switch {
	case errors.Is(err, store.ErrTaken):
		err = rs.twice(ctx, c, player)
	case errors.Is(err, store.ErrExpired):
		err = Over(c)
	}
	return s, stretch, err
}

// Over refuses what a challenge that is over does not take any more.
func Over(c store.Challenge) error {
	return analysis.Refuse("`/challenge standings` shows how it ended.", "%s is over.", c.Name)
}

// twice refuses a second entry: a player has one, and a file counts once.
func (rs *Records) twice(ctx context.Context, c store.Challenge, player string) error {
	standings, err := rs.Standings(ctx, c)
	if err != nil {
		return err
	}
	if _, in := standings.Of(player); !in {
		return analysis.Refuse("Enter balls of your own.", "That file is in the challenge already.")
	}
	return analysis.Refuse("`/challenge standings` shows your place.", "You are in, and one entry is all: the best of several would be luck.")
}

// counting is the session of a player that counts: the first posted since the
// opening, and hit since then as far as known, that can be scored. What might
// come first and is not settled yet has to be settled first, or whoever leaves
// a bad session unsettled would enter a better one.
func (rs *Records) counting(ctx context.Context, c store.Challenge, terms challenge.Terms, player, want string) (s store.Session, stretch challenge.Stretch, err error) {
	infos, err := rs.db.Sessions(ctx, c.Server, player, store.SessionFilter{PostedSince: c.Opened})
	if err != nil {
		return s, stretch, err
	}
	slices.SortStableFunc(infos, func(x, y store.SessionInfo) int { return x.Posted.Compare(y.Posted) })
	zone, err := rs.Zone(ctx, c.Server, player)
	if err != nil {
		return s, stretch, err
	}
	var why error
	for _, info := range infos {
		if info.HitBy().Before(c.Opened) {
			if info.ID == want {
				return s, stretch, analysis.Refuse("Enter one hit since then.", "That session was hit before the challenge opened.")
			}
			continue
		}
		if s, err = rs.db.SessionWithBalls(ctx, c.Server, info.ID); err != nil {
			return s, stretch, err
		}
		if len(s.Reading.Questions) > 0 {
			return s, stretch, analysis.Refuse("Answer it with `/post` of the same file, then enter.", "Your session of %s has an open question about its file, so it cannot be scored yet.", day(s.At.In(zone)))
		}
		taken, err := terms.Take(s.As(terms.Club))
		if err == nil {
			if want != "" && want != s.ID {
				return s, stretch, analysis.Refuse("Leave the option `session` out.", "The first session with the balls is the one that counts, and yours is that of %s. Choosing the best of several would be luck.", day(s.At.In(zone)))
			}
			return s, taken, nil
		}
		if unsaid(terms, s.As(terms.Club)) {
			return s, stretch, analysis.Refuse("Say it with `/challenge enter`, options `session` and `ball`.", "I do not know what kind of balls your session of %s was hit with, and it may be the one that counts.", day(s.At.In(zone)))
		}
		why = err // the latest is the one they will mean
		if info.ID == want {
			return s, stretch, why
		}
	}
	switch {
	case want != "":
		return s, stretch, analysis.Refuse("Enter one posted since.", "That session is none of yours since the challenge opened.")
	case why != nil:
		return s, stretch, why
	}
	return s, stretch, analysis.Refuse("Post one with `/post`, or hand the file over with `/challenge enter`.", "You have posted no session since %s opened.", c.Name)
}

func day(t time.Time) string { return t.Format("2 January 2006") }

// unsaid reports whether a session could count but for its kind of ball, which
// nobody said.
func unsaid(t challenge.Terms, s analysis.Session) bool {
	if !t.OfTheBall() || s.Ball == analysis.NewBall || s.Ball == analysis.RangeBall {
		return false
	}
	s.Ball = t.Ball
	_, err := t.Take(s)
	return err == nil
}

// past is a player's window before the opening.
func (rs *Records) past(ctx context.Context, c store.Challenge, terms challenge.Terms, player string) (challenge.Past, error) {
	infos, err := rs.db.Sessions(ctx, c.Server, player, store.SessionFilter{})
	if err != nil {
		return challenge.Past{}, err
	}
	var sessions []analysis.Session
	for _, info := range infos {
		if !info.Posted.Before(c.Opened) || info.Open > 0 {
			continue
		}
		s, err := rs.db.SessionWithBalls(ctx, c.Server, info.ID)
		if err != nil {
			return challenge.Past{}, err
		}
		sessions = append(sessions, s.As(terms.Club))
		if p, err := terms.PastOf(sessions); err == nil {
			return p, nil
		}
	}
	return terms.PastOf(sessions)
}
