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

	Won     []challenge.Standing // who share the first place for good; none if nobody may have won
	Looks   []Look               // entries that wait for a host, and those taken out
	Rulings []store.Ruling

	entries []scored // in play
	aside   []scored // that wait, or were taken out
}

// A Look is an entry that does not count, or not yet.
type Look struct {
	Entry  string
	Player Player
	At     time.Time
	Why    []analysis.Warning // that a host is to look at; none once it is out
	Out    string             // why it was taken out, "" while it waits; untrusted text
}

// Waiting counts the entries that wait for a host.
func (s Standings) Waiting() (n int) {
	for _, l := range s.Looks {
		if l.Out == "" {
			n++
		}
	}
	return n
}

// Balls are those of an entry, and those of it that were drawn to be half shots.
func (s Standings) Balls(entry string) (balls, drawn []challenge.Ball) {
	for _, e := range slices.Concat(s.entries, s.aside) {
		if e.ID == entry {
			balls, drawn = e.stretch.Balls, e.stretch.Apart
		}
	}
	return balls, drawn
}

// LookOf is the entry of a player that does not count, if they have one.
func (s Standings) LookOf(player string) (Look, bool) {
	for _, l := range s.Looks {
		if l.Player.ID == player && player != "" {
			return l, true
		}
	}
	return Look{}, false
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
	house, err := rs.db.Clubhouse(ctx, c.Server)
	if err != nil {
		return s, err
	}
	if err := terms.Check(); err != nil {
		return s, err
	}
	terms = terms.Fairly(house.Units.Scale(analysis.Length))
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
		if !e.InPlay() {
			look := Look{Entry: e.ID, Player: player, At: e.At, Out: e.Removed}
			if e.Waiting != nil {
				if err := json.Unmarshal(e.Waiting, &look.Why); err != nil {
					return s, err
				}
			}
			s.Looks, s.aside = append(s.Looks, look), append(s.aside, one)
			continue
		}
		s.entries, s.Players = append(s.entries, one), append(s.Players, player)
	}
	if s.Rulings, err = rs.db.Rulings(ctx, c.ID); err != nil || c.Voided != "" {
		return s, err
	}
	defer func() { s.Won = s.Terms.Winners(s.Standings) }()
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

// EntryOf is the entry of a row.
func (s Standings) EntryOf(r challenge.Standing) string { return s.entries[r.Entry].ID }

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
		sessions, read, err := rs.again(ctx, c, terms, e)
		if err != nil {
			return err
		}
		_, terms, err := rs.announced(ctx, c, terms, e.Player)
		if err != nil {
			return err
		}
		var stretch []byte
		if read {
			if taken, err := terms.Take(before.stretch.Least, sessions...); err == nil && !slices.Equal(taken.Balls, before.stretch.Balls) {
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

// again are the sessions of an entry as they are read now; read is false where
// one is gone or has a question open.
func (rs *Records) again(ctx context.Context, c store.Challenge, terms challenge.Terms, e store.Entry) (sessions []analysis.Session, read bool, err error) {
	for _, id := range e.Sessions {
		s, err := rs.db.SessionWithBalls(ctx, c.Server, id)
		if errors.Is(err, store.ErrNotFound) {
			return nil, false, nil
		}
		if err != nil {
			return nil, false, err
		}
		if len(s.Reading.Questions) > 0 {
			return nil, false, nil
		}
		sessions = append(sessions, asEntered(terms, s))
	}
	return sessions, len(sessions) > 0, nil
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
