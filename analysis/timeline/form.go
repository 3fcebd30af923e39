package timeline

import (
	"math"
	"slices"
)

// A Shape is how the effect of a lesson comes and goes.
type Shape string

// The shapes. The zero shape is not told apart.
const (
	Sudden  Shape = "sudden"  // there at once, and stays
	Gradual Shape = "gradual" // comes over several sessions, and stays
	Fading  Shape = "fading"  // there at once, and goes again
)

// A form is one course an effect may take: the share of its full size that is
// there in session k = 0, 1, ... after the lesson (Box & Tiao 1975, J. Am.
// Stat. Assoc. 70:70: step, ramp and decaying pulse [M]). chance is what is
// thought of it beforehand: two in three are sudden, the rest comes or goes
// over sessions in equal parts (our choice).
type form struct {
	shape  Shape
	chance float64
	at     func(k int) float64
}

var forms = []form{
	{Sudden, 12. / 18, func(int) float64 { return 1 }},
	{Gradual, 1. / 18, over(3)},
	{Gradual, 1. / 18, over(5)},
	{Gradual, 1. / 18, over(8)},
	{Fading, .75 / 18, halved(2)},
	{Fading, .75 / 18, halved(4)},
	{Fading, .75 / 18, goneAt(6)},
	{Fading, .75 / 18, goneAt(10)},
}

// even are the forms with the same chance for every shape: of the lessons
// before those that are judged nothing is presumed.
var even = func() []form {
	count := map[Shape]float64{}
	for _, f := range forms {
		count[f.shape]++
	}
	all := slices.Clone(forms)
	for i, f := range all {
		all[i].chance = 1 / (count[f.shape] * float64(len(count)))
	}
	return all
}()

// over is an effect that comes in equal parts over n sessions.
func over(n float64) func(int) float64 {
	return func(k int) float64 { return min(1, float64(k+1)/n) }
}

// halved is an effect of which half is left after n sessions.
func halved(n float64) func(int) float64 {
	return func(k int) float64 { return math.Exp2(-float64(k) / n) }
}

// goneAt is an effect that goes in equal parts, and is gone after n sessions.
func goneAt(n float64) func(int) float64 {
	return func(k int) float64 { return max(0, 1-float64(k)/n) }
}
