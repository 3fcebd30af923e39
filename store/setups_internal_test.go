package store

import (
	"database/sql"
	"slices"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
)

// Of a trial the usual set alone is a point of the timeline, and the other alone
// counts into a brief that names none; a session with one set counts for both.
// What was kept before setups were told apart is judged anew.
func TestSetups(t *testing.T) {
	db := openFile(t)
	ctx := t.Context()
	b, err := db.SetBrief(ctx, Brief{Server: "s", Student: "u", Coach: "c", Brief: analysis.Brief{
		Number: analysis.Face, Low: new(float64), High: ptrTo(10.0), Until: time.Now().Add(24 * time.Hour),
	}})
	if err != nil {
		t.Fatal(err)
	}
	iron, err := analysis.ParseClub("7i")
	if err != nil {
		t.Fatal(err)
	}
	ball := func(label string, face float64) analysis.Shot {
		return analysis.Shot{Club: iron, Label: label}.With(analysis.Face, face)
	}
	for raw, shots := range map[string][]analysis.Shot{
		"trial": {ball("strong grip", 1), ball("Usual", 21), ball("strong grip", 2), ball("Usual", 22), ball("Usual", 23)},
		"alone": {ball("strong grip", 3), ball("strong grip", 4)},
	} {
		if _, _, err := db.PostSession(ctx, NewSession{Server: "s", Student: "u", Raw: []byte(raw),
			Reading: Reading{Session: analysis.Session{Shots: shots}}}); err != nil {
			t.Fatal(err)
		}
	}
	check := func(when string) {
		t.Helper()
		var got []float64
		values, err := db.Values(ctx, "s", "u", ValuesFilter{Number: analysis.Face})
		for _, v := range values {
			got = append(got, v.Values...)
		}
		slices.Sort(got)
		if d := cmp.Diff([]float64{3, 4, 21, 22, 23}, got); err != nil || d != "" {
			t.Errorf("%s: values %v (-want +got):\n%s", when, err, d)
		}
		for label, want := range map[string][2]int{"": {4, 4}, "strong grip": {4, 4}, "USUAL": {0, 3}} {
			b.Label = label
			if p, err := db.Progress(ctx, b); err != nil || [2]int{p.Inside, p.Of} != want {
				t.Errorf("%s: a brief about %q has %d of %d inside, %v, want %v", when, label, p.Inside, p.Of, err, want)
			}
		}
	}
	check("as posted")

	if err := db.update(ctx, "as it was before", func(tx *sql.Tx) error {
		if _, err := tx.ExecContext(ctx, `UPDATE shots SET setup = 0`); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `UPDATE session_values SET vals = ?`, make([]byte, 8)); err != nil {
			return err
		}
		if _, err := tx.ExecContext(ctx, `INSERT INTO redraw SELECT id FROM sessions`); err != nil {
			return err
		}
		return redraw(ctx, tx)
	}); err != nil {
		t.Fatal(err)
	}
	check("judged anew")
}

func ptrTo[T any](x T) *T { return &x }
