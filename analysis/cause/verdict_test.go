package cause

import "testing"

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
