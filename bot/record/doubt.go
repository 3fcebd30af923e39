package record

import (
	"context"
	"errors"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/integrity"
	"rangepost/store"
)

// Pasted is the name of a session that came without a file.
const Pasted = "pasted rows"

// ahead is how far a file's clock may be ahead of its posting: any clock on
// earth, and an hour set wrongly.
const ahead = 27 * time.Hour

// alwaysDated is of how many sessions somebody's files say when they were hit
// before one that does not is odd.
const alwaysDated = 3

// doubts are what the files of an entry themselves tell, as far as a host is to
// look at it before it counts.
func (rs *Records) doubts(ctx context.Context, e Entered, player string) (why []analysis.Warning, err error) {
	for _, s := range e.Sessions {
		written, err := rs.written(ctx, s)
		if err != nil {
			return nil, err
		}
		why = append(why, integrity.Doubtful(integrity.Of(written, s.Reading.Session), s.Reading.Session)...)
		for _, at := range written.Times {
			if at.After(s.Posted.Add(ahead)) {
				why = append(why, analysis.Warning{Code: challenge.DatedAhead})
				break
			}
		}
		if s.Name == Pasted {
			why = append(why, analysis.Warning{Code: challenge.TypedIn})
		}
		if s.Dated == analysis.Undated {
			infos, err := rs.db.Sessions(ctx, s.Server, player, store.SessionFilter{})
			if err != nil {
				return nil, err
			}
			dated := 0
			for _, info := range infos {
				switch {
				case info.ID == s.ID:
				case info.Dated == analysis.Undated:
					dated = -len(infos) // their files never say
				default:
					dated++
				}
			}
			if dated >= alwaysDated {
				why = append(why, analysis.Warning{Code: challenge.Undated})
			}
		}
	}
	return why, nil
}

// Accept lets an entry count that waits. Its error is store.ErrNotFound if it
// does not, store.ErrExpired once the challenge is closed.
func (rs *Records) Accept(ctx context.Context, server, entry, host string) error {
	return rs.db.AcceptEntry(ctx, server, entry, host)
}

// announcedAgain is how old an announcement is at least that is made anew: the next day
// may be some hours earlier.
const announcedAgain = 20 * time.Hour

// An Announcement is a player's session to come.
type Announcement struct {
	Club  analysis.Club
	Balls int       // it takes, those that are drawn among them
	Draw  []int     // places of the balls to be hit as half shots; none where none are drawn
	Until time.Time // it may be posted
	Again time.Time // it may be announced again; zero if it may not
	Times int       // it was announced
}

// Announce keeps that a player's next session counts, and draws what it is to hold by
// a seed. A player whose announced session came to nothing may announce another the
// next day; if it is entered a host looks, since the first may have been hit and kept
// back.
func (rs *Records) Announce(ctx context.Context, c store.Challenge, player string, seed uint64) (a Announcement, err error) {
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return a, err
	}
	if !terms.Announced {
		return a, analysis.Refuse("Post one, then enter it.", "In this challenge the first session since the opening counts, announced or not.")
	}
	var again time.Duration
	if terms.Drawn {
		again = announcedAgain
	}
	kept, err := rs.db.Announce(ctx, c.Server, c.ID, player, seed, again)
	switch {
	case errors.Is(err, store.ErrExpired):
		return a, Over(c)
	case errors.Is(err, store.ErrTaken):
		return a, rs.twice(ctx, c, player)
	case err != nil:
		return a, err
	}
	a = Announcement{Club: terms.Club, Balls: terms.Balls, Until: kept.At.Add(terms.PostedWithin()), Times: kept.Times}
	if terms.Drawn {
		a.Draw, a.Balls, a.Again = terms.Draw(kept.Seed), terms.Balls+challenge.HalfShots, kept.At.Add(announcedAgain)
	}
	return a, nil
}

// announced is a player's announcement, and the terms as they are for them.
func (rs *Records) announced(ctx context.Context, c store.Challenge, terms challenge.Terms, player string) (a store.Announcement, its challenge.Terms, err error) {
	if !terms.Announced {
		return a, terms, nil
	}
	if a, err = rs.db.Announced(ctx, c.ID, player); err != nil {
		return a, terms, err
	}
	if terms.Drawn && !a.At.IsZero() {
		terms = terms.For(terms.Draw(a.Seed))
	}
	return a, terms, nil
}
