package trial

import (
	"slices"
	"testing"
)

func TestSetups(t *testing.T) {
	for _, c := range []struct{ labels, want []string }{
		{[]string{""}, []string{""}},
		{[]string{"normal", "Strong grip "}, []string{"", "strong grip"}},
		{[]string{"strong grip", "normal"}, []string{"strong grip", ""}},
		{[]string{"as ever", "ball back", "ball forward"}, []string{"", "ball back", "ball forward"}},
		{[]string{"ball back", ""}, []string{"ball back", ""}},
		{[]string{"strong grip", "weak grip"}, []string{"strong grip", "weak grip"}}, // neither is usual
		{[]string{"before", "normal", "quiet"}, []string{"", "", "quiet"}},
		{[]string{"warm-up"}, []string{""}},
		{[]string{"strong grip"}, []string{"strong grip"}},
		{nil, []string{}},
	} {
		if got := Setups(c.labels); !slices.Equal(got, c.want) {
			t.Errorf("%q are %q, want %q", c.labels, got, c.want)
		}
	}
}
