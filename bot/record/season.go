package record

import (
	"context"
	"encoding/json"
	"slices"
	"time"

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
const NoClass = -1

// OpenSeason keeps a new season.
func (rs *Records) OpenSeason(ctx context.Context, s store.Season, terms SeasonTerms) (kept store.Season, err error) {
	if s.Terms, err = json.Marshal(terms); err != nil {
		return s, err
	}
	return rs.db.OpenSeason(ctx, s)
}

// KeepTemplate checks the terms and keeps them as a template, of which a server
// has so many at most.
func (rs *Records) KeepTemplate(ctx context.Context, server, name string, terms challenge.Terms, most int) error {
	if err := terms.Check(); err != nil {
		return err
	}
	data, err := encodeTerms(terms)
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
	scheduled, err := rs.db.ScheduledOf(ctx, kept.ID)
	if err != nil {
		return s, err
	}
	former, err := rs.db.FormerMembers(ctx, kept.ID)
	if err != nil {
		return s, err
	}
	all := sums{former: former, at: map[string]int{}}
	for _, d := range scheduled {
		part := Part{Scheduled: d}
		if d.Challenge != "" {
			if part.Held, err = rs.db.Challenge(ctx, kept.Server, d.Challenge); err != nil {
				return s, err
			}
		}
		s.Parts = append(s.Parts, part)
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
	for _, p := range all.players {
		m, err := rs.member(ctx, s, p, handicaps)
		if err != nil {
			return s, err
		}
		s.Members = append(s.Members, m)
	}
	s.Rows = season.Table(all.points, s.Best)
	return s, nil
}

// member is a player with their class: by what they are while the season runs,
// by what they were once it is over.
func (rs *Records) member(ctx context.Context, s Season, p Player, handicaps []store.Handicap) (Member, error) {
	m := Member{Player: p, Class: NoClass}
	if p.ID == "" {
		return m, nil
	}
	kept, err := rs.db.Student(ctx, s.Server, p.ID)
	if err != nil {
		return m, err
	}
	junior, handicap := kept.Junior, (*float64)(nil)
	if !s.Closed.IsZero() {
		junior = false
	}
	for _, h := range handicaps {
		if h.Student == p.ID {
			handicap, junior = h.Handicap, junior || h.Junior
		}
	}
	if class, ok := s.Classes.Of(handicap, junior); ok {
		m.Class = class
	}
	return m, nil
}

// counts reports whether a challenge that is over gives points: one that nobody
// won gives none.
func counts(s Standings) bool {
	return slices.ContainsFunc(s.Rows, func(r challenge.Standing) bool { return r.Place == 1 })
}

// Sums gather the points of a season's members.
type sums struct {
	former  map[string]string // by entry: see store.FormerMembers
	at      map[string]int    // where a member is in players
	players []Player
	points  [][]int // of each player, by challenge
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
	key := "player " + e.Player
	if e.Player == "" {
		key = "entry " + e.ID
		if who := t.former[e.ID]; who != "" {
			key = "former " + who
		}
	}
	i, known := t.at[key]
	if !known {
		i = len(t.players)
		t.at[key] = i
		p.Rescored = false // that is of one entry
		t.players, t.points = append(t.players, p), append(t.points, nil)
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

// Ended reports whether a season has had its time: nothing of it is open or to
// come, and its last day is over.
func (s Season) Ended(now time.Time) bool {
	for _, p := range s.Parts {
		if !p.Missed && !p.over() {
			return false
		}
	}
	return season.Day(now, s.Zone).After(s.Last)
}
