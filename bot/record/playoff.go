package record

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/store"
)

// playOffLasts is how long a play-off is open.
const playOffLasts = 7 * 24 * time.Hour

// PlayOff opens the play-off of a closed challenge whose first place is shared:
// the same terms over twice the balls, among those who share it.
func (rs *Records) PlayOff(ctx context.Context, c store.Challenge) (Standings, error) {
	s, err := rs.Standings(ctx, c)
	if err != nil {
		return s, err
	}
	switch {
	case c.Closed.IsZero():
		return s, analysis.Refuse("Close it first, or wait for its end.", "%s is still open.", c.Name)
	case len(s.Won) < 2:
		return s, analysis.Refuse("`/challenge open` opens another challenge.", "Nobody shares the first place of %s, so there is nothing to play off.", c.Name)
	}
	terms := s.Terms
	terms.Balls = min(2*terms.Balls, challenge.MostBalls)
	terms.Minutes = min(2*terms.Minutes, challenge.MostMinutes)
	terms.Fewest = 2
	off, err := rs.OpenChallenge(ctx, store.Challenge{
		Server: c.Server, Name: fmt.Sprintf("%s, play-off", c.Name), Channel: c.Channel, Until: rs.now().Add(playOffLasts), After: c.ID,
	}, terms)
	if errors.Is(err, store.ErrTaken) {
		return s, analysis.Refuse("It has standings of its own.", "The play-off of %s is open already, or was.", c.Name)
	}
	return off, err
}

// mayPlayOff refuses whoever does not share the first place that is played off.
func (rs *Records) mayPlayOff(ctx context.Context, c store.Challenge, player string) error {
	if c.After == "" {
		return nil
	}
	first, err := rs.db.Challenge(ctx, c.Server, c.After)
	if err != nil {
		return err
	}
	s, err := rs.Standings(ctx, first)
	if err != nil {
		return err
	}
	if slices.ContainsFunc(s.Won, func(r challenge.Standing) bool { return s.Players[r.Entry].ID == player }) {
		return nil
	}
	return analysis.Refuse("The next challenge is open to everybody.", "This play-off is among those who share the first place of %s.", first.Name)
}
