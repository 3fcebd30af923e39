package asked_test

import (
	"errors"
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/asked"
	"rangepost/analysis/shotmaker"
)

// TestPhrases reads what another hand holds golfers to type, in every language:
// every shot as what it says, nothing taken for a shot that is none.
func TestPhrases(t *testing.T) {
	right, rare, of := 0, 0, 0
	for _, p := range shotmaker.Phrases() {
		shot, ok, err := asked.Label(p.Text, asked.Options{Hand: p.Hand})
		var refusal *analysis.Refusal
		if err != nil && !errors.As(err, &refusal) {
			t.Errorf("%q: %T %v", p.Text, err, err)
		}
		wrong := ""
		switch p.Means {
		case shotmaker.AShot:
			if !ok {
				wrong = "is not taken for a shot"
			} else {
				wrong = disagrees(shot, p.Says)
			}
		case shotmaker.MustAsk:
			if ok {
				wrong = "is taken for a shot and has to be asked"
			}
		case shotmaker.Plain:
			if ok || err != nil {
				wrong = "is a plain label"
			}
		case shotmaker.NoShot:
			if ok {
				wrong = "is no shot"
			}
		}
		switch {
		case wrong != "" && p.Rare:
			rare++
			t.Logf("rare: %s, %v: %q %s (%v)", p.Lang, p.Hand, p.Text, wrong, err)
		case wrong != "":
			t.Errorf("%s, %v: %q %s (%v; %+v)", p.Lang, p.Hand, p.Text, wrong, err, shot.Asks)
		default:
			right++
		}
		of++
	}
	t.Logf("%d of %d right, %d rare ones not", right, of, rare)
}

// disagrees says what of a shot is not as said, "" where all is.
func disagrees(s asked.Shot, says shotmaker.Says) string {
	scale := analysis.Yard
	switch says.Unit {
	case "m":
		scale = 1
	case "ft":
		scale = analysis.Yard / 3
	}
	same := func(a, b float64) bool { return math.Abs(a-b) < 1e-6 }
	start, curve, height, carry := s.Asks[asked.Start], s.Asks[asked.Curve], s.Asks[asked.Height], s.Asks[asked.Carry]
	switch {
	case says.Straight && (!curve.OK || curve.Side != 0):
		return "asks for a curve"
	case says.Start != 0 && (!start.OK || start.Side != says.Start):
		return "starts on another side"
	case says.Curve != 0 && (!curve.OK || curve.Side != says.Curve):
		return "curves to another side"
	case says.Height != 0 && (!height.OK || height.Side != says.Height):
		return "has another height"
	case says.Short && (!carry.OK || carry.Side != -1):
		return "is not short"
	case says.StartBy != 0 && !same(start.Amount, says.StartBy*analysis.Degree):
		return "starts at another angle"
	case says.CurveBy != 0 && !same(curve.Amount, says.CurveBy*scale):
		return "curves another amount"
	case says.Apex != 0 && !same(height.Amount, says.Apex*scale):
		return "has another apex"
	case says.Carry != 0 && !same(carry.Amount, says.Carry*scale):
		return "has another carry"
	}
	return ""
}
