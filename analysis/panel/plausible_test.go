package panel

import (
	"testing"

	"rangepost/analysis"
)

func TestTable(t *testing.T) {
	for _, w := range Worlds() {
		for _, c := range Clubs() {
			d := w.golfer.mean(c)
			l, f := w.Hit(c, 0, d, Wind{})
			toe := d
			toe.StrikeToe = 0.012
			lt, ft := w.Hit(c, 0, toe, Wind{})
			face := d
			face.Face = 3 * deg
			lf, ff := w.Hit(c, 0, face, Wind{})
			path := d
			path.Path = 3 * deg
			_, fp := w.Hit(c, 0, path, Wind{})
			t.Logf("%-10s %-6s club %4.1f ball %4.1f smash %.2f launch %4.1f spin %5.0f carry %5.1f apex %4.1f desc %4.1f t %.1f | toe12 dir %.1f ax %.1f lat %.1f smash %.2f| face3 share %.2f ax %.1f lat %.1f path lat %.1f",
				w.Name, c.Key(), d.ClubSpeed, l.Speed, l.Speed/d.ClubSpeed, l.Angle/deg, l.Spin/analysis.RevPerMinute, f.Carry, f.Apex, f.Descent/deg, f.Time,
				lt.Direction/deg, lt.Axis/deg, ft.Lateral, lt.Speed/d.ClubSpeed, lf.Direction/face.Face, lf.Axis/deg, ff.Lateral, fp.Lateral)
		}
	}
}
