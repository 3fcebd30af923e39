// Package tally reads ball flights that were counted by eye: where the ball
// started and which way it curved, three by three.
//
// What such flights say rests on the trade's ball-flight laws (common practice,
// no source; that the start lies 61 to 83 % of the way from path to face is
// measured: Wood, Henrikson & Broadie 2018, Proceedings 2(6):249 [S]):
//
//	the ball starts mostly where the face pointed;
//	it curves away from the path: right when the face pointed right of it.
//
// The start is a mean of face and path, so it gives the side of the face where
// the two agree, or the curve puts the face further out: a ball that starts
// right and curves further right had an open face, its path somewhere left of
// that, and on which side of the target cannot be known without measuring. One
// that starts right and curves back had its path to the right, and its face
// somewhere left of that: on either side of the target, when the path alone
// carried the start. No amount can be known.
//
// Sides are the target's, for either hand.
package tally

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// A Side is left of something, on it, or right of it.
type Side int8

// The sides.
const (
	Left     Side = -1
	Straight Side = 0
	Right    Side = 1
)

// A Flight is one of the nine: the side of the target line it started, and the
// way it curved.
type Flight struct{ Start, Curve Side }

// Flights are the nine, row by row of starts from the left.
func Flights() []Flight {
	var all []Flight
	for start := Left; start <= Right; start++ {
		for curve := Left; curve <= Right; curve++ {
			all = append(all, Flight{start, curve})
		}
	}
	return all
}

// Face is the side of the target the club's face pointed to; known is false
// when the curve is back toward the target, because the path alone may have
// started the ball off line.
func (f Flight) Face() (side Side, known bool) {
	return f.Start, f.Start == Straight || f.Curve != -f.Start
}

// Path is the side of the target the club was moving to; known is false when
// start and curve leave it open.
func (f Flight) Path() (side Side, known bool) {
	switch {
	case f.Curve == Straight:
		return f.Start, true // the path is where the face is
	case f.Start == Straight:
		return -f.Curve, true
	case f.Start == f.Curve:
		return 0, false
	}
	return f.Start, true // it lies beyond the face
}

// A Share is how many of the flights were of a kind, with 95 % limits (Wilson).
type Share struct {
	N, Of            int
	Share, Low, High float64 // 0, 0 and 1 when Of is 0
}

func share(n, of int) Share {
	s := Share{N: n, Of: of, High: 1}
	if low, high, ok := stat.Wilson(n, of, 0.95); ok {
		s.Share, s.Low, s.High = float64(n)/float64(of), low, high
	}
	return s
}

// Thirds are the shares of the three sides.
type Thirds struct{ Left, Straight, Right Share }

// Of is the share of a side.
func (t Thirds) Of(s Side) Share {
	switch s {
	case Left:
		return t.Left
	case Right:
		return t.Right
	}
	return t.Straight
}

// Mostly is the side more than half of the flights belong to, as far as the
// limits say so; ok is false when none is.
func (t Thirds) Mostly() (side Side, ok bool) {
	for s := Left; s <= Right; s++ {
		if t.Of(s).Low > 0.5 {
			return s, true
		}
	}
	return 0, false
}

// A Measure is what to have measured first.
type Measure string

// What to measure first.
const (
	Nothing Measure = ""     // straight at the target, or too few to tell
	Face    Measure = "face" // the start is off, or the face is left open
	Path    Measure = "path" // the curve is, or the path is left open
)

// A Result is what a tally says.
type Result struct {
	Balls  int
	Start  Thirds // of the balls
	Curve  Thirds // which is the face's against the path
	Face   Thirds // of all balls; what is left open is in none of them
	Path   Thirds // likewise
	Either int    // balls whose face is left open
	Open   int    // balls whose path is left open
	Common Flight // the most frequent flight, the first of equals
	Usual  Share  // how often it was seen
	First  Measure
}

// Of reads counts in the order of Flights.
func Of(counts []int) Result {
	var start, curve, face, path [3]int
	var r Result
	most := 0
	for i, f := range Flights() {
		n := 0
		if i < len(counts) {
			n = max(0, counts[i])
		}
		r.Balls += n
		start[f.Start+1] += n
		curve[f.Curve+1] += n
		if side, known := f.Face(); known {
			face[side+1] += n
		} else {
			r.Either += n
		}
		if side, known := f.Path(); known {
			path[side+1] += n
		} else {
			r.Open += n
		}
		if n > most {
			r.Common, most = f, n
		}
	}
	r.Usual = share(most, r.Balls)
	thirds := func(n [3]int) Thirds { return Thirds{share(n[0], r.Balls), share(n[1], r.Balls), share(n[2], r.Balls)} }
	r.Start, r.Curve, r.Face, r.Path = thirds(start), thirds(curve), thirds(face), thirds(path)
	r.First = r.first()
	return r
}

// OnLine is how far off the target line a start passes for straight by eye
// (rad; common practice, no source).
const OnLine = analysis.Degree

// fewest is how many balls counted by eye say anything against a device (our
// choice).
const fewest = 5

// Against reports whether the counted balls started to the other side than
// balls that were measured (rad, right is positive): mostly to one side there,
// most often to the other here, and the shares of either side further apart than
// luck makes them. Their difference has the limits of Newcombe's hybrid score
// (1998, Stat. Med. 17:873, method 10 [M]), which are made of Wilson's. That
// every count is mostly to one side would be too much to ask of a dozen balls.
func (r Result) Against(starts []float64) bool {
	measured := Starts(starts)
	there, ok := measured.Mostly()
	if !ok || there == Straight || r.Balls < fewest {
		return false
	}
	return r.Start.most() == -there && more(r.Start.Of(-there), measured.Of(-there)) && more(measured.Of(there), r.Start.Of(there))
}

// more reports whether one share is more than another, as far as the limits of
// their difference say so.
func more(a, b Share) bool {
	return a.Share-b.Share > math.Hypot(a.Share-a.Low, b.High-b.Share)
}

// most is the side with the most of three, neither where several have.
func (t Thirds) most() Side {
	for _, s := range []Side{Left, Right} {
		if t.Of(s).N > max(t.Straight.N, t.Of(-s).N) {
			return s
		}
	}
	return Straight
}

// Starts sorts measured starts (rad, right is positive) into sides, as an eye
// would.
func Starts(starts []float64) Thirds {
	var n [3]int
	for _, start := range starts {
		switch {
		case start < -OnLine:
			n[0]++
		case start > OnLine:
			n[2]++
		default:
			n[1]++
		}
	}
	of := len(starts)
	return Thirds{share(n[0], of), share(n[1], of), share(n[2], of)}
}

// first is the number whose side the flights say least about: whichever is open
// for more balls than not; else the path when balls curve, and the face when
// they start off line.
func (r Result) first() Measure {
	starts, startsOff := r.Start.Mostly()
	curves, curvesOff := r.Curve.Mostly()
	switch {
	case 2*r.Either > r.Balls:
		return Face
	case 2*r.Open > r.Balls, curvesOff && curves != Straight:
		return Path
	case startsOff && starts != Straight:
		return Face
	}
	return Nothing
}
