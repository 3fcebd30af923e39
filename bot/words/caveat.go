package words

import (
	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/impact"
	"rangepost/analysis/pattern"
)

// caveats has a sentence for every warning code of the analysis packages. A
// test reads their sources and fails when one is missing here.
var caveats = map[string]func(v Voice, w analysis.Warning) string{
	pattern.FewBalls: func(v Voice, w analysis.Warning) string {
		return count(w.Count, "ball") + " with a landing place: too few to draw where the next one falls."
	},
	pattern.NoSpread: func(v Voice, w analysis.Warning) string {
		return "The balls lie on one spot or one line, so the file may hold repeated rows; no region is drawn."
	},
	pattern.NoLateral: func(v Voice, w analysis.Warning) string {
		return count(w.Count, "ball") + " without a sideways finish, left out of the centre."
	},
	pattern.NoCarry: func(v Voice, w analysis.Warning) string {
		return count(w.Count, "ball") + " without a carry, left out of the distance."
	},
	pattern.Flown: func(v Voice, w analysis.Warning) string {
		return "Where " + count(w.Count, "ball") + " landed is worked out from the launch, not measured."
	},
	pattern.ManyMishits: func(v Voice, w analysis.Warning) string {
		return count(w.Count, "mishit") + " is a quarter of the balls or more: perhaps two patterns were hit, not one. Labelled sets would tell them apart."
	},

	cause.NotSplit: func(v Voice, w analysis.Warning) string {
		return count(w.Count, "ball") + " without face or path, left out of the cause."
	},
	cause.Unexplained: func(v Voice, w analysis.Warning) string {
		return "Most of the miss is in neither face, path nor strike: wind, the ball or the device may own it."
	},
	cause.ModelLimits: func(v Voice, w analysis.Warning) string {
		return "More balls alone would not settle the cause: the flight model is not sure enough here. Measured face, path and spin would help."
	},
	cause.RangeBalls: func(v Voice, w analysis.Warning) string {
		return "Range balls fly shorter than new ones, so these distances compare only with other range balls; what the club did compares with everything."
	},
	cause.PresumedLoft: func(v Voice, w analysis.Warning) string {
		return "Dynamic loft was not measured for " + balls(w.Count) + "; what is usual for the club stands in."
	},

	impact.StrikeUnknown: func(v Voice, w analysis.Warning) string {
		return sentence(w.Number.String()) + " cannot be told for " + balls(w.Count) + ": where the face was struck was not measured, and it bends the ball as face and path do."
	},
	impact.AxisUnknown: func(v Voice, w analysis.Warning) string {
		return sentence(w.Number.String()) + " cannot be told for " + balls(w.Count) + ": the tilt of the spin was not measured."
	},
	impact.TooNoisy: func(v Voice, w analysis.Warning) string {
		return sentence(w.Number.String()) + " cannot be told for " + balls(w.Count) + ": what was measured leaves it too wide open."
	},
	impact.UsualLoft: func(v Voice, w analysis.Warning) string {
		return "Neither spin nor loft was measured for " + balls(w.Count) + ", so the club's usual attack stands in."
	},
	impact.Misfit: func(v Voice, w analysis.Warning) string {
		return "No likely delivery sends a ball as " + balls(w.Count) + " went: a number may be misread, or the club is not the one named."
	},
}

// balls says how many balls a warning is about; one that counts none is about
// single balls and says "some balls".
func balls(n int) string {
	if n == 0 {
		return "some balls"
	}
	return count(n, "ball")
}

// Caveats say what the data cannot say, a line a warning, each only once.
func (v Voice) Caveats(warnings ...[]analysis.Warning) []string {
	var lines []string
	said := map[string]bool{}
	for _, ws := range warnings {
		for _, w := range ws {
			line := "Something about this data asks for care (" + w.Code + ")."
			if say, ok := caveats[w.Code]; ok {
				line = say(v, w)
			}
			if !said[line] {
				said[line] = true
				lines = append(lines, line)
			}
		}
	}
	return lines
}
