package cause

import (
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/player"
)

const degree = analysis.Degree

var (
	driver = analysis.Club{Family: analysis.Driver}
	iron   = analysis.Club{Family: analysis.Iron, Number: 7}
	wedge  = analysis.Club{Family: analysis.Wedge, Wedge: "pw"}
)

// golfer is a steady player of the standard world with a device that sees
// everything; face and path in degrees.
func golfer(c analysis.Club, face, path float64) player.Player {
	p := player.Player{
		Club: c, Delivery: player.Typical(c), Spread: player.TypicalSpread(1),
		World:  player.Standard(c, analysis.RightHanded),
		Device: player.Device{Club: true, Strike: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	p.Delivery.Face, p.Delivery.Path = face*degree, path*degree
	return p
}

func seeded(seed uint64) *rand.Rand { return rand.New(rand.NewPCG(seed, 11)) }

// judged is the whole analysis of a set.
func judged(set analysis.Set, c Config) Result {
	_, _, r := Judge(set, c)
	return r
}

// within checks got against want to an absolute tolerance.
func within(t *testing.T, what string, got, want, tol float64) {
	t.Helper()
	if !(math.Abs(got-want) <= tol) {
		t.Errorf("%s = %.12g, want %.12g (tolerance %g)", what, got, want, tol)
	}
}
