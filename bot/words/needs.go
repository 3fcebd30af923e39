package words

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
)

// Needs is WorkBack in a line short enough for the picture of a post: "Needs:
// face 2.9° further right". It is "" where WorkBack is.
func (v Voice) Needs(r cause.Result) string {
	w := r.WorkBack
	switch {
	case v.WorkBack(r) == "":
		return ""
	case r.Verdict == cause.Aim || r.Or == cause.Aim:
		return "First: check aim and device"
	case r.Verdict == cause.Strike:
		return "Needs: strike nearer the middle"
	case r.Verdict == cause.Path && w.PathAlone.OK:
		return "Needs: path " + v.MeanChange(analysis.Path, w.PathAlone)
	case r.Verdict == cause.Face && w.FaceAlone.OK:
		return "Needs: face " + v.MeanChange(analysis.Face, w.FaceAlone)
	}
	if parts := v.parts(w); len(parts) == 1 {
		return "Needs: " + strings.TrimPrefix(parts[0], "the ") + " and more"
	}
	return "Needs: face and path together"
}

// MeanChange says a change with the digits its limits allow, and nothing of
// the limits.
func (v Voice) MeanChange(n analysis.Number, e analysis.Estimate) string {
	return v.change(n, e.Mean, v.half(n.Info().Kind, e.Low, e.High, e.OK))
}
