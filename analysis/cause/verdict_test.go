package cause

import (
	"testing"

	"rangepost/analysis"
)

// Whose a miss is follows from what face and path make together: a rest larger than
// that owns it, however large the two are that cancel, and a smaller one does not
// tip the scale between them.
func TestOwner(t *testing.T) {
	for _, tc := range []struct {
		name string
		d    draw
		want Verdict
	}{
		{"face and path cancel, the rest is left", draw{face: 21, path: -19, rest: 4}, unexplained},
		{"the same to the left", draw{face: -21, path: 19, rest: -4}, unexplained},
		{"the same, struck off the middle", draw{face: 21, path: -19, rest: 4, strike: 3}, Strike},
		{"face and path cancel but for a part that is theirs", draw{face: 21, path: -16, rest: 1}, Face},
		{"five eighths of what they make", draw{face: 5, path: 3, rest: 2}, FaceAndPath},
		{"five eighths, a rest against it", draw{face: 7, path: 3, rest: -2}, Face},
		{"inside the practical zero", draw{face: 21, path: -19}, Centred},
	} {
		if got := owner(tc.d, 3); got != tc.want {
			t.Errorf("%s: %s, want %s", tc.name, got, tc.want)
		}
	}
}

// A face turned to match a path of ten degrees is likelier than one that leaves the
// ball off line, and for a square path the one at the target is.
func TestFacesMatchTheirPath(t *testing.T) {
	e := evidence{worth: worth{face: 4 / analysis.Degree, path: -2 / analysis.Degree}, zero: 3, rest: 1}
	of := func(face, path float64) float64 {
		face, path = face*analysis.Degree, path*analysis.Degree
		return e.weight(draw{face: e.worth.face * face, path: e.worth.path * path, faceAngle: face, pathAngle: path})
	}
	if matched, less := of(5, 10), of(3, 10); matched <= less {
		t.Errorf("path 10: face 5, which matches it, %.3g, face 3 %.3g", matched, less)
	}
	if square, off := of(0, 0), of(2, 0); square <= off {
		t.Errorf("path 0: face 0 %.3g, face 2 %.3g", square, off)
	}
}
