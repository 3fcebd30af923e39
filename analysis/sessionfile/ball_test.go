package sessionfile

import (
	"strings"
	"testing"

	"rangepost/analysis"
)

func TestKindOfBall(t *testing.T) {
	for _, c := range []struct {
		head  string
		cells []string
		said  analysis.Ball
		want  analysis.Ball
	}{
		{"Ball", []string{"Range"}, "", analysis.RangeBall},
		{"Ball Type", []string{"range ball"}, "", analysis.RangeBall},
		{"Ball", []string{"RB"}, "", analysis.RangeBall},
		{"Ball Type", []string{"Practice"}, "", analysis.RangeBall},
		{"Balltyp", []string{"Rangeball"}, "", analysis.RangeBall},
		{"Boll", []string{"rangeboll"}, "", analysis.RangeBall},
		{"ボール種類", []string{"レンジボール"}, "", analysis.RangeBall},
		{"Ball", []string{"New"}, "", analysis.NewBall},
		{"Ball Type", []string{"Premium", "new ball"}, "", analysis.NewBall},
		{"Ball", []string{"Range", "New"}, "", analysis.UnknownBall},
		{"Ball", []string{"Range", ""}, "", analysis.UnknownBall},
		{"Ball", []string{"blue"}, "", analysis.UnknownBall},
		{"Ball", []string{"Range"}, analysis.NewBall, analysis.NewBall},
		{"Ball", []string{"Range"}, analysis.UnknownBall, analysis.UnknownBall},
	} {
		r := reading(t, windFile([]string{c.head}, c.cells), Options{Ball: c.said})
		if r.Session.Ball != c.want || len(r.Questions) > 0 || len(r.Session.Shots) != 12 {
			t.Errorf("%s %v, said %q: %q, want %q; asked %v; %v", c.head, c.cells, c.said, r.Session.Ball, c.want, r.Questions, r.Decisions)
		}
		if c.said == "" && !strings.Contains(strings.Join(r.Decisions, "\n"), "'"+c.head+"'") {
			t.Errorf("%s %v: nobody is told: %v", c.head, c.cells, r.Decisions)
		}
	}
}

// TestBallNumbers: a column called Ball with a number of its own for each is the
// balls' numbers, any other figures in it are nothing.
func TestBallNumbers(t *testing.T) {
	file := "Ball,Club,Ball Speed (mph),Launch Angle (deg),Carry (yd)\n3,7i,117.2,17.1,158\n1,7i,118.9,17.9,161\n2,7i,116.4,16.2,156\n"
	if r := reading(t, file, Options{}); r.Session.Shots[0].N != 1 || number(t, r, 0, analysis.Carry) != 161*analysis.Yard || r.Session.Ball != analysis.UnknownBall {
		t.Errorf("%+v, %v", r.Session.Shots, r.Decisions)
	}
	if r := reading(t, strings.ReplaceAll(file, "\n2,", "\n3,"), Options{}); r.Session.Shots[0].N != 1 || number(t, r, 0, analysis.Carry) != 158*analysis.Yard {
		t.Errorf("%+v, %v", r.Session.Shots, r.Decisions)
	}
}
