package words

import (
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/tally"
)

func TestTallyTitle(t *testing.T) {
	for _, c := range []struct {
		hand   analysis.Hand
		counts []int
		want   string
	}{
		{analysis.RightHanded, []int{}, "Nothing counted yet"},
		{analysis.RightHanded, []int{0, 3}, "3 balls counted: too few to tell"},
		{analysis.RightHanded, []int{1, 0, 2, 0, 3, 4, 0, 1, 9}, "9 of 20 start right and curve right: push-slice"},
		{analysis.LeftHanded, []int{1, 0, 2, 0, 3, 4, 0, 1, 9}, "9 of 20 start right and curve right: pull-hook"},
		{analysis.RightHanded, []int{1, 0, 0, 0, 8, 0, 0, 1, 0}, "8 of 10 start straight and do not curve"},
		{analysis.RightHanded, []int{0, 6, 0}, "6 of 6 start left and do not curve: pull"},
	} {
		if got := (Voice{Hand: c.hand}).TallyTitle(tally.Of(c.counts)); got != c.want || len(got) > maxTitle {
			t.Errorf("%v: %q, want %q", c.counts, got, c.want)
		}
	}
	alt := Voice{}.AltTally([]int{1, 0, 2, 0, 3, 4, 0, 1, 9})
	for _, want := range []string{"Started left, 3: curved left 1, no curve 0, right 2.", "Started on line, 7: curved left 0, no curve 3, right 4.", "Started right, 10: curved left 0, no curve 1, right 9."} {
		if !strings.Contains(alt, want) {
			t.Errorf("%q is not in %q", want, alt)
		}
	}
}
