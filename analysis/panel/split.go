package panel

import "rangepost/analysis"

// A Split is a miss shared out, m, positive right: Miss is the sum of the rest.
type Split struct {
	Miss, Face, Path, Strike, Wind, Other float64
}

// Rest is what neither face nor path made: it is there with both of them at
// the target line.
func (s Split) Rest() float64 { return s.Strike + s.Wind + s.Other }

func (s Split) plus(o Split, k float64) Split {
	return Split{
		Miss: s.Miss + k*o.Miss, Face: s.Face + k*o.Face, Path: s.Path + k*o.Path,
		Strike: s.Strike + k*o.Strike, Wind: s.Wind + k*o.Wind, Other: s.Other + k*o.Other,
	}
}

// split flies a ball that finished at miss with its face, its path and both at
// the target line. What face and path do together goes to each by half, the
// mean over the two orders of putting them right (Shapley's value for two
// players [M: Shapley 1953]). The rest is flown again from the middle of the
// face, and in still air; what is left, club and ball alone do not give.
func (h hitter) split(d analysis.Delivery, wind vec, miss float64) Split {
	noFace, noPath, neither := d, d, d
	noFace.Face, noPath.Path = 0, 0
	neither.Face, neither.Path = 0, 0
	withPath, withFace, rest := h.lateral(noFace, wind), h.lateral(noPath, wind), h.lateral(neither, wind)
	s := Split{
		Miss: miss,
		Face: (miss - withPath + withFace - rest) / 2,
		Path: (miss - withFace + withPath - rest) / 2,
	}
	middle := neither
	middle.StrikeToe, middle.StrikeUp = 0, 0
	s.Strike = rest - h.lateral(middle, wind)
	if wind != (vec{}) {
		s.Wind = rest - h.lateral(neither, vec{})
	}
	s.Other = rest - s.Strike - s.Wind
	return s
}

// Label is the cause a session is owed.
type Label string

// The labels.
const (
	Centred     Label = "centred"
	Face        Label = "face"
	Path        Label = "path"
	FaceAndPath Label = "face_and_path"
	Aim         Label = "aim"
	Strike      Label = "strike"
	Unexplained Label = "unexplained"
)

// owed is the label of a split with the given practical zero and mean face and
// path, and its margin: how far the nearest border to another label is, in
// shares of what that border is set by, never above 1.
func (s Split) owed(zero, face, path float64) (Label, float64) {
	side := 1.0
	if s.Miss < 0 {
		side = -1
	}
	miss, made, rest := side*s.Miss, side*(s.Face+s.Path), side*s.Rest()
	margin := min(1, gap(miss, zero, zero))
	if miss <= zero {
		return Centred, margin
	}
	margin = min(margin, gap(rest, made, miss))
	if rest > made {
		margin = min(margin, gap(side*s.Strike, rest/3, rest))
		if side*s.Strike >= rest/3 {
			return Strike, margin
		}
		return Unexplained, margin
	}
	// An aim is off when face and path look the way of the miss, each by a
	// degree or more, and within a degree of each other.
	f, p := side*face/analysis.Degree, side*path/analysis.Degree
	least := min(1-max(f-p, p-f), f-1, p-1)
	margin = min(margin, gap(least, 0, 1))
	if least >= 0 {
		return Aim, margin
	}
	share := side * s.Face / made
	margin = min(margin, gap(share, 1.0/3, 1), gap(share, 2.0/3, 1))
	switch {
	case share > 2.0/3:
		return Face, margin
	case share < 1.0/3:
		return Path, margin
	}
	return FaceAndPath, margin
}

func gap(a, b, by float64) float64 { return max(a-b, b-a) / by }
