package sessionfile

import (
	"math"
)

// A robustLine is how one thing goes with another, y = at(x), by its middle and its slope.
type robustLine struct {
	middle, height    float64 // it goes through here
	slope             float64
	doubt, slopeDoubt float64 // standard errors
	reach             float64 // three deviations of x about the middle
}

func (l robustLine) at(x float64) float64 { return l.height + l.slope*(x-l.middle) }

// fitLine is the line through points of which up to half may be anything:
// repeated medians (Siegel 1982, Robust regression using repeated medians, Biometrika
// 69:242 [M]), drawn toward level and zero by what is known beforehand, as for
// normal values: noise is the deviation of y about the line, steep that of slopes and high
// that of heights.
func fitLine(x, y []float64, noise, steep, high float64) (l robustLine) {
	l.doubt, l.slopeDoubt = high, steep
	if len(x) == 0 {
		return l
	}
	l.middle = median(x)
	away := make([]float64, len(x))
	for i := range x {
		away[i] = math.Abs(x[i] - l.middle)
	}
	wide := 1.4826 * median(away)
	l.reach = 3 * wide
	n := float64(len(x))
	// Medians scatter more than means do by pi/2 in variance.
	const dearer = math.Pi / 2
	if len(x) >= enough && wide > 0 && steep > 0 {
		v := dearer * noise * noise / (n * wide * wide)
		s := steep * steep
		l.slope = repeatedMedian(x, y) * s / (s + v)
		l.slopeDoubt = math.Sqrt(s * v / (s + v))
	}
	rest := away
	for i := range y {
		rest[i] = y[i] - l.slope*(x[i]-l.middle)
	}
	v, h := dearer*noise*noise/n, high*high
	l.height = median(rest) * h / (h + v)
	l.doubt = math.Sqrt(h * v / (h + v))
	return l
}

// mostPairs is how many points a slope is taken of; the work grows as its square.
const mostPairs = 60

// repeatedMedian is the median over the points of the median slope to the
// others.
func repeatedMedian(x, y []float64) float64 {
	every := (len(x) + mostPairs - 1) / mostPairs
	var inner, outer []float64
	for i := 0; i < len(x); i += every {
		inner = inner[:0]
		for j := 0; j < len(x); j += every {
			if x[j] != x[i] {
				inner = append(inner, (y[j]-y[i])/(x[j]-x[i]))
			}
		}
		if len(inner) > 0 {
			outer = append(outer, medianOf(inner))
		}
	}
	return medianOf(outer)
}
