package bot

import (
	"fmt"
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/store"
)

// A timeline takes the sets of a trial apart: the baseline counts with the
// sessions that name no sets, what was tried stands by itself, and no point is a
// mean of the two.
func TestTimelineTakesSetupsApart(t *testing.T) {
	d := newDesktop(t)
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	post := func(sets string, faces map[string]float64, order ...string) {
		t.Helper()
		var shots []analysis.Shot
		for i := range 20 {
			label := order[i/5%len(order)] // in turns of five
			off := float64(i%5-2) * 0.2
			shots = append(shots, analysis.Shot{N: i + 1, Club: iron, Label: label}.With(analysis.Face, (faces[label]+off)*analysis.Degree))
		}
		at := d.Bot.now()
		if _, _, err := d.db.PostSession(t.Context(), store.NewSession{Server: "saltmarsh", Student: student, Raw: fmt.Append(nil, at), Said: store.Said{Sets: sets},
			Reading: store.Reading{Session: analysis.Session{When: at, Shots: shots}}}); err != nil {
			t.Fatal(err)
		}
		d.days(1)
	}
	post("", map[string]float64{"": 3}, "")
	post("1-5 normal, 6-10 strong grip and so on", map[string]float64{"normal": 3, "Strong grip": 1}, "normal", "Strong grip")
	post("1-5 normal, 6-10 strong grip and so on", map[string]float64{"normal": 3, "strong grip": 0.6}, "normal", "strong grip")
	post("1-20 morning", map[string]float64{"morning": 2.8}, "morning") // beside no other

	check := func(what string, got, want float64) {
		t.Helper()
		if math.Abs(got/analysis.Degree-want) > 1e-9 {
			t.Errorf("%s is %.2f°, hit as %.2f°", what, got/analysis.Degree, want)
		}
	}
	for _, q := range []record.Query{{}, {Clubs: []analysis.Club{iron}}} {
		q.Numbers = []analysis.Number{analysis.Face}
		all, err := d.records.Timelines(t.Context(), "saltmarsh", student, q)
		if err != nil || len(all) != 1 {
			t.Fatal(all, err)
		}
		r := all[0]
		if len(r.Points) != 4 || len(r.Setups) != 1 || r.Setups[0].Label != "strong grip" || len(r.Setups[0].Points) != 2 {
			t.Fatalf("usual points %v, setups %v", r.Points, r.Setups)
		}
		for i, want := range []float64{3, 3, 3, 2.8} {
			check(fmt.Sprintf("usual session %d", i+1), r.Points[i].Mean.Mean, want)
		}
		for i, want := range []float64{1, 0.6} {
			check(fmt.Sprintf("strong grip %d", i+1), r.Setups[0].Points[i].Mean.Mean, want)
		}
		if n := r.Points[1].Mean.N; n != 10 {
			t.Errorf("the baseline of the trial counts %d balls, hit were 10", n)
		}
	}
	reply := d.ask(student, "timeline", "number", "face")
	contained(t, "the reply", reply.Text, `With "strong grip"`)
	if reply.Picture == nil {
		t.Error("no picture")
	}
}

// Where no set is called a usual one, the first is what the trial compares with,
// and the timeline is of it.
func TestTimelineWithoutAUsualSet(t *testing.T) {
	d := newDesktop(t)
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var shots []analysis.Shot
	for i := range 12 {
		shots = append(shots, analysis.Shot{N: i + 1, Club: iron, Label: []string{"strong grip", "weak grip"}[i%2]}.With(analysis.Face, float64(i)*analysis.Degree))
	}
	if _, _, err := d.db.PostSession(t.Context(), store.NewSession{Server: "saltmarsh", Student: student, Raw: []byte("x"),
		Reading: store.Reading{Labelled: true, Session: analysis.Session{When: d.now, Shots: shots}}}); err != nil {
		t.Fatal(err)
	}
	all, err := d.records.Timelines(t.Context(), "saltmarsh", student, record.Query{Numbers: []analysis.Number{analysis.Face}})
	if err != nil || len(all) != 1 || len(all[0].Points) != 1 || all[0].Points[0].Mean.N != 6 ||
		len(all[0].Setups) != 1 || all[0].Setups[0].Label != "weak grip" {
		t.Errorf("%v, %v", all, err)
	}
}
