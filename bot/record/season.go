package record

import (
	"context"
	"encoding/json"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/season"
	"rangepost/store"
)

// A Season is a season as everybody may see it: names, points and classes.
type Season struct {
	store.Season
	SeasonTerms
	Zone    *time.Location // the clubhouse's
	Parts   []Part         // its challenges by day
	Rows    []season.Row   // the points of each are by Over
	Members []Member       // by the rows' Who
	Over    []Part         // those of Parts that count
}

// SeasonTerms are what a season counts and whom it divides.
type SeasonTerms struct {
	Best    int            `json:"best,omitempty"` // of each member's results; 0 counts all
	Classes season.Classes `json:"classes"`
}

// A Part is one challenge of a season.
type Part struct {
	store.Scheduled
	Held store.Challenge // without an id before it opens
}

func (p Part) over() bool { return !p.Held.Closed.IsZero() }

// A Member is who stands behind a row of a season.
type Member struct {
	Player
	Class int // of the season's classes; NoClass for none
}

// NoClass is the class of a member who is in none.
const NoClass = store.NoBand

// OpenSeason keeps a new season.
func (rs *Records) OpenSeason(ctx context.Context, s store.Season, terms SeasonTerms) (kept store.Season, err error) {
	if s.Terms, err = json.Marshal(terms); err != nil {
		return s, err
	}
	return rs.db.OpenSeason(ctx, s, terms.band)
}

// band is the class a handicap is in, of a member who is no junior.
func (t SeasonTerms) band(handicap *float64) int {
	if class, ok := t.Classes.Of(handicap, false); ok {
		return class
	}
	return NoClass
}

// SetHandicaps keeps handicaps of members of a season; those without one have
// theirs taken back.
func (rs *Records) SetHandicaps(ctx context.Context, s Season, all []store.Handicap) error {
	for i, h := range all {
		all[i].Band = s.band(h.Handicap)
	}
	return rs.db.SetHandicaps(ctx, s.Server, s.ID, all)
}

// KeepTemplate checks the terms and keeps them as a template, of which a server
// has so many at most.
func (rs *Records) KeepTemplate(ctx context.Context, server, name string, terms challenge.Terms, most int) error {
	if err := terms.Check(); err != nil {
		return err
	}
	house, err := rs.db.Clubhouse(ctx, server)
	if err != nil {
		return err
	}
	data, err := encodeTerms(terms.Fairly(house.Units.Scale(analysis.Length)))
	if err != nil {
		return err
	}
	return rs.db.KeepTemplate(ctx, store.Template{Server: server, Name: name, Terms: data}, most)
}

// Season adds up a season.
func (rs *Records) Season(ctx context.Context, kept store.Season) (s Season, err error) {
	s.Season = kept
	if err := json.Unmarshal(kept.Terms, &s.SeasonTerms); err != nil {
		return s, err
	}
	house, err := rs.db.Clubhouse(ctx, kept.Server)
	if err != nil {
		return s, err
	}
	s.Zone = Zone(house.TimeZone)
	if s.Parts, err = rs.parts(ctx, kept); err != nil {
		return s, err
	}
	former, err := rs.db.FormerMembers(ctx, kept.ID)
	if err != nil {
		return s, err
	}
	all := sums{terms: s.SeasonTerms, former: former, at: map[string]int{}}
	for _, part := range s.Parts {
		if !part.over() {
			continue
		}
		standings, err := rs.Standings(ctx, part.Held)
		if err != nil {
			return s, err
		}
		if counts(standings) {
			s.Over = append(s.Over, part)
			all.add(standings)
		}
	}
	handicaps, err := rs.db.Handicaps(ctx, kept.ID)
	if err != nil {
		return s, err
	}
	banded := map[string]store.Handicap{}
	for _, h := range handicaps {
		banded[h.Student] = h
	}
	for i, m := range all.members {
		if m.ID != "" {
			h, known := banded[m.ID]
			if !known {
				h.Band = NoClass
			}
			if s.Closed.IsZero() {
				kept, err := rs.db.Student(ctx, kept.Server, m.ID)
				if err != nil {
					return s, err
				}
				h.Junior = kept.Junior
			}
			all.members[i].Class = s.class(h.Band, h.Junior)
		}
	}
	s.Members = all.members
	s.Rows = season.Table(all.points, s.Best)
	return s, nil
}

// parts are the challenges of a season by day.
func (rs *Records) parts(ctx context.Context, s store.Season) (parts []Part, err error) {
	scheduled, err := rs.db.ScheduledOf(ctx, s.ID)
	if err != nil {
		return nil, err
	}
	for _, d := range scheduled {
		part := Part{Scheduled: d}
		if d.Challenge != "" {
			if part.Held, err = rs.db.Challenge(ctx, s.Server, d.Challenge); err != nil {
				return nil, err
			}
		}
		parts = append(parts, part)
	}
	return parts, nil
}

// CloseSeason ends a season that has had its time: nothing of it is open or to
// come, and its last day is over. It reports whether it did.
func (rs *Records) CloseSeason(ctx context.Context, s store.Season) (closed bool, err error) {
	// No clock is more than 14 hours ahead of UTC.
	if !s.Closed.IsZero() || rs.now().Add(14*time.Hour).Before(s.Last.AddDate(0, 0, 1)) {
		return false, nil
	}
	house, err := rs.db.Clubhouse(ctx, s.Server)
	if err != nil || !season.Day(rs.now(), Zone(house.TimeZone)).After(s.Last) {
		return false, err
	}
	parts, err := rs.parts(ctx, s)
	if err != nil || slices.ContainsFunc(parts, func(p Part) bool { return !p.Missed && !p.over() }) {
		return false, err
	}
	err = rs.db.CloseSeason(ctx, s.Server, s.ID)
	if errors.Is(err, store.ErrChanged) { // something was added meanwhile
		return false, nil
	}
	return err == nil, err
}

// class is a member's class: by what they are while the season runs, by what
// they were once it is over.
func (t SeasonTerms) class(band int, junior bool) int {
	if class, ok := t.Classes.Of(nil, junior); ok {
		return class
	}
	return band
}

// counts reports whether a challenge that is over gives points: one that nobody
// won, or where nobody met anybody, gives none.
func counts(s Standings) bool {
	first := slices.ContainsFunc(s.Rows, func(r challenge.Standing) bool { return r.Place == 1 })
	return len(s.Rows) > 1 && first && len(s.Won) > 0
}

// Sums gather the points of a season's members.
type sums struct {
	terms   SeasonTerms
	former  map[string]store.FormerMember // by entry
	at      map[string]int                // where a member is in members
	members []Member
	points  [][]int // of each member, by challenge
	n       int     // challenges so far
}

// add adds a challenge that is over.
func (t *sums) add(s Standings) {
	results := make([]season.Result, len(s.Rows))
	for i, r := range s.Rows {
		results[i] = season.Result{Value: r.Score.Value, Low: r.Score.Low, High: r.Score.High}
		if !r.Score.OK {
			results[i].Low, results[i].High = r.Score.Value, r.Score.Value
		}
		if s.Terms.Less() {
			results[i] = results[i].Less()
		}
	}
	for i, points := range season.Points(results) {
		t.of(s.entries[s.Rows[i].Entry].Entry, s.Players[s.Rows[i].Entry])[t.n] = points
	}
	t.n++
	for i := range t.points {
		t.points[i] = padded(t.points[i], t.n)
	}
}

// of are the points of whose an entry is, with room for the challenge at hand.
func (t *sums) of(e store.Entry, p Player) []int {
	key, class := "player "+e.Player, NoClass
	if e.Player == "" {
		key = "entry " + e.ID
		if f, ok := t.former[e.ID]; ok {
			key, class = "former "+f.Who, t.terms.class(f.Band, f.Junior)
		}
	}
	i, known := t.at[key]
	if !known {
		i = len(t.members)
		t.at[key] = i
		p.Rescored = false // that is of one entry
		t.members, t.points = append(t.members, Member{p, class}), append(t.points, nil)
	}
	t.points[i] = padded(t.points[i], t.n+1)
	return t.points[i]
}

// padded is points with those of n challenges, missed where there are none yet.
func padded(points []int, n int) []int {
	for len(points) < n {
		points = append(points, season.Missed)
	}
	return points
}

// Of is a player's row among some, if they have one.
func (s Season) Of(rows []season.Row, player string) (season.Row, bool) {
	if i := slices.IndexFunc(rows, func(r season.Row) bool { return s.Members[r.Who].ID == player }); i >= 0 {
		return rows[i], true
	}
	return season.Row{}, false
}

// Top are those of some rows who are first; nobody is without a point.
func Top(rows []season.Row) []season.Row {
	n := 0
	pointed := func(r season.Row) bool { return slices.ContainsFunc(r.Points, func(p int) bool { return p > 0 }) }
	for n < len(rows) && rows[n].Place == 1 && pointed(rows[n]) {
		n++
	}
	return rows[:n]
}

// Class are the rows of one class, with places of their own; of NoClass all of
// them as they are.
func (s Season) Class(class int) []season.Row {
	if class == NoClass {
		return s.Rows
	}
	var rows []season.Row
	for _, r := range s.Rows {
		if s.Members[r.Who].Class == class {
			rows = append(rows, r)
		}
	}
	season.Places(rows)
	return rows
}
