//go:build madeup

package main

import (
	"bytes"
	"fmt"
	"image/png"
	"math"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/analysis/label"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/pictures"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// bowed is a file of twenty balls with the made-up number, in millimetres; it
// is 8 mm more in the second ten.
func bowed() []byte {
	var b strings.Builder
	b.WriteString("Club,Club Speed (mph),Ball Speed (mph),Launch Angle,Spin Rate,Carry (yd),Shaft Bow (mm)\n")
	for i := range 20 {
		more := []float64{0, 8}[i/10]
		faster := float64((i*7+4)%11) / 5
		fmt.Fprintf(&b, "7i,%.1f,%.1f,%.1f,%d,%.1f,%.1f\n", 84+faster, 118+1.4*faster, 18+float64((i*5+6)%13)/4,
			6200+45*((i*3+8)%17), 158+2*faster, 4+more+float64((i+2)%5)*.4)
	}
	return []byte(b.String())
}

// TestMadeUpNumber runs in a build with a number more than there is; see
// TestANumberIsOneRow.
func TestMadeUpNumber(t *testing.T) {
	bow, ok := analysis.NumberByKey("bow")
	if !ok {
		t.Fatal("there is no made-up number")
	}
	// Read.
	reading, err := sessionfile.Read("bowed.csv", bowed(), sessionfile.Options{})
	if err != nil {
		t.Fatal(err)
	}
	session := reading.Session
	if len(reading.Questions) > 0 || len(session.Shots) != 20 {
		t.Fatalf("%d shots, asked %v, decided %q", len(session.Shots), reading.Questions, reading.Decisions)
	}
	if v, ok := session.Shots[10].Value(bow); !ok || math.Abs(v-0.0128) > 1e-9 {
		t.Errorf("shot 11 has %v, %v, want 0.0128 m", v, ok)
	}
	labels, err := label.Parse("1-10 normal, 11-20 strong grip")
	if err != nil {
		t.Fatal(err)
	}
	if session, err = labels.Apply(session); err != nil {
		t.Fatal(err)
	}
	// Left out where nobody could believe it.
	wild := bytes.Replace(bowed(), []byte(",4.8\n"), []byte(",400.0\n"), 1)
	if r, err := sessionfile.Read("wild.csv", wild, sessionfile.Options{}); err != nil || r.Session.Shots[0].Has(bow) || len(r.LeftOut) != 1 {
		t.Errorf("400 mm: left out %+v, %v", r.LeftOut, err)
	}

	// Kept.
	db, err := store.Open(t.Context(), filepath.Join(t.TempDir(), "rangepost.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	at := time.Date(2026, 6, 1, 12, 0, 0, 0, time.UTC)
	session.When = at
	if _, _, err := db.PostSession(t.Context(), store.NewSession{Server: "saltmarsh", Student: "wren", Name: "bowed.csv", Raw: bowed(),
		Reading: store.Reading{Session: session}}); err != nil {
		t.Fatal(err)
	}
	kept, err := db.Values(t.Context(), "saltmarsh", "wren", store.ValuesFilter{Number: bow})
	if err != nil || len(kept) != 1 || len(kept[0].Values) != 10 { // of the usual set
		t.Fatalf("kept %+v, %v", kept, err)
	}

	// Explained, compared, and in the JSON.
	said, err := report.Of(t.Context(), reading, report.Options{Labels: "1-10 normal, 11-20 strong grip", Baseline: "normal"})
	if err != nil {
		t.Fatal(err)
	}
	if text := strings.Join(said.Explanations(), "\n"); !strings.Contains(text, "bow") {
		t.Errorf("the explanation has no word of it:\n%s", text)
	}
	if text := said.TrialText(said.Trials[0], 4000); !strings.Contains(text, "bow") {
		t.Errorf("the sentences have no word of it:\n%s", text)
	}
	js, err := said.JSON()
	if err != nil || !bytes.Contains(js, []byte(`"bow_mm"`)) {
		t.Errorf("not in the JSON (%v)", err)
	}
	sets := session.Sets()
	compared, err := trial.Of(sets, 0, trial.Config{})
	if err != nil {
		t.Fatal(err)
	}
	moved := false
	for _, row := range compared.Rows {
		moved = moved || row.Number == bow && row.Verdict == trial.Moved && math.Abs(row.Difference-0.008) < 1e-9
	}
	if !moved {
		t.Errorf("the trial did not see it move: %+v", compared.Rows)
	}
	voice := words.Voice{}
	for got, want := range map[string]string{
		voice.Number(bow, 0.012):  "12 mm forward",
		voice.Number(bow, -0.003): "3 mm back",
		voice.Change(bow, 0.008):  "8 mm further forward",
	} {
		if got != want {
			t.Errorf("it says %q, want %q", got, want)
		}
	}

	// Briefed.
	for _, text := range []string{"shaft bow between 2 back and 6 forward, 7-iron", "bend within 5 of 4 forward"} {
		if b, err := brief.Parse(text, brief.Options{}); err != nil || b.Number != bow || b.Low == nil || b.High == nil {
			t.Errorf("%q: %+v, %v", text, b, err)
		}
	}
	if b, err := brief.Parse("bow at most 200 forward", brief.Options{}); err == nil {
		t.Errorf("a brief nobody can keep was taken: %+v", b)
	}

	// Drawn.
	result := timeline.Of(bow, kept[0].Club, []analysis.SessionValues{
		{Session: "a", At: at, Values: kept[0].Values[:10]}, {Session: "b", At: at.AddDate(0, 0, 7), Values: kept[0].Values[10:]},
	}, nil)
	picture, err := pictures.Timeline(t.Context(), pictures.TimelineInput{Title: voice.TimelineTitle(result), Numbers: []timeline.Result{result}})
	if err != nil {
		t.Fatal(err)
	}
	if image, err := png.Decode(bytes.NewReader(picture)); err != nil || image.Bounds().Dx() < 1200 {
		t.Errorf("no picture: %v", err)
	}
	if picture, err = pictures.Trial(t.Context(), pictures.TrialInput{Result: compared}); err != nil || len(picture) == 0 {
		t.Errorf("no picture of the trial: %v", err)
	}
	if alt := voice.AltTimeline(result); !strings.Contains(alt, "bow") {
		t.Errorf("the picture's text has no word of it: %q", alt)
	}
}
