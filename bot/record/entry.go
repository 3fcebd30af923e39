package record

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/bot/report"
	"rangepost/store"
)

// An Entered is what came of entering.
type Entered struct {
	Sessions []store.Session // whose balls count, in the order they were posted
	Stretch  challenge.Stretch
	Past     challenge.Past     // of progress
	Why      []analysis.Warning // that a host is to look at it first; none if it counts
}

// Enter enters the first balls of a player that count; want is a session they
// mean, "" for whichever it is.
func (rs *Records) Enter(ctx context.Context, c store.Challenge, player, want string) (e Entered, err error) {
	if c.Over(rs.now()) {
		return e, Over(c)
	}
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return e, err
	}
	if err := rs.mayPlayOff(ctx, c, player); err != nil {
		return e, err
	}
	before, err := rs.before(ctx, c, terms, player)
	if err != nil {
		return e, err
	}
	if e, err = rs.counting(ctx, c, terms, player, want, terms.OwnFloor(before)); err != nil {
		return e, err
	}
	if terms.Rule == challenge.Progress {
		if e.Past, err = terms.PastOf(before); err != nil {
			return e, err
		}
	}
	doubts, err := rs.doubts(ctx, e, player)
	if err != nil {
		return e, err
	}
	e.Why = append(e.Why, doubts...)
	last := e.Sessions[len(e.Sessions)-1]
	entry := store.Entry{Challenge: c.ID, Server: c.Server, Player: player, Session: last.ID, SHA256: last.SHA256}
	for _, s := range e.Sessions {
		entry.Sessions = append(entry.Sessions, s.ID)
	}
	if entry.Stretch, err = json.Marshal(e.Stretch); err != nil {
		return e, err
	}
	if entry.Past, err = json.Marshal(e.Past); err != nil {
		return e, err
	}
	doubtful := e.Why
	_, err = rs.db.Enter(ctx, entry, func(others []store.Entry, left bool) ([]byte, error) {
		why, err := besideOthers(e.Stretch, others, left)
		if err != nil {
			return nil, err
		}
		if e.Why = append(slices.Clip(doubtful), why...); len(e.Why) == 0 {
			return nil, nil
		}
		return json.Marshal(e.Why)
	})
	switch {
	case errors.Is(err, store.ErrTaken):
		err = rs.twice(ctx, c, player)
	case errors.Is(err, store.ErrExpired):
		err = Over(c)
	}
	return e, err
}

// besideOthers is what a host is to look at for the other entries' sake.
func besideOthers(stretch challenge.Stretch, others []store.Entry, left bool) (why []analysis.Warning, err error) {
	for _, o := range others {
		other, err := decodeEntry(o)
		if err != nil {
			return nil, err
		}
		if challenge.Alike(stretch, other.stretch) < challenge.CopiedAt {
			why = append(why, analysis.Warning{Code: challenge.LikeAnothers})
			break
		}
	}
	if left {
		why = append(why, analysis.Warning{Code: challenge.LeftBefore})
	}
	return why, nil
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
	if look, out := standings.LookOf(player); out {
		if look.Out != "" {
			return analysis.Refuse("Ask them if you think it should count.", "A host took your entry out: %s", look.Out)
		}
		return analysis.Refuse("It shows once they accept it.", "You are in, and your entry waits for a host to look at it.")
	}
	if _, in := standings.Of(player); !in {
		return analysis.Refuse("Enter balls of your own.", "That file is in the challenge already.")
	}
	return analysis.Refuse("`/challenge standings` shows your place.", "You are in, and one entry is all: the best of several would be luck.")
}

// A BallUnsaid is a session that may count, but for its kind of ball, which
// nobody said.
type BallUnsaid struct {
	Session store.Session
	error   // the refusal
}

// Unwrap is the refusal.
func (b BallUnsaid) Unwrap() error { return b.error }

// counting are the sessions of a player that count: those posted since the
// opening, or since they announced it, and hit since then as far as known, from
// the first that can be scored until there are balls enough. What might come
// first and is not settled yet has to be settled first, or whoever leaves a bad
// session unsettled would enter a better one.
func (rs *Records) counting(ctx context.Context, c store.Challenge, terms challenge.Terms, player, want string, least float64) (e Entered, err error) {
	since := c.Opened
	announced, terms, err := rs.announced(ctx, c, terms, player)
	if err != nil {
		return e, err
	}
	if terms.Announced {
		if since = announced.At; since.IsZero() {
			return e, analysis.Refuse("Press \"My next session counts\" under its standings before you go and hit it.", "In this challenge a session counts that was announced before it was hit.")
		}
	}
	infos, err := rs.db.Sessions(ctx, c.Server, player, store.SessionFilter{PostedSince: since})
	if err != nil {
		return e, err
	}
	slices.SortStableFunc(infos, func(x, y store.SessionInfo) int { return x.Posted.Compare(y.Posted) })
	zone, err := rs.Zone(ctx, c.Server, player)
	if err != nil {
		return e, err
	}
	var why, before error // why the latest does not count, and why one that was hit before
	var all []store.Session
	var sessions []analysis.Session
	for _, info := range infos {
		early := info.HitBy().Before(since)
		if early && !terms.Drawn {
			before = hitBefore(terms, info, zone)
			if info.ID == want {
				return e, before
			}
			continue
		}
		s, err := rs.db.SessionWithBalls(ctx, c.Server, info.ID)
		if err != nil {
			return e, err
		}
		if len(s.Reading.Questions) > 0 {
			return e, analysis.Refuse("Answer it where it was posted, or post the same file again, then enter.", "Your session of %s has an open question about its file, so it cannot be scored yet.", day(s.At.In(zone)))
		}
		if unsaid(terms, least, asEntered(terms, s)) {
			return e, BallUnsaid{s, analysis.Refuse("Say it with `/challenge enter`, options `session` and `ball`.", "I do not know what kind of balls your session of %s was hit with, and it may be the one that counts.", day(s.At.In(zone)))}
		}
		if early && !shows(terms, least, asEntered(terms, s)) {
			before = hitBefore(terms, info, zone)
			if info.ID == want {
				return e, before
			}
			continue
		}
		all, sessions = append(all, s), append(sessions, asEntered(terms, s))
		stretch, err := terms.Take(least, sessions...)
		if err == nil {
			if terms.Drawn {
				if err := announcementOf(terms, announced).holds(terms, stretch, info.Posted, zone); err != nil {
					return e, err
				}
			}
			e, err := taken(terms, all, sessions, stretch, want, zone)
			if err != nil {
				return e, err
			}
			if terms.Announced && info.Posted.After(since.Add(terms.PostedWithin())) {
				e.Why = append(e.Why, analysis.Warning{Code: challenge.PostedLate})
			}
			if terms.Drawn && announced.Times > 1 {
				e.Why = append(e.Why, analysis.Warning{Code: challenge.AnnouncedAgain})
			}
			return e, nil
		}
		why = err // the latest is the one they will mean
		if info.ID == want {
			return e, why
		}
	}
	switch {
	case want != "":
		return e, analysis.Refuse("Enter one posted since.", "That session is none of yours since %s.", map[bool]string{false: "the challenge opened", true: "you announced it"}[terms.Announced])
	case why != nil:
		return e, why
	case before != nil:
		return e, before
	}
	return e, analysis.Refuse("Post one with `/post`, or hand the file over with `/challenge enter`.", "You have posted no session since %s opened.", c.Name)
}

// hitBefore refuses a session that was hit before it could count.
func hitBefore(terms challenge.Terms, info store.SessionInfo, zone *time.Location) error {
	return analysis.Refuse("Enter one hit since then.", "Your session of %s was hit before %s.", day(info.At.In(zone)), map[bool]string{false: "the challenge opened", true: "you announced yours"}[terms.Announced])
}

// shows reports whether a session shows the half shots that were drawn, so that it was
// hit since they were, whatever its clock says.
func shows(terms challenge.Terms, least float64, s analysis.Session) bool {
	stretch, err := terms.Take(least, s)
	return err == nil && stretch.Shown == stretch.Drawn
}

// taken keeps of the sessions those whose balls count.
func taken(terms challenge.Terms, all []store.Session, sessions []analysis.Session, stretch challenge.Stretch, want string, zone *time.Location) (e Entered, err error) {
	bare, least := stretch.Bare, stretch.Least
	var its []analysis.Session
	for i, s := range all {
		if slices.ContainsFunc(stretch.Balls, func(b challenge.Ball) bool { return b.Session == i }) {
			e.Sessions, its = append(e.Sessions, s), append(its, sessions[i])
		}
	}
	if want != "" && !slices.ContainsFunc(e.Sessions, func(s store.Session) bool { return s.ID == want }) {
		return e, analysis.Refuse("Press *Enter my session* to enter with that.", "The first session with the balls is the one that counts, and yours is that of %s, posted before. Choosing the best of several would be luck.", e.Sessions[0].At.In(zone).Format("2 January 2006, 15:04"))
	}
	if e.Stretch, err = terms.Take(least, its...); err != nil {
		return e, err
	}
	e.Stretch.Bare = bare
	e.Why = e.Stretch.Doubts()
	return e, nil
}

// asEntered is a session as a challenge takes it: with its clubs as they were
// posted, and the kind of ball that was said first; whoever announced it said so
// then.
func asEntered(terms challenge.Terms, s store.Session) analysis.Session {
	session := s.As(terms.Club)
	switch {
	case terms.Announced:
		session.Ball = terms.Ball
	case s.FirstBall != "":
		session.Ball = s.FirstBall
	}
	if terms.Rule == challenge.OnRequest {
		session = report.OnRequest(session, terms.Club, terms.Shots)
	}
	return session
}

func day(t time.Time) string { return t.Format("2 January 2006") }

// unsaid reports whether balls of a session could count but for their kind,
// which nobody said.
func unsaid(t challenge.Terms, least float64, s analysis.Session) bool {
	if !t.OfTheBall() || s.Ball == analysis.NewBall || s.Ball == analysis.RangeBall {
		return false
	}
	s.Ball = t.Ball
	taken, _ := t.Take(least, s)
	return len(taken.Balls) > 0
}

// before are a player's sessions posted before the opening, the newest first,
// as many as their past and their own floor take.
func (rs *Records) before(ctx context.Context, c store.Challenge, terms challenge.Terms, player string) (sessions []analysis.Session, err error) {
	if !terms.Dispersion() {
		return nil, nil
	}
	infos, err := rs.db.Sessions(ctx, c.Server, player, store.SessionFilter{})
	if err != nil {
		return nil, err
	}
	balls := 0
	for _, info := range infos {
		if !info.Posted.Before(c.Opened) || info.Open > 0 {
			continue
		}
		s, err := rs.db.SessionWithBalls(ctx, c.Server, info.ID)
		if err != nil {
			return nil, err
		}
		past := terms
		past.Announced = false
		session := asEntered(past, s)
		sessions = append(sessions, session)
		if balls += terms.Known(session); balls >= 2*challenge.Window {
			break
		}
	}
	return sessions, nil
}
