package impact

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A published share of the start line that the face has, at a delivery, with
// what its own author knows it to.
type shareSource struct {
	name        string
	key         string
	loft        float64 // dynamic, deg
	attack      float64 // deg
	value, sd   float64
	howItIsSeen string
}

// The shares that Sideways is the middle of. The rigid contact is what Penner
// (2001) and Jorgensen reckon with; it is one more published opinion, believed
// no better than the best measurement.
var shareSources = []shareSource{
	{"Wood et al. (2018), golfers", "driver", 12, 0, 0.76, 0.08, "[S]"},
	{"Wood et al. (2018), golfers", "7i", 27, -4, 0.69, 0.03, "[S]"},
	{"Wood et al. (2018), golfers", "pw", 40, -5, 0.61, 0.07, "[S]"},
	{"Wood et al. (2018), robot", "7i", 30, -4, 0.63, 0.04, "[S]"},
	{"Cochran and Stobbs (1968)", "7i", 24, -4, 0.65, 0.08, "[S], quoted in Wood et al.: 7 deg of a path of 20"},
	{"Sweeney et al.", "7i", 24, -4, 0.625, 0.11, "[S], quoted in Wood et al.: 10 of 16 deg"},
	{"rigid contact", "driver", 12, 0, 0.813, 0.03, "[C]"},
	{"rigid contact", "7i", 27, -4, 0.784, 0.03, "[C]"},
	{"rigid contact", "pw", 40, -5, 0.728, 0.03, "[C]"},
}

// Sideways is the mean over sources, with random effects, of what the rigid
// contact has to be multiplied by; the doubt of the share is what they differ
// by.
func TestSidewaysIsTheMeanOfItsSources(t *testing.T) {
	byName := map[string][2]float64{} // sums of weight and weighted factor
	for _, s := range shareSources {
		d := analysis.Delivery{ClubSpeed: 40, DynamicLoft: deg(s.loft), Attack: deg(s.attack)}
		left := 1 - rigid(s.key).FaceShare(d)
		factor, sd := (1-s.value)/left, s.sd/left
		sum := byName[s.name]
		byName[s.name] = [2]float64{sum[0] + 1/(sd*sd), sum[1] + factor/(sd*sd)}
		t.Logf("%-28s %-7s face has %.3f +- %.3f: %.2f times the rigid path share %s", s.name, s.key, s.value, s.sd, factor, s.howItIsSeen)
	}
	var y, v []float64
	for _, name := range []string{"Wood et al. (2018), golfers", "Wood et al. (2018), robot", "Cochran and Stobbs (1968)", "Sweeney et al.", "rigid contact"} {
		y, v = append(y, byName[name][1]/byName[name][0]), append(v, 1/byName[name][0])
	}
	r, ok := stat.NewRandomEffects(y, v, nil, stat.REML)
	if !ok {
		t.Fatal("no mean")
	}
	low, high := r.Limits(0, 0.95)
	t.Logf("mean %.3f (%.3f to %.3f), between sources %.3f", r.B[0], low, high, math.Sqrt(r.Tau2))
	if math.Abs(r.B[0]-sideways) > 0.05 {
		t.Errorf("the mean of the sources is %.3f, sideways %.3f", r.B[0], sideways)
	}
	for _, key := range []string{"driver", "7i", "pw"} {
		h := HeadOf(club(key))
		spread := math.Sqrt(r.Tau2) * (1 - rigid(key).FaceShare(h.Usual.Delivery()))
		t.Logf("%s: share %.3f, between sources %.3f, doubt %.3f", key, h.FaceShare(h.Usual.Delivery()), spread, h.Uncertainty.FaceShare)
	}
}

// A ball gets no more spin than friction can give it, whatever the calibration
// and the gear effect add.
func TestSpinNeverPassesTheGripLimit(t *testing.T) {
	for _, key := range []string{"driver", "3w", "4h", "7i", "pw", "lw"} {
		h := HeadOf(club(key))
		for loft := 5.0; loft < 85; loft += 2.5 {
			for _, up := range []float64{-0.02, 0, 0.02} {
				d := analysis.Delivery{ClubSpeed: 40, DynamicLoft: deg(loft), Face: deg(10), StrikeUp: up, StrikeToe: -up}
				a, _ := h.gripping(d)
				turned := d // by bulge and roll
				if h.Bulge > 0 {
					turned.Face -= up / h.Bulge
				}
				if h.Roll > 0 {
					turned.DynamicLoft += up / h.Roll
				}
				most := h.Friction * a * max(0, math.Cos(SpinLoft(turned))) * d.ClubSpeed / (0.4 * ballRadius)
				if got := h.Strike(d).Spin; got > most+1e-9 {
					t.Fatalf("%s at %.1f deg of loft: %.0f rpm, friction gives %.0f", key, loft, inRPM(got), inRPM(most))
				}
			}
		}
	}
}

// A lost ball speed tells how far off the middle a ball was struck, not to which
// side: a path that only one of the two answers gives is not told, and the
// limits hold the other one too.
func TestLostSpeedKeepsBothSides(t *testing.T) {
	for _, key := range []string{"driver", "3w"} {
		h := HeadOf(club(key))
		for _, toe := range []float64{-0.02, 0.02} {
			d := h.Usual.Delivery()
			d.StrikeToe = toe
			l := h.Strike(d)
			s := analysis.Shot{N: 1}.With(analysis.ClubSpeed, d.ClubSpeed).With(analysis.Attack, d.Attack).
				With(analysis.DynamicLoft, d.DynamicLoft).
				With(analysis.BallSpeed, l.Speed).With(analysis.LaunchAngle, l.Angle).With(analysis.Direction, l.Direction).
				With(analysis.Spin, l.Spin).With(analysis.SpinAxis, l.Axis)
			i, err := h.Infer(s, TypicalNoise())
			if err != nil {
				t.Fatal(err)
			}
			t.Logf("%s struck %+.0f mm: path %.1f +- %.1f deg, face %.1f +- %.1f deg", key, 1000*toe, degrees(i.Path), degrees(i.PathSD), degrees(i.Face), degrees(i.FaceSD))
			if low, high := Limits95(i.Path, i.PathSD); low > 0 || high < 0 || i.PathOK {
				t.Errorf("%s struck %+.0f mm: path %.1f to %.1f deg, told %v; it was 0", key, 1000*toe, degrees(low), degrees(high), i.PathOK)
			}
		}
	}
}

// A driver's SpinScale is the mean over what is published, with random effects. A
// launch alone, which is all that a distance standard says, is of any attack, and one
// from above takes more spin for it: each is as unsure as golfers' attacks make it.
func TestDriverSpinIsTheMeanOfItsSources(t *testing.T) {
	over := func(ballSpeed, launch, attack, spin float64) float64 { // published over rigid
		h := rigid("driver")
		d := analysis.Delivery{ClubSpeed: ballSpeed * analysis.MilePerHour / 1.47, Attack: deg(attack), DynamicLoft: deg(attack + (launch-attack)/0.83)}
		l := h.Strike(d)
		return spin * analysis.RevPerMinute / (l.Spin * ballSpeed * analysis.MilePerHour / l.Speed)
	}
	attack := degrees(HeadOf(club("driver")).Usual.AttackSD)
	y, v := []float64{1}, []float64{0.0025}
	for _, s := range [][3]float64{{176, 10, 2520}, {183, 11, 2200}} {
		sd := (over(s[0], s[1], attack, s[2]) - over(s[0], s[1], -attack, s[2])) / 2
		y, v = append(y, over(s[0], s[1], 0, s[2])), append(v, 0.0025+sd*sd)
	}
	r, ok := stat.NewRandomEffects(y, v, nil, stat.REML)
	h := HeadOf(club("driver"))
	t.Logf("over rigid %.2f, variances %.3f: mean %.3f, between sources %.3f", y, v, r.B[0], math.Sqrt(r.Tau2))
	if !ok || math.Abs(r.B[0]-h.SpinScale) > 0.03 || math.Abs(math.Sqrt(r.Tau2)-h.Uncertainty.SpinScale*h.SpinScale) > 0.06 {
		t.Errorf("the sources' mean is %.3f and their spread %.3f, the driver has %.2f and %.2f", r.B[0], math.Sqrt(r.Tau2), h.SpinScale, h.Uncertainty.SpinScale*h.SpinScale)
	}
}
