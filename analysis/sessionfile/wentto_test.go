package sessionfile

import (
	"strings"
	"testing"

	"rangepost/analysis"
)

// A question about sides points at the ball that tells it best, and its choices
// are what somebody saw of that ball: a value that lies the other way turns them.
func TestSignsAreAskedByABall(t *testing.T) {
	rows := "Club,Offline (yd),Club Path (deg)\n7i,3.1,1\n7i,-21.5,2\n7i,4,1\n7i,-2,2\n7i,6,-1\n"
	r := reading(t, rows, Options{})
	if len(r.Questions) == 0 {
		t.Fatal("nothing is asked")
	}
	q := r.Questions[0]
	if want := "Ball 2 of the file shows -21.5 in 'Offline (yd)': did it finish left or right of the target?"; !strings.HasPrefix(q.Text, want) {
		t.Errorf("asked %q, want %q", q.Text, want)
	}
	for value, says := range map[string]string{signTarget: "Left of the target", signTargetLeft: "Right of the target"} {
		for _, c := range q.Choices {
			if c.Value == value && c.Text != says {
				t.Errorf("%s is offered as %q, want %q", value, c.Text, says)
			}
		}
	}
	// Who saw ball 2 go right reads a file whose plus is left.
	turned := reading(t, rows, Options{Answers: map[string]string{q.Key: signTargetLeft, "signs:club_path": signTarget, "signs:path": signTarget}})
	if y, ok := turned.Session.Shots[1].Value(analysis.Lateral); !ok || y < 0 {
		t.Errorf("ball 2 finished at %v, %v; questions %v", y, ok, turned.Questions)
	}
}
