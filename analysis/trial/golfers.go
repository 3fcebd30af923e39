package trial

import (
	"math"
	"slices"

	"rangepost/analysis"
	"rangepost/analysis/stat"
)

// FewestGolfers is from how many golfers on a tool's effect is pooled: of fewer
// it is more about them than about the tool (our choice).
const FewestGolfers = 5

// A Golfer is what one golfer's trials with a club taught.
type Golfer struct {
	Hand   analysis.Hand
	Taught []analysis.Observation
}

// Of is what a golfer's trials of a tool saw, as in a right-hander's hands. It is nil where face or path was never seen: a golfer counts
// for both or for neither, so that what one number says of a group and another
// does not never tells one golfer from the rest.
func (g Golfer) Of(tool analysis.Tool) (seen []analysis.Observation) {
	for _, o := range g.Taught {
		if o.Tool == tool {
			o.Difference *= tool.Mirror(o.Number, g.Hand)
			seen = append(seen, o)
		}
	}
	if trials(seen, analysis.Face) == 0 || trials(seen, analysis.Path) == 0 {
		return nil
	}
	return seen
}

func trials(seen []analysis.Observation, n analysis.Number) (count int) {
	for _, o := range seen {
		if o.Number == n {
			count++
		}
	}
	return count
}

// Pool tells what a tool does over golfers with one club: those of them who have
// tried it, from FewestGolfers on, else nothing. Only numbers that all of those
// have are told. With d(i,j) what trial j of golfer i saw and v its squared error,
//
//	d(i,j) ~ N(mu(i), within^2 + v(i,j)),  mu(i) ~ N(mu, between^2):
//
// first a mean for every golfer, by how much effects differ from trial to trial
// within all of them, then the mean over golfers, averaged over how far they may
// differ (stat.SpreadOf).
func Pool(tool analysis.Tool, golfers []Golfer) (all []analysis.Pooled) {
	var tried [][]analysis.Observation
	for _, g := range golfers {
		if seen := g.Of(tool); seen != nil {
			tried = append(tried, seen)
		}
	}
	if len(tried) < FewestGolfers {
		return nil
	}
	for _, n := range responding {
		if !slices.ContainsFunc(tried, func(seen []analysis.Observation) bool { return trials(seen, n) == 0 }) {
			all = append(all, pool(tool, n, tried))
		}
	}
	return all
}

func pool(tool analysis.Tool, n analysis.Number, tried [][]analysis.Observation) analysis.Pooled {
	p := analysis.Pooled{Club: tried[0][0].Club, Tool: tool, Number: n, Golfers: len(tried)}
	expected := priorOf(n)
	var each []stat.Means // a golfer's trials
	for _, seen := range tried {
		var m stat.Means
		for _, o := range seen {
			if o.Number == n {
				m.Y, m.V = append(m.Y, o.Difference), append(m.V, o.SE*o.SE)
				p.Trials++
			}
		}
		each = append(each, m)
	}
	within := stat.SpreadOf(expected.between, each...)
	p.Within = within.Mean()
	var golfers stat.Means
	for _, m := range each {
		mean, v := m.About(math.Sqrt(within.Square()))
		golfers.Y, golfers.V = append(golfers.Y, mean), append(golfers.V, v)
	}
	between := stat.SpreadOf(expected.golfers, golfers)
	p.Between = between.Mean()
	over := between.Predict(golfers, 0.95)
	p.Mean, p.Low, p.High, p.NewLow, p.NewHigh = over.Mean, over.Low, over.High, over.NewLow, over.NewHigh
	return p
}
