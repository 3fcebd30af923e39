package sessionfile

import (
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
)

// TestPastes are tables as people paste and type them.
func TestPastes(t *testing.T) {
	for _, c := range []struct {
		name, text string
		want       []map[analysis.Number]float64 // in yards, miles an hour, degrees, rpm; right positive
	}{
		{"aligned", "Ball Spd   Launch   Spin   Carry yd  Side\n120.5      17.2     6100   161       8R\n118.9      18.0     6350   157       3L\n121.3      16.8     5990   163       1R\n",
			[]map[analysis.Number]float64{{analysis.BallSpeed: 120.5, analysis.Carry: 161, analysis.Lateral: 8}, {analysis.Lateral: -3, analysis.Spin: 6350}, {analysis.LaunchAngle: 16.8}}},
		{"markdown", "```\n| Club | Carry (yd) | Launch Angle |\n|------|-----------:|:------------:|\n| 7i   | 152        | 17.5         |\n| 7i   | 149        | 18.1         |\n| 7i   | 155        | 16.9         |\n```\n",
			[]map[analysis.Number]float64{{analysis.Carry: 152, analysis.LaunchAngle: 17.5}, {analysis.Carry: 149}, {analysis.Carry: 155}}},
		{"typed lines", "carry 152 yd, 8 right, launch 17\ncarry 149 yd, 2 left, launch 18\ncarry 155 yd, 11 right, launch 16.5\n",
			[]map[analysis.Number]float64{{analysis.Carry: 152, analysis.Lateral: 8, analysis.LaunchAngle: 17}, {analysis.Lateral: -2}, {analysis.Carry: 155, analysis.Lateral: 11}}},
		{"numbered lines", "1: 7i, carry 152y, side 8R, face 1.5 open\n2: 7i, carry 149y, side 2L, face 0.5 closed\n3: 7i, carry 155y, side 11R, face 3 open\n",
			[]map[analysis.Number]float64{{analysis.Carry: 152, analysis.Lateral: 8, analysis.Face: 1.5}, {analysis.Face: -0.5}, {analysis.Face: 3}}},
		{"single spaces", "carry launch spin\n152m 17.2 6100\n149m 18.1 6300\n150m 17.0 6240\n",
			[]map[analysis.Number]float64{{analysis.LaunchAngle: 17.2, analysis.Spin: 6100}, {analysis.Spin: 6300}, {}}},
		{"a blank cell", "Club  Carry(yd)  Face   Path\n7i    152        1.5 R  0.5 R\n7i               2.0 L  3.0 R\n7i    149        0.4 R  1.1 L\n",
			[]map[analysis.Number]float64{{analysis.Carry: 152, analysis.Face: 1.5}, {analysis.Face: -2, analysis.Path: 3}, {analysis.Path: -1.1}}},
		{"German", "Carry (m); Abweichung (m); Startwinkel\n139,5; 4,2 R; 17,1\n141,0; 3,1 L; 16,4\n136,2; 0,8 R; 18,0\n",
			[]map[analysis.Number]float64{{analysis.Carry: 139.5 / 0.9144, analysis.Lateral: 4.2 / 0.9144, analysis.LaunchAngle: 17.1}, {analysis.Lateral: -3.1 / 0.9144}, {}}},
	} {
		r, err := Read("paste", []byte(c.text), Options{HandSet: true})
		if err != nil {
			t.Errorf("%s: %v", c.name, err)
			continue
		}
		if len(r.Session.Shots) != len(c.want) {
			t.Errorf("%s: %d shots, want %d: %q", c.name, len(r.Session.Shots), len(c.want), r.Decisions)
			continue
		}
		for i, want := range c.want {
			for n, v := range want {
				unit := map[analysis.Kind]float64{analysis.Angle: analysis.Degree, analysis.Length: analysis.Yard, analysis.Speed: analysis.MilePerHour, analysis.Rate: analysis.RevPerMinute}[n.Info().Kind]
				got, ok := r.Session.Shots[i].Value(n)
				if !ok || math.Abs(got/unit-v) > 1e-6 {
					t.Errorf("%s: ball %d has %s %v (%v), want %v: asked %v, %s", c.name, i+1, n, got/unit, ok, v, r.Questions, strings.Join(r.Decisions, "; "))
				}
			}
		}
	}
}
