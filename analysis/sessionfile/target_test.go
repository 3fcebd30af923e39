package sessionfile

import (
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
)

func TestTargetColumns(t *testing.T) {
	seven, err := analysis.ParseClub("7i")
	if err != nil {
		t.Fatal(err)
	}
	left := []string{"3", "8", "1", "12", "5", "9", "15", "2", "7", "4", "11", "6"}
	for _, c := range []struct {
		head  string
		cells []string
		want  float64 // yd, 0 for none
	}{
		{"Target Distance (yd)", []string{"165"}, 165},
		{"Target (yd)", []string{"165"}, 165},
		{"Target", []string{"165"}, 165}, // in the carry's unit
		{"Pin Distance (yd)", []string{"165"}, 165},
		{"Hole Distance (yd)", []string{"165"}, 165},
		{"Flag (yd)", []string{"165"}, 165},
		{"Aim (m)", []string{"150"}, 150 / analysis.Yard},
		{"Distance to Target (yd)", []string{"165"}, 165},
		{"Distance to Pin", []string{"165 yd"}, 165},
		{"Ziel (m)", []string{"150"}, 150 / analysis.Yard},
		{"Distance to Target (yd)", left, 0},
		{"Target (yd)", left, 0},
		{"Target", []string{"back left"}, 0},
		{"Aim (deg)", []string{"1.5", "-0.5"}, 0},
		{"Aim", []string{"0"}, 0},
	} {
		r := reading(t, windFile([]string{c.head}, c.cells), Options{})
		if len(r.Questions) > 0 || math.Abs(r.Targets[seven]/analysis.Yard-c.want) > 1e-9 || len(r.Session.Shots) != 12 {
			t.Errorf("%s %v: target %v, want %v yd; asked %v; %v", c.head, c.cells[0], r.Targets, c.want, r.Questions, r.Decisions)
		}
		if c.want == 0 && c.cells[0] != "0" && !strings.Contains(strings.Join(r.Decisions, "\n"), "'"+c.head+"'") {
			t.Errorf("%s: nobody is told: %v", c.head, r.Decisions)
		}
	}
}

// TestTargetsByTurns: each club's own is still one where the clubs take turns.
func TestTargetsByTurns(t *testing.T) {
	file := "Club,Target (yd),Ball Speed (mph),Launch Angle (deg),Carry (yd)\n"
	for i := range 4 {
		file += []string{"7i,160,117.2,17.1,158.2\npw,110,97.3,25.2,109.3\n", "7i,160,118.4,17.7,161.1\npw,110,98.8,26.3,112.7\n",
			"7i,160,116.1,18.1,156.9\npw,110,96.9,24.4,108.8\n", "7i,160,117.9,16.8,159.4\npw,110,97.8,25.8,110.2\n"}[i]
	}
	r := reading(t, file, Options{})
	if len(r.Targets) != 2 || len(r.Questions) > 0 {
		t.Errorf("%v; asked %v; %v", r.Targets, r.Questions, r.Decisions)
	}
}
