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

// Standings are how a challenge stands, as everybody may see it: names and
// scores, never a ball or a delivery.
type Standings struct {
	store.Challenge
	Terms   challenge.Terms
	Units   analysis.Units // the clubhouse's
	Zone    *time.Location // likewise
	Players []Player       // by entry
	challenge.Standings

	entries []scored
}

// A Player is who stands behind an entry.
type Player struct {
	ID       string // "" once they took their data back
	Name     string // as last seen, "" if never; untrusted
	Junior   bool   // and not to be named
	Rescored bool   // their file was read again since they entered
}

// OpenChallenge checks the terms and opens a challenge.
func (rs *Records) OpenChallenge(ctx context.Context, c store.Challenge, terms challenge.Terms) (s Standings, err error) {
	if err := terms.Check(); err != nil {
		return s, err
	}
	if c.Terms, err = encodeTerms(terms); err != nil {
		return s, err
	}
	if c, err = rs.db.OpenChallenge(ctx, c); err != nil {
		return s, err
	}
	return rs.Standings(ctx, c)
}

// Standings works out how a challenge stands: by its entries' balls while it
// is open, as they were kept once it is closed.
func (rs *Records) Standings(ctx context.Context, c store.Challenge) (s Standings, err error) {
	s.Challenge = c
	if s.Terms, err = decodeTerms(c.Terms); err != nil {
		return s, err
	}
	house, err := rs.db.Clubhouse(ctx, c.Server)
	if err != nil {
		return s, err
	}
	s.Units, s.Zone = house.Units, Zone(house.TimeZone)
	kept, err := rs.db.Entries(ctx, c.ID)
	if err != nil {
		return s, err
	}
	for _, e := range kept {
		one, err := decodeEntry(e)
		if err != nil {
			return s, err
		}
		player, err := rs.player(ctx, house, e)
		if err != nil {
			return s, err
		}
		s.entries, s.Players = append(s.entries, one), append(s.Players, player)
	}
	if !c.Closed.IsZero() {
		return s, s.settled()
	}
	scores := make([]challenge.Score, len(s.entries))
	for i, e := range s.entries {
		scores[i] = s.Terms.Score(e.stretch, e.past)
	}
	s.Standings = s.Terms.Stand(scores)
	return s, nil
}

// settled reads the standings as they were at the end.
func (s *Standings) settled() error {
	for i, e := range s.entries {
		var f final
		if err := json.Unmarshal(e.Final, &f); err != nil {
			return err
		}
		s.Rows = append(s.Rows, f.standing(i))
		s.Best = f.Best
	}
	slices.SortStableFunc(s.Rows, func(a, b challenge.Standing) int { return a.Place - b.Place })
	return nil
}

func (rs *Records) player(ctx context.Context, house store.Clubhouse, e store.Entry) (Player, error) {
	p := Player{ID: e.Player, Rescored: !e.Rescored.IsZero()}
	if e.Player == "" {
		return p, nil
	}
	s, err := rs.db.Student(ctx, house.Server, e.Player)
	p.Name, p.Junior = s.Name, s.Junior && house.JuniorsPrivate
	return p, err
}

// Of is the standing of a player, if they are in it.
func (s Standings) Of(player string) (challenge.Standing, bool) {
	for _, r := range s.Rows {
		if s.entries[r.Entry].Player == player {
			return r, true
		}
	}
	return challenge.Standing{}, false
}

// Rescore scores anew the entries of an open challenge whose files were read
// again. A reading that can no longer be scored leaves the entry as it was: a
// score once seen cannot be taken back by calling the balls something else.
func (rs *Records) Rescore(ctx context.Context, c store.Challenge) error {
	terms, err := decodeTerms(c.Terms)
	if err != nil {
		return err
	}
	entries, err := rs.db.Entries(ctx, c.ID)
	if err != nil {
		return err
	}
	for _, e := range entries {
		if !e.Reread {
			continue
		}
		before, err := decodeEntry(e)
		if err != nil {
			return err
		}
		var stretch []byte
		s, err := rs.db.SessionWithBalls(ctx, c.Server, e.Session)
		if err != nil && !errors.Is(err, store.ErrNotFound) {
			return err
		}
		if err == nil && len(s.Reading.Questions) == 0 {
			if taken, err := terms.Take(s.As(terms.Club)); err == nil && !slices.Equal(taken.Balls, before.stretch.Balls) {
				if stretch, err = json.Marshal(taken); err != nil {
					return err
				}
			}
		}
		if err := rs.db.Rescore(ctx, e, stretch); err != nil {
			return err
		}
	}
	return nil
}

// CloseChallenge closes a challenge and keeps how it ended, with whoever got in
// at the last moment. It is store.ErrExpired if it is closed already.
func (rs *Records) CloseChallenge(ctx context.Context, c store.Challenge) (store.Challenge, error) {
	for {
		s, err := rs.Standings(ctx, c)
		if err != nil {
			return c, err
		}
		finals := map[string][]byte{}
		for _, r := range s.Rows {
			data, err := json.Marshal(finalOf(r, s.Best))
			if err != nil {
				return c, err
			}
			finals[s.entries[r.Entry].ID] = data
		}
		closed, err := rs.db.CloseChallenge(ctx, c.Server, c.ID, finals)
		if !errors.Is(err, store.ErrChanged) {
			return closed, err
		}
	}
}
