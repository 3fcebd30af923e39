package words

import (
	"rangepost/analysis"
)

// Pooled says what each setup tool does to a coach's students, a line a club and
// tool: face and path, and what else it is known to move. The figures are coarse
// ones (analysis.Pooled.Coarse), and in a right-hander's hands.
func (v Voice) Pooled(figures []analysis.Pooled) (lines []string) {
	v.Hand = analysis.RightHanded
	for len(figures) > 0 {
		first := figures[0]
		n := 0
		for n < len(figures) && figures[n].Club == first.Club && figures[n].Tool == first.Tool {
			n++
		}
		line := v.SetName(first.Club, "") + ", " + ToolPhrase(first.Tool) + " (" + Count(first.Golfers, "student") + ", " + Count(first.Trials, "trial") + ")."
		for _, p := range figures[:n] {
			if p.Number == analysis.Face || p.Number == analysis.Path || p.Low*p.High > 0 {
				line += " " + v.pooledNumber(p)
			}
		}
		lines = append(lines, line)
		figures = figures[n:]
	}
	return append(lines, "For a left-hander left and right change sides, but for aiming. No figure is about one student: all are coarse, and change when five students have.")
}

func (v Voice) pooledNumber(p analysis.Pooled) string {
	k := p.Number.Info().Kind
	half := v.half(k, p.Low, p.High, true)
	text := sentence(p.Number.Short()) + ": " + v.change(p.Number, p.Mean, half) + v.changeBracket(p.Number, p.Low, p.High)
	for _, s := range []struct {
		who string
		sd  float64
	}{{"students differ", p.Between}, {"trials of one differ", p.Within}} {
		by := "hardly"
		if !v.vanishes(k, s.sd, half) {
			by = "by about " + v.amount(k, s.sd, half)
		}
		text += ", " + s.who + " " + by
	}
	return text + ". Of a new student expect " + v.ChangeLimits(p.Number, p.NewLow, p.NewHigh) + "."
}
