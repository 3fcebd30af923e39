package words

import (
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
)

func TestNeeds(t *testing.T) {
	deg := analysis.Degree
	sure := analysis.Estimate{N: 20, Mean: 2.4 * deg, Low: 1.9 * deg, High: 2.9 * deg, OK: true}
	rough := analysis.Estimate{N: 20, Mean: -8.1 * deg, Low: -24 * deg, High: -4 * deg, OK: true}
	for _, c := range []struct {
		verdict cause.Verdict
		back    cause.WorkBack
		want    string
	}{
		{cause.Face, cause.WorkBack{OK: true, Number: analysis.Face, FaceAlone: sure}, "Needs: face 2.4° further right"},
		{cause.Path, cause.WorkBack{OK: true, Number: analysis.Path, PathAlone: rough}, "Needs: path 8° further left"},
		{cause.FaceAndPath, cause.WorkBack{OK: true, Number: analysis.FaceToPath, FaceBy: 2 * deg, PathBy: -1 * deg}, "Needs: face and path together"},
		{cause.Path, cause.WorkBack{OK: true, Number: analysis.Path, PathBy: -6 * deg}, "Needs: path about 6° further left and more"},
		{cause.Aim, cause.WorkBack{OK: true, Number: analysis.Face, FaceAlone: sure}, "First: check aim and device"},
		{cause.Strike, cause.WorkBack{OK: true, Number: analysis.Face, FaceAlone: sure}, "Needs: strike nearer the middle"},
		{cause.Centred, cause.WorkBack{OK: true, Number: analysis.Face, FaceAlone: sure}, ""},
		{cause.TooFew, cause.WorkBack{OK: true, Number: analysis.Face, FaceAlone: sure}, ""},
		{cause.Face, cause.WorkBack{}, ""},
	} {
		if got := (Voice{}).Needs(cause.Result{Verdict: c.verdict, WorkBack: c.back}); got != c.want {
			t.Errorf("%s: %q, want %q", c.verdict, got, c.want)
		}
	}
}
