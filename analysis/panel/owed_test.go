package panel

import "testing"

func TestOwed(t *testing.T) {
	for _, c := range []struct {
		name       string
		s          Split
		face, path float64 // deg
		want       Label
		margin     float64
	}{
		{"nothing", Split{}, 0, 0, Centred, 1},
		{"just inside", Split{Miss: 2.7, Face: 2.7}, 3, 0, Centred, 0.1},
		{"leaning", Split{Miss: 1.5, Face: 20, Path: -18.5}, 4, 7, Centred, 0.5},
		{"on the border", Split{Miss: -3, Face: -3}, -3, 0, Centred, 0},
		{"just outside", Split{Miss: -3.3, Face: -3.3}, -3, 0, Face, 0.1},
		{"face", Split{Miss: 12, Face: 12}, 4, 0, Face, 1.0 / 3},
		{"face against path", Split{Miss: 12, Face: 24, Path: -12}, 6, 3, Face, 1},
		{"path", Split{Miss: -10, Face: -1, Path: -9}, -0.4, 5, Path, 1.0/3 - 0.1},
		{"both", Split{Miss: 10, Face: 5, Path: 5}, 2, -3, FaceAndPath, 1.0 / 6},
		{"aim right", Split{Miss: 9, Face: 20, Path: -11}, 3, 3.4, Aim, 0.6},
		{"aim left", Split{Miss: -9, Face: -20, Path: 11}, -3, -2.5, Aim, 0.5},
		{"barely an aim", Split{Miss: 9, Face: 20, Path: -11}, 3, 3.95, Aim, 0.05},
		{"no aim: too far apart", Split{Miss: 9, Face: 20, Path: -11}, 3, 4.05, Face, 0.05},
		{"no aim: the miss is the other way", Split{Miss: -9, Face: 20, Path: -29}, 3, 3, Path, 1},
		{"strike", Split{Miss: 10, Face: 1, Strike: 8, Wind: 1}, 0.3, 0, Strike, (8 - 3) / 9.0},
		{"strike against the rest", Split{Miss: 10, Strike: -5, Wind: 15}, 0, 0, Unexplained, (5 + 10/3.0) / 10},
		{"wind", Split{Miss: 10, Face: 2, Wind: 8}, 0.5, 0, Unexplained, 1.0 / 3},
		{"rest and face nearly even", Split{Miss: 10, Face: 5.1, Wind: 4.9}, 2, 0, Face, 0.02},
	} {
		label, margin := c.s.owed(3, c.face*deg, c.path*deg)
		if label != c.want {
			t.Errorf("%s: %s, want %s", c.name, label, c.want)
		}
		near(t, c.name+": margin", margin, c.margin, 1e-9)
	}
}
