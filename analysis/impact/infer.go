package impact

import (
	"fmt"
	"math"

	"rangepost/analysis"
)

// Noise is how well a device measures: standard deviations of one reading.
// Angles in rad, speeds and spin as a fraction, strike in m.
type Noise struct {
	Direction, Angle, Axis   float64
	BallSpeed, Spin          float64
	Face, Path, Attack, Loft float64
	ClubSpeed                float64
	Strike                   float64
}

// TypicalNoise is a device of the usual quality (common practice, no source).
func TypicalNoise() Noise {
	return Noise{
		Direction: 0.5 * analysis.Degree,
		Angle:     0.5 * analysis.Degree,
		Axis:      2 * analysis.Degree,
		BallSpeed: 0.01,
		Spin:      0.05,
		Face:      1 * analysis.Degree,
		Path:      1 * analysis.Degree,
		Attack:    1 * analysis.Degree,
		Loft:      1.2 * analysis.Degree,
		ClubSpeed: 0.015,
		Strike:    3 * analysis.Millimetre,
	}
}

// A Shared unknown is the same for all balls of a set, so that more balls do
// not make it smaller.
type Shared int

// The shared unknowns.
const (
	SharedFaceShare   Shared = iota // the face's share of the start direction
	SharedSpin                      // spin of this club against the model's
	SharedRestitution               // liveliness of the face
	SharedGear                      // size of the gear effect
	SharedToe                       // where this golfer strikes the face, across
	SharedUp                        // and up it
	SharedAttack                    // this golfer's attack, where it was not measured
	SharedSpinLoft                  // this golfer's spin loft, likewise

	// NumShared is how many there are.
	NumShared = int(iota)
)

// An Inference is the delivery that a ball's own numbers point to.
type Inference struct {
	// Delivery is the most probable one, or where a lost ball speed leaves
	// open to which side of the middle it was struck, the mean by probability.
	// A number that was measured is close to its measured value, not equal to it.
	Delivery analysis.Delivery

	// Face and Path of the Delivery again, rad, with their standard deviations
	// for this one ball and the correlation of their errors: device noise,
	// model and unknown strike together.
	Face, Path     float64
	FaceSD, PathSD float64
	Correlation    float64

	// Standard deviations of the rest: rad, rad and, for the speed, m/s.
	AttackSD, LoftSD, ClubSpeedSD float64

	// FaceOK and PathOK say whether one ball tells: whether its standard
	// deviation is within MaxSD. Warnings has the reason when not.
	FaceOK, PathOK bool

	// FaceBy and PathBy are how far one standard deviation of each shared
	// unknown moves face and path, rad. They are part of FaceSD and PathSD,
	// the part that a mean over many balls keeps: to draw a set as it might as
	// well have been, draw one standard normal number for each unknown and move
	// every ball by its own FaceBy and PathBy times that number.
	FaceBy, PathBy [NumShared]float64

	Warnings []analysis.Warning
}

// MaxSD is the standard deviation, in rad, beyond which one ball does not tell
// its face or path: 95 % limits of about four degrees either side are wider
// than the faults a coach works on.
const MaxSD = 2 * analysis.Degree

// Codes of the warnings of an Inference.
const (
	// StrikeUnknown: the number in question cannot be told, and an unknown
	// strike is most of the reason (gear effect looks like face-to-path).
	StrikeUnknown = "strike_unknown"
	// AxisUnknown: it cannot be told because the spin axis was not measured.
	AxisUnknown = "axis_unknown"
	// TooNoisy: it cannot be told for any other reason.
	TooNoisy = "too_noisy"
	// UsualLoft: neither spin nor loft was measured; the club's usual attack
	// stands in.
	UsualLoft = "usual_loft"
	// Sliding: the ball slid up the face instead of gripping it, or nearly so;
	// less loft would have spun it as much, so the loft may be wrong.
	Sliding = "sliding"
	// Misfit: no likely delivery does what these numbers say; one of them is
	// probably misread, or the club is not the one named.
	Misfit = "misfit"
)

// An InputError is a number that no inference can start from.
type InputError struct {
	Shot   int             // number of the shot
	Number analysis.Number // the number at fault
	Hint   string          // what is wrong and what to do
}

func (e *InputError) Error() string {
	return fmt.Sprintf("shot %d: %s: %s", e.Shot, e.Number, e.Hint)
}

// Limits95 are the 95 % limits of a normal estimate.
func Limits95(mean, sd float64) (low, high float64) {
	const z = 1.959963984540054
	return mean - z*sd, mean + z*sd
}

// Into is the shot with the numbers of the delivery that were not measured
// filled in and marked as inferred.
func (i Inference) Into(s analysis.Shot) analysis.Shot {
	d := i.Delivery
	for _, f := range []struct {
		n analysis.Number
		v float64
	}{
		{analysis.ClubSpeed, d.ClubSpeed}, {analysis.Attack, d.Attack}, {analysis.Path, d.Path},
		{analysis.Face, d.Face}, {analysis.FaceToPath, d.Face - d.Path}, {analysis.DynamicLoft, d.DynamicLoft},
		{analysis.SpinLoft, SpinLoft(d)},
	} {
		s = s.WithInferred(f.n, f.v)
	}
	return s
}

// Infer works back from what a ball did to the delivery that did it. It uses
// whichever of launch direction, launch angle, ball speed, spin rate and spin
// axis were measured, and of the club's numbers likewise; the club's usual
// delivery and the published spread of the face share stand in for the rest.
//
// The answer is the most probable delivery given all of that, and its limits
// are those of the problem made linear there (a Gauss-Newton posterior). Where
// club and ball speed tell how far off the middle the ball was struck and not to
// which side, both answers are kept, and limits reach over both. Face
// and path themselves are not drawn toward any usual value, except that a
// missing spin axis is replaced by a usual face-to-path, 0 +- 5 degrees.
//
// It needs a launch direction, a face or a path to start from, and returns an
// *InputError when there is none or when a number cannot be a golf shot's.
func (h Head) Infer(s analysis.Shot, n Noise) (Inference, error) {
	p, err := h.problem(s, n)
	if err != nil {
		return Inference{}, err
	}
	x, covariance, ok, fits := p.solve()
	if !ok {
		return Inference{}, &InputError{s.N, analysis.Direction, "no delivery could be worked back from these numbers; check the club and the spin columns"}
	}
	cov := func(a, b int) float64 {
		i, j := p.at[a], p.at[b]
		if i < 0 || j < 0 {
			return 0
		}
		return covariance.at(i, j)
	}
	sd := func(k int) float64 { return math.Sqrt(cov(k, k)) }

	i := Inference{
		Delivery:    x.delivery(),
		Face:        x[face],
		Path:        x[path],
		FaceSD:      sd(face),
		PathSD:      sd(path),
		AttackSD:    sd(attack),
		LoftSD:      sd(loft),
		ClubSpeedSD: math.Exp(x[logSpeed]) * sd(logSpeed),
	}
	if both := i.FaceSD * i.PathSD; both > 0 {
		i.Correlation = cov(face, path) / both
	}
	i.FaceOK, i.PathOK = i.FaceSD <= MaxSD, i.PathSD <= MaxSD

	// The answer moves with the centre of a prior by covariance times the
	// prior's slope over its standard deviation.
	for k, at := range p.prior {
		if at < 0 {
			continue
		}
		b := &p.beliefs[at]
		for j, of := range b.of {
			by := b.weight[j] / (b.sd * b.sd) * h.sharedSD(Shared(k), b.sd)
			i.FaceBy[k] += cov(face, of) * by
			i.PathBy[k] += cov(path, of) * by
		}
	}
	i.Warnings = p.warnings(s, i, fits, cov)
	return i, nil
}

// sharedSD is the part of a prior's standard deviation that all balls of a set
// have in common. Of a golfer's strike that is where it centres; of the rest,
// to be safe, all of it.
func (h Head) sharedSD(k Shared, prior float64) float64 {
	if k == SharedToe || k == SharedUp {
		return h.Usual.StrikeBias
	}
	return prior
}

// strikeSD is of one ball of a golfer nothing is known of.
func (u Usual) strikeSD() float64 { return math.Hypot(u.StrikeBias, u.StrikeSpread) }
