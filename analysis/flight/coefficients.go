package flight

import "math"

// Coefficients are a set of drag and lift coefficients of a golf ball.
type Coefficients interface {
	// At is the drag and lift coefficient at spin ratio s = r omega / V and at
	// Reynolds number q in hundreds of thousands.
	At(s, q float64) (cd, cl float64)
}

// Blended joins two sets: LowSpin up to a spin ratio of 0.15, HighSpin from
// 0.30, and a smoothstep between them. Each of the two was fitted where the
// other fails; above 0.2 it has a tenth less lift than the sources' mean.
type Blended struct{}

// The spin ratios between which Blended passes from LowSpin to HighSpin.
const (
	blendFrom = 0.15
	blendTo   = 0.30
)

// At blends the two sets.
func (Blended) At(s, q float64) (cd, cl float64) {
	switch {
	case s <= blendFrom:
		return LowSpin{}.At(s, q)
	case s >= blendTo:
		return HighSpin{}.At(s, q)
	}
	u := (s - blendFrom) / (blendTo - blendFrom)
	w := u * u * (3 - 2*u)
	cdLow, clLow := LowSpin{}.At(s, q)
	cdHigh, clHigh := HighSpin{}.At(s, q)
	return cdLow + w*(cdHigh-cdLow), clLow + w*(clHigh-clLow)
}

// LowSpin is the set of a modern ball off a driver: linear in the spin ratio
// and blind to Reynolds number. It breaks above a spin ratio of 0.3.
//
// Quintavalla, S. J. (2002), A generally applicable model for the aerodynamic
// behavior of golf balls, Science and Golf IV, ch. 30. [S]
type LowSpin struct{}

// At is linear in s.
func (LowSpin) At(s, _ float64) (cd, cl float64) {
	return 0.171 + 0.62*s, 0.083 + 0.885*s
}

// HighSpin is the set of irons and wedges, for spin ratios to 1.8 and Reynolds
// numbers of 20,000 to 200,000. Outside, the coefficients level off over a short
// way instead of stopping dead: a corner in them costs an integrator dearly.
//
// USGA and R&A (2006), Second Report on the Study of Spin Generation,
// Appendix C. The closed form was recovered from its table, to 5e-7. [C]
type HighSpin struct{}

// The edges of HighSpin, and the way over which it levels off: of the
// logarithm of q (to a quarter more or less) and of s.
const (
	minS, maxS = 1e-4, 1.8
	minLnQ     = -1.6094379124341003 // ln 0.2
	maxLnQ     = math.Ln2
	fadeLnQ    = 0.3
	fadeS      = 0.6
)

// At is the closed form of the table.
func (HighSpin) At(s, q float64) (cd, cl float64) {
	if s < minS {
		s = minS
	} else if s > maxS {
		s = maxS + fade(s-maxS, fadeS)
	}
	lnS, lnQ := math.Log(s), math.Log(q)
	if lnQ > maxLnQ {
		lnQ = maxLnQ + fade(lnQ-maxLnQ, fadeLnQ)
	} else if lnQ < minLnQ {
		lnQ = minLnQ - fade(minLnQ-lnQ, fadeLnQ)
	}
	cl = 0.4221 + 0.1134*lnS + 0.03225*s*s*math.Sqrt(s) - 0.1208*lnQ*lnQ
	cd = 0.06639 + 0.3963*s*s - 0.6312*s*lnS
	if cl < 0 {
		cl = 0
	}
	return cd, cl
}

// fade grows from 0 with slope 1 and levels off at width/2 over the width.
func fade(excess, width float64) float64 {
	if excess >= width {
		return width / 2
	}
	return excess - excess*excess/(2*width)
}

// SmitsSmith is an older set, for drives only: spin ratio under 0.2 and
// Reynolds number above 70,000.
//
// Smits, A. J. and Smith, D. R. (1994), A new aerodynamic model of a golf ball
// in flight, Science and Golf II, 340-347. [S]
type SmitsSmith struct{}

// At is the published closed form.
func (SmitsSmith) At(s, q float64) (cd, cl float64) {
	cd = 0.24 + 0.18*s + 0.06*math.Sin(math.Pi*(q*1e5-90000)/200000)
	return cd, 0.54 * math.Pow(s, 0.4)
}

// Patent is the set of an indoor test range for 100 to 250 ft/s and spin
// ratios of 0.04 to 0.22. Its lift has a term in 1/q^2 and means nothing for a
// slow ball.
//
// United States patent 6,186,002 B1 (2001). [S]
type Patent struct{}

// At is the published closed form.
func (Patent) At(s, q float64) (cd, cl float64) {
	cd = 0.2028 + 2.8466*s*s + 0.0165*q - 0.2159*s
	cl = 0.0860 + 0.6463*s - 0.0122/(q*q) + 1.4789*s*s
	return cd, cl
}
