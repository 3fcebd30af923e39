package record

import (
	"context"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/stat"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/store"
)

// A Side is one side of a comparison: a club, a span of time or a setup.
type Side struct {
	Kind SideKind
	Club analysis.Club // of Club
	Set  string        // of Setup: what its sets are called

	// Of Span: hit then or later, and before then (zero for no bound); or the last
	// so many sessions, or all before those.
	From, To time.Time
	Last     int
	Earlier  bool
}

// SideKind is what a side is of.
type SideKind string

// The kinds.
const (
	ClubSide  SideKind = "club"
	SpanSide  SideKind = "span"
	SetupSide SideKind = "setup"
)

// Comparisons compares two sides of one kind in some numbers, none for those a
// trial compares. Spans and setups are of one club: the one named, else the one
// with the most sessions, which is returned.
func (rs *Records) Comparisons(ctx context.Context, server, student string, first, second Side, numbers []analysis.Number, club analysis.Club) (all []timeline.Comparison, of analysis.Club, err error) {
	if len(numbers) == 0 {
		numbers = analysis.Compared()
	}
	values := rs.valuesOf
	if first.Kind == SetupSide {
		sets, err := rs.setups(ctx, server, student)
		if err != nil {
			return nil, club, err
		}
		values = func(_ context.Context, _, _ string, n analysis.Number) ([]labelled, error) {
			return sets.values(n), nil
		}
	}
	if first.Kind != ClubSide && club.Unknown() {
		if club, err = rs.commonestOf(ctx, server, student, first, second, numbers, values); err != nil {
			return nil, club, err
		}
	}
	carry := 0.0
	for i, n := range slices.Concat([]analysis.Number{analysis.Carry}, numbers) {
		air, err := rs.airOf(ctx, server, student, n)
		if err != nil {
			return nil, club, err
		}
		kept, err := values(ctx, server, student, n)
		if err != nil {
			return nil, club, err
		}
		kept = slices.DeleteFunc(kept, func(v labelled) bool { return !club.Unknown() && v.Club != club })
		for i := range kept {
			kept[i].SessionValues = air.session(kept[i].SessionValues)
		}
		a, b := first.of(kept), second.of(kept)
		mean := 0.0
		for _, s := range a {
			mean += stat.SampleOf(s.Values).Mean / float64(len(a))
		}
		if i == 0 {
			carry = mean
			continue
		}
		if c, ok := timeline.Compare(n, a, b, trial.PracticalZero(n, mean, carry), len(numbers)); ok {
			all = append(all, c)
		}
	}
	return all, club, nil
}

// labelled is a session's values of one set.
type labelled struct {
	analysis.SessionValues
	label string
}

func (rs *Records) valuesOf(ctx context.Context, server, student string, n analysis.Number) (all []labelled, err error) {
	kept, err := rs.db.Values(ctx, server, student, store.ValuesFilter{Number: n})
	for _, v := range kept {
		all = append(all, labelled{SessionValues: v})
	}
	return all, err
}

// of are the values that belong to a side.
func (s Side) of(all []labelled) (kept []analysis.SessionValues) {
	for i, v := range all {
		is := false
		switch s.Kind {
		case ClubSide:
			is = v.Club == s.Club
		case SetupSide:
			is = sameSetup(s.Set, v.label)
		case SpanSide:
			is = !v.At.Before(s.From) && (s.To.IsZero() || v.At.Before(s.To))
			if s.Last > 0 {
				is = (len(all)-i > s.Last) == s.Earlier
			}
		}
		if is {
			kept = append(kept, v.SessionValues)
		}
	}
	return kept
}

// sameSetup reports whether two names are of one setup: the same tool, the usual
// one by any of its names, or the same words.
func sameSetup(a, b string) bool {
	tool := trial.ToolOf(a)
	return strings.EqualFold(strings.TrimSpace(a), strings.TrimSpace(b)) || analysis.UsualLabel(a) && analysis.UsualLabel(b) || tool != "" && tool == trial.ToolOf(b)
}

// commonestOf is the club with the most sessions on both sides.
func (rs *Records) commonestOf(ctx context.Context, server, student string, first, second Side, numbers []analysis.Number,
	values func(context.Context, string, string, analysis.Number) ([]labelled, error)) (most analysis.Club, err error) {
	best := 0
	for _, n := range numbers {
		all, err := values(ctx, server, student, n)
		if err != nil {
			return most, err
		}
		by := map[analysis.Club][]labelled{}
		for _, v := range all {
			by[v.Club] = append(by[v.Club], v)
		}
		for _, v := range all { // in a fixed order
			if k := min(len(first.of(by[v.Club])), len(second.of(by[v.Club]))); k > best {
				most, best = v.Club, k
			}
		}
		if best > 0 {
			break
		}
	}
	return most, nil
}

// mostSetups is of how many of the latest sessions setups are compared.
const mostSetups = 60

// A setUp is the used balls of one set of a session.
type setUp struct {
	info  store.SessionInfo
	ball  analysis.Ball
	club  analysis.Club
	label string
	shots []analysis.Shot
}

type setUps []setUp

// setups are the sets of a student's latest sessions, the oldest first.
func (rs *Records) setups(ctx context.Context, server, student string) (all setUps, err error) {
	infos, err := rs.db.Sessions(ctx, server, student, store.SessionFilter{Limit: mostSetups})
	if err != nil {
		return nil, err
	}
	for _, info := range slices.Backward(infos) {
		s, err := rs.db.SessionWithBalls(ctx, server, info.ID)
		if err != nil {
			return nil, err
		}
		for _, set := range s.Reading.Session.Sets() {
			all = append(all, setUp{info, s.Reading.Session.Ball, set.Club, set.Label, set.Used()})
		}
	}
	return all, nil
}

func (all setUps) values(n analysis.Number) (kept []labelled) {
	for _, s := range all {
		values, _ := analysis.Values(s.shots, n)
		if len(values) == 0 {
			continue
		}
		kept = append(kept, labelled{analysis.SessionValues{Session: s.info.ID, At: s.info.At, Club: s.club, Ball: s.ball, Values: values}, s.label})
	}
	return kept
}

// SetNames are what the sets of a student's latest sessions are called, the
// latest first, each once.
func (rs *Records) SetNames(ctx context.Context, server, student string) (names []string, err error) {
	sets, err := rs.setups(ctx, server, student)
	for _, s := range slices.Backward(sets) {
		if s.label != "" && !slices.ContainsFunc(names, func(n string) bool { return strings.EqualFold(n, s.label) }) {
			names = append(names, s.label)
		}
	}
	return names, err
}
