package store_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"
	"github.com/google/go-cmp/cmp/cmpopts"
	"gonum.org/v1/gonum/stat"
	"pgregory.net/rapid"

	"rangepost/analysis"
	"rangepost/store"
)

func TestValues(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	iron, driver := club(t, "7i"), club(t, "driver")
	session := func(at time.Time, raw string, shots ...analysis.Shot) string {
		t.Helper()
		s, _, err := db.PostSession(t.Context(), store.NewSession{Server: saltmarsh, Student: wren, Raw: []byte(raw),
			Reading: store.Reading{Session: analysis.Session{When: at, Ball: analysis.RangeBall, Shots: shots}}})
		if err != nil {
			t.Fatal(err)
		}
		return s.ID
	}
	ball := func(c analysis.Club) analysis.Shot { return analysis.Shot{Club: c} }
	early := time.Date(2026, 2, 1, 10, 0, 0, 0, time.UTC)
	second := session(time.Time{}, "b", ball(iron).With(analysis.Face, 4)) // not said when: now
	first := session(early, "a",
		ball(iron).With(analysis.Face, 1),
		ball(driver).WithInferred(analysis.Face, 9),
		ball(iron).With(analysis.Path, 7), // its face is unknown
		analysis.Shot{Club: iron, Aside: analysis.Mishit}.With(analysis.Face, 100),
		ball(iron).WithInferred(analysis.Face, 3),
	)
	inFirst := func(club analysis.Club, inferred int, mean, sd float64, values ...float64) analysis.SessionValues {
		return analysis.SessionValues{Session: first, At: early, Club: club, Ball: analysis.RangeBall,
			Inferred: inferred, Mean: mean, SD: sd, Values: values}
	}
	// 1 and 3: mean 2, deviations of 1, sum of squares 2 over n-1 = 1.
	ironFirst := inFirst(iron, 1, 2, 1.4142135623730951, 1, 3)
	driverFirst := inFirst(driver, 1, 9, 0, 9)
	ironSecond := analysis.SessionValues{Session: second, At: c.at, Club: iron, Ball: analysis.RangeBall, Mean: 4, Values: []float64{4}}

	for _, tt := range []struct {
		name string
		f    store.ValuesFilter
		want []analysis.SessionValues
	}{
		{"every club", store.ValuesFilter{Number: analysis.Face}, []analysis.SessionValues{ironFirst, driverFirst, ironSecond}},
		{"one club", store.ValuesFilter{Number: analysis.Face, Club: iron}, []analysis.SessionValues{ironFirst, ironSecond}},
		{"since", store.ValuesFilter{Number: analysis.Face, Since: early.Add(time.Millisecond)}, []analysis.SessionValues{ironSecond}},
		{"another number", store.ValuesFilter{Number: analysis.Path}, []analysis.SessionValues{inFirst(iron, 0, 7, 0, 7)}},
		{"never measured", store.ValuesFilter{Number: analysis.Apex}, nil},
	} {
		got, err := db.Values(t.Context(), saltmarsh, wren, tt.f)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(tt.want, got, cmpopts.SortSlices(func(a, b analysis.SessionValues) bool {
			return a.At.Before(b.At) || a.At.Equal(b.At) && a.Mean < b.Mean
		})); d != "" {
			t.Errorf("%s (-want +got):\n%s", tt.name, d)
		}
	}
	means, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Face, Club: iron, MeansOnly: true})
	if err != nil || len(means) != 2 || means[0].Values != nil || means[0].Mean != 2 {
		t.Errorf("means only: %+v, %v", means, err)
	}
	if got, err := db.Values(t.Context(), elsewhere, wren, store.ValuesFilter{Number: analysis.Face}); err != nil || got != nil {
		t.Errorf("on another server: %v, %v", got, err)
	}
	if _, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Number(analysis.NumNumbers)}); err == nil {
		t.Error("a number that is not in the table was looked up")
	}
}

// Whatever is posted and re-read, the values kept by session say what the
// shots say. The mean and deviation are gonum's.
func TestValuesSayWhatTheShotsSay(t *testing.T) {
	db := open(t)
	clubs := []analysis.Club{{}, club(t, "7i"), club(t, "pw"), club(t, "3w")}
	shot := rapid.Custom(func(t *rapid.T) analysis.Shot {
		s := analysis.Shot{Club: rapid.SampledFrom(clubs).Draw(t, "club"),
			Aside: rapid.SampledFrom([]analysis.Aside{analysis.Used, analysis.Used, analysis.Mishit, analysis.Duplicate}).Draw(t, "aside")}
		for _, n := range []analysis.Number{analysis.ClubSpeed, analysis.Carry} {
			v := rapid.Float64Range(-1e6, 1e6).Draw(t, n.Info().Key)
			switch rapid.IntRange(0, 2).Draw(t, "known") {
			case 1:
				s = s.With(n, v)
			case 2:
				s = s.WithInferred(n, v)
			}
		}
		return s
	})
	reading := func(t *rapid.T) store.Reading {
		return store.Reading{Session: analysis.Session{Shots: rapid.SliceOfN(shot, 0, 12).Draw(t, "shots")}}
	}
	student := 0
	rapid.Check(t, func(t *rapid.T) {
		student++
		id := string(rune('a' + student))
		s, _, err := db.PostSession(background, store.NewSession{Server: saltmarsh, Student: id, Reading: reading(t)})
		if err != nil {
			t.Fatal(err)
		}
		s, err = db.ReplaceReading(background, saltmarsh, s.ID, reading(t), store.Said{})
		if err != nil {
			t.Fatal(err)
		}
		for _, n := range []analysis.Number{analysis.ClubSpeed, analysis.Carry} {
			want := map[analysis.Club][]float64{}
			for _, shot := range s.Reading.Session.Shots {
				if v, ok := shot.Value(n); ok && shot.Aside == analysis.Used {
					want[shot.Club] = append(want[shot.Club], v)
				}
			}
			rows, err := db.Values(background, saltmarsh, id, store.ValuesFilter{Number: n})
			if err != nil {
				t.Fatal(err)
			}
			got := map[analysis.Club][]float64{}
			for _, r := range rows {
				got[r.Club] = r.Values
				mean, sd := stat.MeanStdDev(r.Values, nil)
				if len(r.Values) == 1 {
					sd = 0
				}
				// Sums of up to twelve values below 1e6 in another order.
				if near := cmpopts.EquateApprox(1e-9, 1e-8); !cmp.Equal(r.Mean, mean, near) || !cmp.Equal(r.SD, sd, near) {
					t.Fatalf("%v: mean %v and sd %v, want %v and %v", r.Values, r.Mean, r.SD, mean, sd)
				}
			}
			if d := cmp.Diff(want, got); d != "" {
				t.Fatalf("%v (-want +got):\n%s", n, d)
			}
		}
	})
}

// What was tried is what Values leaves out, ball by ball with its labels; sessions
// without sets are left out.
func TestTried(t *testing.T) {
	db := open(t)
	iron, driver := club(t, "7i"), club(t, "driver")
	ball := func(c analysis.Club, label string) analysis.Shot { return analysis.Shot{Club: c, Label: label} }
	at := time.Date(2026, 2, 1, 10, 0, 0, 0, time.UTC)
	post := func(days int, said string, labelled bool, shots ...analysis.Shot) string {
		t.Helper()
		s, _, err := db.PostSession(t.Context(), store.NewSession{Server: saltmarsh, Student: wren, Raw: []byte{byte(days)}, Said: store.Said{Sets: said},
			Reading: store.Reading{Labelled: labelled, Session: analysis.Session{When: at.AddDate(0, 0, days), Shots: shots}}})
		if err != nil {
			t.Fatal(err)
		}
		return s.ID
	}
	post(0, "", false, ball(iron, "").With(analysis.Face, 1))
	typed := post(1, "1-2 normal, 3-5 strong", false,
		ball(iron, "normal").With(analysis.Face, 1),
		ball(driver, "normal").WithInferred(analysis.Face, 9),
		ball(iron, "strong"), // its face is unknown
		analysis.Shot{Club: iron, Label: "strong", Aside: analysis.Mishit}.With(analysis.Face, 100),
		ball(iron, "strong").WithInferred(analysis.Face, 3).WithInferred(analysis.FaceToPath, 5))
	inFile := post(2, "", true, ball(iron, "a").With(analysis.Face, 4), ball(iron, "").With(analysis.Face, 2))

	for _, tt := range []struct {
		n     analysis.Number
		since time.Time
		want  map[string][]store.TriedBall
	}{
		{analysis.Face, time.Time{}, map[string][]store.TriedBall{
			typed:  {{Club: iron, Label: "strong", Value: 3, Inferred: true}},
			inFile: {{Club: iron, Label: "a", Value: 4}},
		}},
		{analysis.Face, at.AddDate(0, 0, 2), map[string][]store.TriedBall{inFile: {{Club: iron, Label: "a", Value: 4}}}},
		{analysis.FaceToPath, time.Time{}, map[string][]store.TriedBall{typed: {{Club: iron, Label: "strong", Value: 5, Inferred: true}}}},
		{analysis.Apex, time.Time{}, map[string][]store.TriedBall{}},
	} {
		got, err := db.Tried(t.Context(), saltmarsh, wren, tt.n, tt.since)
		if err != nil {
			t.Fatal(err)
		}
		if diff := cmp.Diff(tt.want, got); diff != "" {
			t.Errorf("%v since %v: %s", tt.n, tt.since, diff)
		}
	}
	if other, err := db.Tried(t.Context(), saltmarsh, "somebody", analysis.Face, time.Time{}); err != nil || len(other) > 0 {
		t.Errorf("of another: %v, %v", other, err)
	}
}
