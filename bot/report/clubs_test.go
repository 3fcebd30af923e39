package report_test

import (
	"errors"
	"math/rand/v2"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/player"
	"rangepost/analysis/sessionfile"
	"rangepost/bot/report"
)

// hit is so many balls of a club, its face that much right of target, deg, in a set.
func hit(tb testing.TB, club, label string, face float64, n, from int) []analysis.Shot {
	tb.Helper()
	c, err := analysis.ParseClub(club)
	if err != nil && club != "" {
		tb.Fatal(err)
	}
	with := c
	if club == "" {
		with = analysis.Club{Family: analysis.Iron, Number: 6}
	}
	d := player.Typical(with)
	d.Face = face * analysis.Degree
	rng := rand.New(rand.NewPCG(7, uint64(from)))
	p := player.Player{
		Club: with, Delivery: d, Spread: player.TypicalSpread(0.6), World: player.Foreign(with, analysis.RightHanded, rng),
		Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	shots := p.Shots(n, label, rng)
	for i := range shots {
		shots[i].N, shots[i].Club, shots[i].Label = from+i, c, label
	}
	return shots
}

// Labelled sets of several clubs are compared club by club, and every line says of
// which club it is: what is true of the driver's strong grip is not of the 7-iron's.
func TestSeveralClubs(t *testing.T) {
	var s analysis.Session
	for _, of := range []struct {
		club, label string
		face        float64
		n           int
	}{
		{"driver", "normal", 0, 12}, {"driver", "strong grip", -4, 12}, {"7i", "normal", 0, 12}, {"7i", "strong grip", 0, 12},
		{"pw", "tee low", 0, 8}, {"pw", "tee high", 0, 8}, {"", "", 3, 3},
	} {
		s.Shots = append(s.Shots, hit(t, of.club, of.label, of.face, of.n, len(s.Shots)+1)...)
	}
	reading := sessionfile.Reading{Session: s}
	iron := analysis.Club{Family: analysis.Iron, Number: 9}
	r, err := report.Of(t.Context(), reading, report.Options{Baseline: "normal", Targets: analysis.Targets{iron: 110}})
	if err != nil {
		t.Fatal(err)
	}
	var bases []string
	for _, trial := range r.Trials {
		bases = append(bases, trial.Sets[0].Club.Key()+" "+trial.Sets[0].Label)
	}
	if got := strings.Join(bases, ", "); got != "driver normal, 7i normal, pw tee low" {
		t.Errorf("baselines are %s", got)
	}
	said := r.Sentences()
	names := map[string]int{"Driver": 0, "7-iron": 0, "Pitching wedge": 0, "Balls without a club": 0}
	moved := ""
	for _, line := range said {
		name, _, _ := strings.Cut(strings.SplitN(line, ": ", 2)[0], ",")
		if _, ok := names[name]; ok {
			names[name]++
		} else if !strings.Contains(line, "full swings") && line != "A target was given for the 9-iron, and no ball of the file was hit with it." && !strings.HasPrefix(line, "This is a coach's aid") {
			t.Errorf("of which club is %q?", line)
		}
		if strings.Contains(line, "moved: sideways finish") {
			moved += name + " "
		}
	}
	if moved != "Driver " {
		t.Errorf("the finish of %q is said to have moved", moved)
	}
	for name, lines := range names {
		if lines < 3 {
			t.Errorf("%d lines about %s in\n%s", lines, name, strings.Join(said, "\n"))
		}
	}
	all := strings.Join(said, "\n")
	for _, says := range []string{"Balls without a club: balls 65 to 67 name no club in the file", "A target was given for the 9-iron"} {
		if !strings.Contains(all, says) {
			t.Errorf("%q is not said:\n%s", says, all)
		}
	}

	var why *analysis.Refusal
	if _, err := r.Against("upside down"); !errors.As(err, &why) || !strings.Contains(why.Error(), `"strong grip"`) {
		t.Errorf("a baseline that no club has: %v", err)
	}
	if _, err := r.Against("tee high"); err != nil {
		t.Errorf("a baseline that one club has: %v", err)
	}
}
