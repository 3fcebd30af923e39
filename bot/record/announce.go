package record

import (
	"context"
	"errors"
	"fmt"
	"math"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/store"
)

// announcedAgain is how old an announcement is at least that is made anew: the next day
// may be some hours earlier.
const announcedAgain = 20 * time.Hour

// never is longer than a challenge lasts.
const never = 100 * 365 * 24 * time.Hour

// An Announcement is a player's session to come.
type Announcement struct {
	Club  analysis.Club
	Balls int       // it takes, those that are drawn among them
	Draw  []int     // places of the balls to be hit as half shots; none where none are drawn
	Until time.Time // it may be posted
	Again time.Time // it may be announced again; zero if it may not
	Times int       // it was announced
}

// announcementOf is one of a challenge as it was kept.
func announcementOf(terms challenge.Terms, kept store.Announcement) Announcement {
	a := Announcement{Club: terms.Club, Balls: terms.Balls, Until: kept.At.Add(terms.PostedWithin()), Times: kept.Times}
	if terms.Drawn {
		a.Draw, a.Balls = terms.Draw(kept.Seed), terms.Balls+challenge.HalfShots
		if kept.Times < challenge.MostAnnounced {
			a.Again = kept.At.Add(announcedAgain)
		}
	}
	return a
}

// holds is nil, or refuses a session with half shots that plainly was not hit and
// posted as it was announced, and says how to go on: there is nothing for a host to
// decide.
func (a Announcement) holds(terms challenge.Terms, stretch challenge.Stretch, posted time.Time, zone *time.Location) error {
	next := "It stays a post like any other. A session may be announced twice, and this was the second."
	if !a.Again.IsZero() {
		next = fmt.Sprintf("Nothing is lost: it stays a post like any other, and \"My next session counts\" works again from %s on, for other balls.", minute(a.Again, zone))
	}
	switch {
	case stretch.Full == 0 && stretch.Many():
		return analysis.Refuse(next, "The file has %d half shots besides the two that were drawn, so it does not show that it was hit after they were.", stretch.HalfShots)
	case stretch.Plain():
		return analysis.Refuse(next, "Ball %d and ball %d were to be half shots, and in the file %s.", a.Draw[0], a.Draw[1],
			map[bool]string{false: "one of them is a full one", true: "both are full ones"}[stretch.Full == challenge.HalfShots])
	case posted.After(a.Until.Add(terms.Grace())):
		return analysis.Refuse(next, "That session was to be posted by %s, and came on %s.", minute(a.Until, zone), minute(posted, zone))
	}
	return nil
}

func minute(t time.Time, zone *time.Location) string {
	return t.In(zone).Format("Monday 2 January 2006, 15:04 MST")
}

// Announce keeps that a player's next session counts, and draws what it is to hold by
// a seed. A player whose announced session came to nothing may announce one more the
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
	again, most := never, math.MaxInt32
	if terms.Drawn {
		again, most = announcedAgain, challenge.MostAnnounced
	}
	kept, err := rs.db.Announce(ctx, c.Server, c.ID, player, seed, again, most)
	switch {
	case errors.Is(err, store.ErrExpired):
		return a, Over(c)
	case errors.Is(err, store.ErrSpent):
		return a, analysis.Refuse("Ask a host what they think.", "You announced sessions for %s and took them back, as often as they may be announced.", c.Name)
	case errors.Is(err, store.ErrTaken):
		return a, rs.twice(ctx, c, player)
	case err != nil:
		return a, err
	}
	return announcementOf(terms, kept), nil
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
