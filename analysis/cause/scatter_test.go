package cause

import (
	"testing"

	"rangepost/analysis"
)

// Whoever spreads the balls owns the spread, with slopes fitted and with the
// model's.
func TestScatterOwner(t *testing.T) {
	for _, tc := range []struct {
		name               string
		face, path, strike float64 // deg, deg, mm of spread
		want               func(Shares) float64
	}{
		{"face", 3, 0.4, 2, func(s Shares) float64 { return s.Face }},
		{"path", 0.3, 4, 2, func(s Shares) float64 { return s.Path }},
		{"strike", 0.3, 0.3, 20, func(s Shares) float64 { return s.Strike }},
	} {
		for _, n := range []int{14, 60} {
			p := golfer(driver, 0, 0)
			p.Spread.Face, p.Spread.Path, p.Spread.FacePath = tc.face*degree, tc.path*degree, 0
			p.Spread.StrikeToe = tc.strike * analysis.Millimetre
			p.World.Ball.Head.GearScale = 1
			p.Device.Noise.Face, p.Device.Noise.Path, p.Device.Noise.Axis = 0.2*degree, 0.2*degree, 0.5*degree
			r := judged(p.Set(n, "", seeded(12)), Config{})
			s := r.Scatter
			if s == nil {
				t.Fatalf("%s, %d balls: no shares", tc.name, n)
			}
			within(t, "sum", s.Face+s.Path+s.Strike+s.Speed+s.Unexplained, 1, 1e-9)
			for _, v := range []float64{s.Face, s.Path, s.Strike, s.Speed, s.Unexplained} {
				if v < -1e-12 {
					t.Errorf("%s, %d balls: a negative share in %+v", tc.name, n, *s)
				}
			}
			if got := tc.want(*s); got < 0.5 {
				t.Errorf("%s, %d balls: owns %.2f of %+v", tc.name, n, got, *s)
			}
			if s.PhysicsSlopes != (n < 20) {
				t.Errorf("%d balls: physics slopes %v", n, s.PhysicsSlopes)
			}
		}
	}
}

// A path that compensates for the face takes from the spread; its share stays
// a share.
func TestScatterOfCompensation(t *testing.T) {
	p := golfer(driver, 0, 0)
	p.Spread.FacePath = 0.9
	for _, n := range []int{12, 40} {
		s := judged(p.Set(n, "", seeded(13)), Config{}).Scatter
		if s == nil || s.Path < 0 || s.Face < 0 {
			t.Errorf("%d balls: %+v", n, s)
		}
	}
	if s := judged(p.Set(7, "", seeded(13)), Config{}).Scatter; s != nil {
		t.Errorf("seven balls have shares %+v", *s)
	}
}
