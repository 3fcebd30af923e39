package cause

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/player"
)

// wellStruckCarry is the carry of the player's own best quarter, from a set
// apart.
func wellStruckCarry(p player.Player) float64 {
	set := p.Set(200, "", seeded(77))
	m := p.World.Ball
	return wellStruck(fliersOf(set.Shots, &m)).carry
}

func TestDistanceVerdicts(t *testing.T) {
	off := golfer(driver, 0, 0) // strikes all over the face
	off.Spread.StrikeToe, off.Spread.StrikeUp = 30*analysis.Millimetre, 6*analysis.Millimetre
	off.Spread.ClubSpeed, off.Spread.DynamicLoft, off.Spread.Attack = 0.3, 0.3*degree, 0.3*degree
	steady := golfer(iron, 0, 0)
	steadyCarry := wellStruckCarry(steady)

	for _, tc := range []struct {
		name   string
		p      player.Player
		target float64
		balls  int
		want   DistanceVerdict
	}{
		{"struck all over", off, wellStruckCarry(off), 80, DistanceStrike},
		{"on the number", steady, steadyCarry - 1, 40, DistanceCentred},
		{"the wrong club", steady, steadyCarry + 25, 40, DistanceClub},
		{"four balls", steady, steadyCarry + 25, 4, DistanceTooFew},
		{"no target", steady, 0, 40, DistanceNone},
	} {
		r := judged(tc.p.Set(tc.balls, "", seeded(8)), Config{Target: tc.target})
		d := r.Distance
		if d.Verdict != tc.want {
			t.Errorf("%s: %s (%.2f), want %s; miss %.1f: speed %.1f strike %.1f loft %.1f spin %.1f rest %.1f",
				tc.name, d.Verdict, d.Confidence, tc.want, d.Miss.Mean, d.Speed, d.Strike, d.Loft, d.Spin, d.Rest)
		}
		if d.Verdict != DistanceNone && d.Verdict != DistanceTooFew {
			within(t, tc.name+" parts", d.Speed+d.Strike+d.Loft+d.Spin+d.Rest, d.Miss.Mean, 1e-9)
		}
		if d.Known != (tc.target > 0) {
			t.Errorf("%s: known %v", tc.name, d.Known)
		}
	}
}

func TestDistanceWithoutSpeeds(t *testing.T) {
	p := golfer(iron, 0, 0)
	p.Device.Club, p.Device.Ball = false, false
	d := judged(p.Set(20, "", seeded(8)), Config{Target: 200}).Distance
	if !d.Known || d.Verdict != DistanceNone || !(d.Miss.High < 0) {
		t.Errorf("%+v", d)
	}
}
