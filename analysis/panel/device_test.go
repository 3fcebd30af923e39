package panel

import (
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"rangepost/analysis"
)

// A device's readings are scattered about the truth as it says, turned by how
// askew it stands, and rounded.
func TestReadings(t *testing.T) {
	const n = 20_000
	b := Ball{
		Delivery: analysis.Delivery{ClubSpeed: 40, Attack: -3 * deg, Path: 2 * deg, Face: -1 * deg, DynamicLoft: 22 * deg, StrikeToe: 0.004, StrikeUp: -0.002},
		Launch:   analysis.Launch{Speed: 54, Angle: 17 * deg, Direction: -0.5 * deg, Spin: 600, Axis: -5 * deg},
		Flight:   Flight{Carry: 150, Lateral: -6, Apex: 25, Descent: 44 * deg, Time: 6},
	}
	for _, d := range []device{{noise: 1}, {noise: 2, askew: 0.7 * deg, metric: true}, {noise: 1, heavy: true}} {
		rng := rand.New(rand.NewPCG(3, 4))
		got := map[analysis.Number][]float64{}
		for range n {
			s := d.read(analysis.Shot{}, b, rng)
			for _, number := range measured {
				v, ok := s.Value(number)
				if !ok {
					t.Fatalf("%v is not read", number)
				}
				got[number] = append(got[number], v)
			}
		}
		turned := 150 * math.Sin(math.Asin(-6.0/150)+d.askew)
		// One reading in twelve at four times the deviation: 1 + 15/12 of the variance.
		more := d.noise
		if d.heavy {
			more *= math.Sqrt(1 + 15.0/12)
		}
		for _, c := range []struct {
			number   analysis.Number
			mean, sd float64
		}{
			{analysis.Face, -1*deg + d.askew, 0.5 * deg},
			{analysis.Path, 2*deg + d.askew, 0.5 * deg},
			{analysis.Direction, -0.5*deg + d.askew, 0.25 * deg},
			{analysis.DynamicLoft, 22 * deg, 0.5 * deg},
			{analysis.Lateral, turned, 0.3},
			{analysis.Carry, 150, math.Hypot(0.3, 0.75)},
			{analysis.Spin, 600, 12},
			{analysis.StrikeToe, 0.004, 0.002},
		} {
			sd := c.sd * more
			near(t, c.number.String()+" mean", stat.Mean(got[c.number], nil), c.mean, 5*sd/math.Sqrt(n))
			near(t, c.number.String()+" deviation", stat.StdDev(got[c.number], nil)/sd, 1, 0.05)
		}
		for _, v := range got[analysis.Face] {
			if off := math.Remainder(v, 0.1*deg); math.Abs(off) > 1e-9 {
				t.Fatalf("face %v deg is not in tenths", v/deg)
			}
		}
		if fat := stat.ExKurtosis(got[analysis.Face], nil); d.heavy != (fat > 2) {
			t.Errorf("excess kurtosis %.2f, wild readings %v", fat, d.heavy)
		}
	}
}

func TestColumnsHoldWhatTheySay(t *testing.T) {
	c := Case{World: Worlds()[0], Club: Clubs()[0], Balls: 2, Kind: FaceOff, Seed: 1}
	has := func(n ...analysis.Number) []analysis.Number { return n }
	finish := has(analysis.Carry, analysis.Lateral)
	for columns, want := range map[Columns]struct{ in, out []analysis.Number }{
		Everything:   {has(analysis.ClubSpeed, analysis.Attack, analysis.Path, analysis.Face, analysis.FaceToPath, analysis.DynamicLoft, analysis.SpinLoft, analysis.StrikeToe, analysis.StrikeUp, analysis.BallSpeed, analysis.Smash, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis, analysis.Apex, analysis.Descent, analysis.FlightTime), has(analysis.Lie, analysis.Total, analysis.LateralTotal)},
		NoStrike:     {has(analysis.Face, analysis.SpinAxis), has(analysis.StrikeToe, analysis.StrikeUp)},
		NoAxis:       {has(analysis.Face, analysis.Spin, analysis.StrikeToe), has(analysis.SpinAxis)},
		BallOnly:     {has(analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis), has(analysis.ClubSpeed, analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Attack, analysis.DynamicLoft, analysis.SpinLoft, analysis.Smash, analysis.StrikeToe)},
		ClubAndEnd:   {has(analysis.ClubSpeed, analysis.Face, analysis.Path, analysis.Attack, analysis.DynamicLoft), has(analysis.BallSpeed, analysis.LaunchAngle, analysis.Direction, analysis.Spin, analysis.SpinAxis, analysis.Smash)},
		FacePathEnd:  {has(analysis.Face, analysis.Path), has(analysis.ClubSpeed, analysis.FaceToPath, analysis.Attack, analysis.Direction, analysis.Apex)},
		NoClubSpeed:  {has(analysis.BallSpeed, analysis.Face), has(analysis.ClubSpeed, analysis.Smash)},
		NoLoftAttack: {has(analysis.ClubSpeed, analysis.Face), has(analysis.DynamicLoft, analysis.Attack, analysis.SpinLoft)},
		SpeedSmash:   {has(analysis.ClubSpeed, analysis.Smash, analysis.LaunchAngle, analysis.Direction), has(analysis.BallSpeed, analysis.Face, analysis.Path, analysis.FaceToPath, analysis.DynamicLoft)},
	} {
		c.Columns = columns
		s, _ := c.Play()
		for _, n := range append(finish, want.in...) {
			if !s.Shots[1].Measured(n) {
				t.Errorf("%s lacks %v", columns, n)
			}
		}
		for _, n := range want.out {
			if s.Shots[1].Has(n) {
				t.Errorf("%s has %v", columns, n)
			}
		}
	}
}
