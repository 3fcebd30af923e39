package record

import (
	"encoding/json"
	"fmt"
	"log/slog"
	"slices"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/season"
	"rangepost/store"
	"rangepost/store/pgtest"
)

// aSeason is a season whose challenges are over as given: of each, everybody's
// final.
func aSeason(t *testing.T, over ...map[string]final) (rs *Records, s Season) {
	t.Helper()
	now := time.Date(2026, time.June, 1, 12, 0, 0, 0, time.UTC)
	clock := func() time.Time { return now }
	db, err := store.Open(t.Context(), pgtest.Path(t, ""), store.WithClock(clock))
	must(t, err)
	t.Cleanup(func() { db.Close() })
	rs = New(db, clock, slog.New(slog.DiscardHandler))
	ctx := t.Context()
	first := time.Date(2026, time.June, 1, 0, 0, 0, 0, time.UTC)
	kept, err := rs.OpenSeason(ctx, store.Season{Server: "saltmarsh", Name: "June", First: first, Last: first.AddDate(0, 0, 29)},
		SeasonTerms{Best: 2, Classes: season.Classes{Upper: []float64{12}, Juniors: true}})
	must(t, err)
	terms, err := encodeTerms(challenge.Terms{Rule: challenge.Narrow, Club: analysis.Club{Family: analysis.Iron, Number: 7}, Balls: 10, Ball: analysis.RangeBall})
	must(t, err)
	for i, finals := range over {
		d := store.Scheduled{Season: kept.ID, Day: first.AddDate(0, 0, i), Name: "Sevens", Days: 1, Terms: terms}
		_, err := db.Schedule(ctx, "saltmarsh", kept.ID, []store.Scheduled{d}, season.MostChallenges)
		must(t, err)
		c, err := db.OpenScheduled(ctx, d, store.Challenge{Server: "saltmarsh", Name: "Sevens", Opened: now, Terms: terms})
		must(t, err)
		ended := map[string][]byte{}
		for who, f := range finals {
			shots := []analysis.Shot{{N: 1, Row: 2}}
			session, _, err := db.PostSession(ctx, store.NewSession{Server: "saltmarsh", Student: who, Name: "s.csv", Raw: fmt.Append(nil, who, i), Reading: store.Reading{Session: analysis.Session{Shots: shots}}})
			must(t, err)
			e, err := db.Enter(ctx, store.Entry{Challenge: c.ID, Server: "saltmarsh", Player: who, Session: session.ID, SHA256: session.SHA256, Stretch: []byte("{}"), Past: []byte("{}")}, func([]store.Entry, bool) ([]byte, error) { return nil, nil })
			must(t, err)
			ended[e.ID], err = json.Marshal(f)
			must(t, err)
		}
		_, err = db.CloseChallenge(ctx, "saltmarsh", c.ID, ended)
		must(t, err)
	}
	if s, err = rs.Season(ctx, kept); err != nil {
		t.Fatal(err)
	}
	return rs, s
}

func must(t *testing.T, err error) {
	t.Helper()
	if err != nil {
		t.Fatal(err)
	}
}

// width is how an entry of the narrowest ended, m.
func width(place int, m float64) final {
	return final{Place: place, Value: m, Low: m - 1, High: m + 1, OK: true}
}

// The narrowest have the most points; a challenge nobody won, as one that was
// called off, and one where nobody met anybody give none.
func TestSeasonPoints(t *testing.T) {
	_, s := aSeason(t,
		map[string]final{"wren": width(1, 5), "tamsin": width(2, 9), "odell": width(3, 20)},
		map[string]final{"wren": width(0, 5), "tamsin": width(0, 9)},
		map[string]final{"odell": width(1, 3)},
		map[string]final{"odell": width(1, 5), "wren": width(1, 5.1)},
	)
	if len(s.Parts) != 4 || len(s.Over) != 2 {
		t.Fatalf("%d challenges, %d of them count", len(s.Parts), len(s.Over))
	}
	got := map[string][]float64{}
	for _, r := range s.Rows {
		for _, p := range r.Points {
			got[s.Members[r.Who].ID] = append(got[s.Members[r.Who].ID], float64(p))
		}
		got[s.Members[r.Who].ID] = append(got[s.Members[r.Who].ID], r.Total, float64(r.Place))
	}
	const away = season.Missed
	for who, want := range map[string][]float64{"wren": {100, 50, 58.3, 1}, "tamsin": {50, away, 37.5, 2}, "odell": {0, 50, 25, 3}} {
		if !slices.Equal(got[who], want) {
			t.Errorf("%s has %v, want %v", who, got[who], want)
		}
	}
}

// A member's class is the band of their handicap, or the juniors; of a season
// that is over, what they were then.
func TestSeasonClasses(t *testing.T) {
	rs, s := aSeason(t, map[string]final{"wren": width(1, 5), "tamsin": width(2, 9), "odell": width(3, 20), "priya": width(4, 30)})
	ctx := t.Context()
	eight, twenty := 8.0, 20.0
	must(t, rs.SetHandicaps(ctx, s, []store.Handicap{{Student: "wren", Handicap: &eight}, {Student: "tamsin", Handicap: &twenty}, {Student: "odell", Handicap: &twenty}}))
	must(t, rs.db.SetJunior(ctx, "saltmarsh", "odell", true))
	is := func(when string, want map[string]int) {
		t.Helper()
		kept, err := rs.db.Season(ctx, "saltmarsh", s.ID)
		must(t, err)
		now, err := rs.Season(ctx, kept)
		must(t, err)
		for _, m := range now.Members {
			if m.Class != want[m.ID] {
				t.Errorf("%s: %q is in class %d, want %d", when, m.ID, m.Class, want[m.ID])
			}
		}
		if rows := now.Class(2); len(rows) != 1 || rows[0].Place != 1 {
			t.Errorf("%s: the juniors are %+v", when, rows)
		}
	}
	is("while it runs", map[string]int{"wren": 0, "tamsin": 1, "odell": 2, "priya": NoClass})
	must(t, rs.db.CloseSeason(ctx, "saltmarsh", s.ID))
	must(t, rs.db.SetJunior(ctx, "saltmarsh", "odell", false))
	must(t, rs.db.SetJunior(ctx, "saltmarsh", "wren", true))
	is("when it is over", map[string]int{"wren": 0, "tamsin": 1, "odell": 2, "priya": NoClass})
	_, err := rs.db.LeaveChallenges(ctx, "saltmarsh", "odell", false)
	must(t, err)
	is("when one has left", map[string]int{"wren": 0, "tamsin": 1, "": 2, "priya": NoClass})
}

// Nobody is first without a point.
func TestTop(t *testing.T) {
	rows := season.Table([][]int{{0}, {0}}, 0)
	if top := Top(rows); len(top) != 0 {
		t.Errorf("%+v", top)
	}
	if top := Top(season.Table([][]int{{13}, {0}, {13}}, 0)); len(top) != 2 {
		t.Errorf("%+v", top)
	}
}

// Where fewer entered than it takes nobody won, and nobody has points.
func TestTooFewGiveNoPoints(t *testing.T) {
	for fewest, want := range map[int]bool{2: true, 3: false} {
		s := Standings{Terms: challenge.Terms{Fewest: fewest}, Standings: challenge.Standings{Rows: []challenge.Standing{{Place: 1}, {Place: 2}}}}
		s.Won = s.Terms.Winners(s.Standings)
		if counts(s) != want {
			t.Errorf("two entries where it takes %d: points %v", fewest, counts(s))
		}
	}
}

// A challenge opens at the midnight of its day, and where it was planned on that day
// when it was: nobody posts for what nobody knows of.
func TestPlannedOnItsDay(t *testing.T) {
	rs, s := aSeason(t)
	ctx, noon := t.Context(), rs.now()
	terms, err := encodeTerms(challenge.Terms{Rule: challenge.Narrow, Club: analysis.Club{Family: analysis.Iron, Number: 7}, Balls: 10, Ball: analysis.RangeBall})
	must(t, err)
	today := season.Day(noon, s.Zone)
	for _, day := range []time.Time{today, today.AddDate(0, 0, 1)} {
		_, err := rs.db.Schedule(ctx, "saltmarsh", s.ID, []store.Scheduled{{Day: day, Name: "Wedges", Days: 7, Terms: terms}}, 9)
		must(t, err)
	}
	for _, opens := range []time.Time{noon, season.Midnight(today.AddDate(0, 0, 1), s.Zone)} {
		rs.now = func() time.Time { return opens.Add(time.Hour) }
		must(t, rs.OpenScheduled(ctx))
		all, err := rs.db.ScheduledOf(ctx, s.ID)
		must(t, err)
		last := ""
		for _, d := range all {
			if d.Challenge != "" {
				last = d.Challenge
			}
		}
		if c, err := rs.db.Challenge(ctx, "saltmarsh", last); err != nil || !c.Opened.Equal(opens) {
			t.Errorf("opened %v, want %v (%v)", c.Opened, opens, err)
		}
	}
}
