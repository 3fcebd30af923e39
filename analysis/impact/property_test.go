package impact

import (
	"math"
	"math/rand/v2"
	"testing"

	"pgregory.net/rapid"

	"rangepost/analysis"
)

var clubs = []string{"driver", "3w", "5w", "4h", "3i", "5i", "7i", "9i", "pw", "52", "56", "60"}

func anyHead(t *rapid.T) Head {
	return HeadOf(club(rapid.SampledFrom(clubs).Draw(t, "club")))
}

func anyDelivery(t *rapid.T) analysis.Delivery {
	attack := rapid.Float64Range(-8, 6).Draw(t, "attack")
	return analysis.Delivery{
		ClubSpeed:   rapid.Float64Range(15, 55).Draw(t, "speed"),
		Attack:      deg(attack),
		DynamicLoft: deg(attack + rapid.Float64Range(4, 58).Draw(t, "spin loft")),
		Path:        deg(rapid.Float64Range(-12, 12).Draw(t, "path")),
		Face:        deg(rapid.Float64Range(-12, 12).Draw(t, "face")),
		StrikeToe:   rapid.Float64Range(-0.02, 0.02).Draw(t, "toe"),
		StrikeUp:    rapid.Float64Range(-0.015, 0.015).Draw(t, "up"),
	}
}

func TestMirror(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d := anyHead(t), anyDelivery(t)
		a := h.Strike(d)
		h.Hand = analysis.LeftHanded
		d.Face, d.Path = -d.Face, -d.Path
		b := h.Strike(d)
		for _, off := range []float64{a.Speed - b.Speed, a.Angle - b.Angle, a.Direction + b.Direction, a.Spin - b.Spin, math.Remainder(a.Axis+b.Axis, 2*math.Pi)} {
			if !(math.Abs(off) <= 1e-9) {
				t.Fatalf("not a mirror image: %+v, %+v", a, b)
			}
		}
	})
}

// TestStartIsBetweenFaceAndPath holds for a strike in the middle.
func TestStartIsBetweenFaceAndPath(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d := anyHead(t), anyDelivery(t)
		d.StrikeToe, d.StrikeUp = 0, 0
		start := h.Strike(d).Direction
		if start < min(d.Face, d.Path)-1e-12 || start > max(d.Face, d.Path)+1e-12 {
			t.Fatalf("face %.2f path %.2f start %.2f deg", degrees(d.Face), degrees(d.Path), degrees(start))
		}
	})
}

// TestFaceShareIsTheSlope of the start direction for small angles.
func TestFaceShareIsTheSlope(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d := anyHead(t), anyDelivery(t)
		d.StrikeToe, d.StrikeUp, d.Path = 0, 0, 0
		d.Face = 1e-5
		if got, want := h.FaceShare(d), h.Strike(d).Direction/d.Face; math.Abs(got-want) > 1e-5 {
			t.Fatalf("share %.6f, slope %.6f", got, want)
		}
	})
}

// TestEnergyNeverGrows: head and ball together have no more after the impact.
func TestEnergyNeverGrows(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		h, d := anyHead(t), anyDelivery(t)
		d.StrikeToe, d.StrikeUp = 0, 0
		l := h.Strike(d)
		ball, v := toward(l.Angle, l.Direction), toward(d.Attack, d.Path)
		k := ballMass / h.Mass * l.Speed
		left := vec{d.ClubSpeed*v.x - k*ball.x, d.ClubSpeed*v.y - k*ball.y, d.ClubSpeed*v.z - k*ball.z}
		after := h.Mass*left.dot(left) + ballMass*l.Speed*l.Speed + 0.4*ballMass*ballRadius*ballRadius*l.Spin*l.Spin
		if before := h.Mass * d.ClubSpeed * d.ClubSpeed; after > before {
			t.Fatalf("energy %.2f before, %.2f J after", before/2, after/2)
		}
	})
}

func TestNoMissedBall(t *testing.T) {
	h := HeadOf(club("7i"))
	for _, d := range []analysis.Delivery{{}, {ClubSpeed: 30, DynamicLoft: deg(91)}, {ClubSpeed: 30, Face: math.Pi}} {
		if l := h.Strike(d); l != (analysis.Launch{}) {
			t.Errorf("%+v launched the ball: %+v", d, l)
		}
	}
}

func TestHeadOfEveryClub(t *testing.T) {
	for _, c := range append(clubs, "putter", "lw", "sw", "gw", "") {
		h := HeadOf(club(c))
		l := h.Strike(h.Usual.Delivery())
		if !(l.Speed > h.Usual.ClubSpeed*0.8 && l.Speed < h.Usual.ClubSpeed*1.6 && l.Angle > 0) {
			t.Errorf("%q: a usual delivery %+v launches %+v", c, h.Usual.Delivery(), l)
		}
	}
	if a, b := HeadOf(analysis.Club{}), HeadOf(club("7i")); a != b {
		t.Errorf("an unknown club is %+v, a 7-iron %+v", a, b)
	}
}

func TestPerturbed(t *testing.T) {
	h := HeadOf(club("7i"))
	d := h.Usual.Delivery()
	rng := rand.New(rand.NewPCG(1, 1))
	const n = 20000
	var share, share2, spin2 float64
	for range n {
		p := h.Perturbed(rng)
		s := p.FaceShare(d) - h.FaceShare(d)
		share += s / n
		share2 += s * s / n
		ratio := math.Log(p.SpinScale / h.SpinScale)
		spin2 += ratio * ratio / n
	}
	if sd := math.Sqrt(share2); math.Abs(share) > 0.002 || math.Abs(sd/h.Uncertainty.FaceShare-1) > 0.05 {
		t.Errorf("face share moved by %.4f +- %.4f, want 0 +- %.4f", share, sd, h.Uncertainty.FaceShare)
	}
	if sd := math.Sqrt(spin2); math.Abs(sd/h.Uncertainty.SpinScale-1) > 0.05 {
		t.Errorf("spin scale spread %.4f, want %.4f", sd, h.Uncertainty.SpinScale)
	}
	h.Uncertainty = Uncertainty{}
	if h.Perturbed(rng) != h {
		t.Error("a head known exactly was perturbed")
	}
}
