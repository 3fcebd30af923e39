package analysis

import "math"

// Aside is why a shot is set aside. A shot set aside is kept, shown hollow and
// counted in the honesty line; it is left out of means and scatter.
type Aside string

// The reasons. Misread reasons come from package sessionfile, Mishit from pattern.
const (
	Used         Aside = ""             // not set aside
	Mishit       Aside = "mishit"       // a real ball, but not of this pattern
	WarmUp       Aside = "warm-up"      // hit to get warm, by the golfer's word
	Extra        Aside = "extra"        // hit besides what was asked for, likewise
	Impossible   Aside = "impossible"   // no ball does this: ball speed above 1.56 x club speed, spin or carry out of range
	Inconsistent Aside = "inconsistent" // its own numbers disagree by more than their noise
	Duplicate    Aside = "duplicate"    // the same row twice
)

// A Shot is one ball: what was measured of it, which club and set it belongs
// to, and whether it is set aside. Shots are values; copying one is cheap and
// nothing that is handed a Shot can change the owner's.
type Shot struct {
	N     int    // 1-based number in the session, file order
	Row   int    // 1-based row of the file it was read from, 0 if none
	Club  Club   // zero when the file and the golfer did not say
	Label string // free text naming the set, "" when unlabelled; only ever a label
	Aside Aside  // why it is set aside, Used if it is not
	Why   string // the reason in words, "" if used

	Pause float64 // how long after the ball before it was hit, s; 0 if the file does not say

	values   [NumNumbers]float64
	known    uint32
	inferred uint32
}

// With returns the shot with number n measured as v (SI). A value that is not
// finite is not a measurement: the number is then unknown.
func (s Shot) With(n Number, v float64) Shot {
	s.inferred &^= 1 << n
	if math.IsNaN(v) || math.IsInf(v, 0) {
		s.known &^= 1 << n
		s.values[n] = 0
		return s
	}
	s.known |= 1 << n
	s.values[n] = v
	return s
}

// WithInferred is With for a value worked back from other numbers rather than
// measured; it never overwrites a measured one.
func (s Shot) WithInferred(n Number, v float64) Shot {
	if s.Measured(n) {
		return s
	}
	s = s.With(n, v)
	if s.Has(n) {
		s.inferred |= 1 << n
	}
	return s
}

// Value is number n in SI units and whether it is known, measured or inferred.
func (s Shot) Value(n Number) (float64, bool) { return s.values[n], s.Has(n) }

// Has reports whether number n is known at all.
func (s Shot) Has(n Number) bool { return s.known&(1<<n) != 0 }

// Measured reports whether number n is known and was not inferred.
func (s Shot) Measured(n Number) bool { return s.Has(n) && !s.Inferred(n) }

// Inferred reports whether number n was worked back from others.
func (s Shot) Inferred(n Number) bool { return s.inferred&(1<<n) != 0 }

// Derived fills in what follows by definition from what is known: face-to-path,
// face or path from the other two; smash factor, ball or club speed likewise;
// spin loft from dynamic loft, attack, face and path. A derived number is as
// measured as the two it comes from.
func (s Shot) Derived() Shot {
	has := s.Has
	v := func(n Number) float64 { return s.values[n] }
	switch {
	case has(Face) && has(Path) && !has(FaceToPath):
		s = s.With(FaceToPath, v(Face)-v(Path))
	case has(FaceToPath) && has(Path) && !has(Face):
		s = s.With(Face, v(FaceToPath)+v(Path))
	case has(FaceToPath) && has(Face) && !has(Path):
		s = s.With(Path, v(Face)-v(FaceToPath))
	}
	switch {
	case has(BallSpeed) && has(ClubSpeed) && !has(Smash) && v(ClubSpeed) > 0:
		s = s.With(Smash, v(BallSpeed)/v(ClubSpeed))
	case has(Smash) && has(ClubSpeed) && !has(BallSpeed):
		s = s.With(BallSpeed, v(Smash)*v(ClubSpeed))
	case has(Smash) && has(BallSpeed) && !has(ClubSpeed) && v(Smash) > 0:
		s = s.With(ClubSpeed, v(BallSpeed)/v(Smash))
	}
	if !has(SpinLoft) && has(DynamicLoft) && has(Attack) {
		// The angle between the face normal and the head's direction. Without
		// face and path the vertical plane alone is a good stand-in: a
		// face-to-path of 5 deg adds under 1 deg at 15 deg of spin loft.
		sideways := 0.0
		if has(FaceToPath) {
			sideways = v(FaceToPath)
		}
		l, a := v(DynamicLoft), v(Attack)
		cos := math.Cos(l)*math.Cos(a)*math.Cos(sideways) + math.Sin(l)*math.Sin(a)
		s = s.With(SpinLoft, math.Acos(max(-1, min(1, cos))))
	}
	return s
}

// Mirrored is the shot as seen in a mirror: every sideways number changes sign.
// Strike offsets are in the golfer's own frame and stay.
func (s Shot) Mirrored() Shot {
	for n := range numbers {
		if numbers[n].Sideways && s.values[n] != 0 {
			s.values[n] = -s.values[n]
		}
	}
	return s
}
