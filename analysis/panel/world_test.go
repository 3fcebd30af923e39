package panel

import (
	"testing"

	"rangepost/analysis"
)

// What the trade knows of each club, square and in still air: common practice,
// no source. Range balls may fall a tenth short.
func TestEveryWorldIsPlausible(t *testing.T) {
	type span struct{ low, high float64 }
	for _, c := range []struct {
		club                                    string
		speed, smash, launch, spin, carry, apex span
	}{
		{"driver", span{43, 50}, span{1.40, 1.50}, span{9, 14}, span{2200, 3400}, span{200, 260}, span{18, 36}},
		{"3w", span{40, 47}, span{1.38, 1.50}, span{9, 14}, span{3000, 4500}, span{185, 240}, span{17, 36}},
		{"4h", span{38, 45}, span{1.36, 1.47}, span{11, 16}, span{3900, 5400}, span{165, 215}, span{20, 38}},
		{"5i", span{36, 43}, span{1.35, 1.46}, span{12, 17}, span{4500, 5900}, span{155, 200}, span{20, 38}},
		{"7i", span{34, 41}, span{1.28, 1.40}, span{15, 20}, span{5500, 7500}, span{135, 180}, span{20, 38}},
		{"pw", span{31, 38}, span{1.10, 1.28}, span{20, 29}, span{7000, 9600}, span{95, 130}, span{16, 32}},
		{"56", span{29, 36}, span{1.00, 1.18}, span{24, 34}, span{7800, 11000}, span{75, 105}, span{14, 30}},
	} {
		for _, w := range Worlds() {
			club, err := analysis.ParseClub(c.club)
			if err != nil {
				t.Fatal(err)
			}
			d := w.golfer.mean(club)
			l, f := w.Hit(club, analysis.RightHanded, d, Wind{})
			t.Logf("%-10s %-6s club %.1f smash %.2f launch %4.1f spin %5.0f carry %5.1f apex %4.1f down %4.1f time %.1f",
				w.Name, c.club, d.ClubSpeed, l.Speed/d.ClubSpeed, l.Angle/deg, l.Spin/analysis.RevPerMinute, f.Carry, f.Apex, f.Descent/deg, f.Time)
			carry := c.carry
			if w.Ball == analysis.RangeBall {
				carry.low *= 0.9
			}
			for _, v := range []struct {
				what string
				got  float64
				want span
			}{
				{"club speed", d.ClubSpeed, c.speed},
				{"smash", l.Speed / d.ClubSpeed, c.smash},
				{"launch", l.Angle / deg, c.launch},
				{"spin", l.Spin / analysis.RevPerMinute, c.spin},
				{"carry", f.Carry, carry},
				{"apex", f.Apex, c.apex},
				{"descent", f.Descent / deg, span{28, 57}},
				{"flight time", f.Time, span{4, 7.5}},
			} {
				if v.got < v.want.low || v.got > v.want.high {
					t.Errorf("%s, %s: %s %.2f, want %v to %v", w.Name, c.club, v.what, v.got, v.want.low, v.want.high)
				}
			}
			if off := max(l.Direction, -l.Direction, f.Lateral, -f.Lateral, l.Axis, -l.Axis); off > 1e-9 {
				t.Errorf("%s, %s: a square delivery goes %v sideways", w.Name, c.club, f.Lateral)
			}
		}
	}
}

func TestThePanelIsWhatItSays(t *testing.T) {
	worlds := Worlds()
	if len(worlds) < 10 {
		t.Errorf("%d worlds, want ten or more", len(worlds))
	}
	held, names := 0, map[string]bool{}
	for _, w := range worlds {
		if names[w.Name] {
			t.Errorf("two worlds are called %q", w.Name)
		}
		names[w.Name] = true
		if w.HeldOut {
			held++
		}
		if got := WorldNamed(w.Name); got == nil || got.Name != w.Name {
			t.Errorf("no world is found by the name %q", w.Name)
		}
	}
	if held != 2 || WorldNamed("nowhere") != nil {
		t.Errorf("%d worlds are held out, want 2", held)
	}
}
