package timeline

import (
	"math"
	"slices"

	"gonum.org/v1/gonum/floats"

	"rangepost/analysis/stat"
)

// What is thought of a player before their sessions say it. A session's mean
// wanders by a third of what one ball differs from the next, and the level
// walks by a fifth to a quarter of that from session to session: face-to-path
// by 0.8 degrees from day to day, 2.5 from ball to ball, 0.2 of walk (common
// practice, no source). Both are held weakly: the first as three sessions
// would say it, the second with a factor of three either way. Without such a
// prior few sessions say nothing of a walk (Stock & Watson 1998, J. Am. Stat.
// Assoc. 93:349: the likelihood of a small one piles up at none [M]).
var (
	// walks are variances of the level's step, in those of a session's mean.
	walks = []weighed{{.003, .1}, {.01, .2}, {.03, .3}, {.06, .3}, {.12, .1}}
	// trends are standard deviations of a steady movement a session, in those
	// of a session's mean: most golfers have none to speak of.
	trends = []weighed{{0, .85}, {.3, .15}}
	// moving is the same of a player who most likely was moving anyway, and of
	// whom the lesson changed nothing: what is credited to a lesson has to stand
	// against that.
	moving = []weighed{{0, .35}, {.1, .1}, {.3, .55}}
)

type weighed struct{ value, chance float64 }

const (
	wander     = 1. / 3 // of a session's mean, in the spread of one ball
	wanderSays = 3      // sessions that this is held as strongly as
	most       = 40     // sessions of what was before that a judgement looks back on
	reach      = 2      // standard deviation of an effect, in that of a session's mean (our choice)
)

// weights are the variances of sessions [from, to)'s means, one against the
// other, and what is known of their common scale.
func (m *model) weights(from, to int) (w []float64, known stat.Known, least float64) {
	y, v := m.means(from, to)
	between := successive(y, v)
	mean := 0.0
	w = make([]float64, len(v))
	for i := range v {
		w[i] = between + v[i]
		mean += w[i] / float64(len(v))
		least += v[i] / float64(len(v))
	}
	for i := range w {
		if w[i] = w[i] / mean; !(mean > 0) {
			w[i] = 1
		}
	}
	return w, stat.Known{DF: wanderSays, Scale: least + wander*wander*m.within}, least
}

// successive is the between-session variance told from the differences of
// successive sessions, whose expected square is 2 between + v(i) + v(i-1) (von
// Neumann 1941, Ann. Math. Stat. 12:367): a slow walk does not widen it.
func successive(y, v []float64) float64 {
	if len(y) < 2 {
		return 0
	}
	sum := 0.0
	for i := 1; i < len(y); i++ {
		sum += (y[i]-y[i-1])*(y[i]-y[i-1]) - v[i] - v[i-1]
	}
	return max(0, sum/(2*float64(len(y)-1)))
}

// A verdict is what the sessions to one of them say of the lessons of a
// stretch: the full size of the effect under every walk, trend and form, each
// weighed by its restricted likelihood.
type verdict struct {
	stat.StudentMixture
	odds  float64 // log of how much likelier the sessions are with an effect than without (the Bayes factor of Kass & Raftery 1995, J. Am. Stat. Assoc. 90:773 [M])
	moved float64 // the same against a level that most likely was moving anyway
	form  []int
	trend []float64 // a session, under that part
	steep []float64 // its prior standard deviation, 0 for none
}

// judge weighs what sessions up to, not including, session to say of a
// stretch's lessons. ok is false when they say nothing.
func (m *model) judge(all []stretch, which, to int) (v verdict, ok bool) {
	s := all[which]
	from := max(0, s.from-most)
	y, _ := m.means(from, to)
	l := stat.LocalLevel{Y: y, Start: make([]bool, len(y)), Absent: make([]bool, len(y))}
	w, known, least := m.weights(from, to)
	l.W = w
	begun, last := from, -1
	for i, other := range all[:which+1] {
		for i := max(from, other.from); i < other.at && i < to; i++ {
			l.Absent[i-from] = true // between lessons that share their effect
		}
		if i < which && other.at > from {
			// What the lessons before the last ones did is of no interest: the
			// level may be any after them.
			if last >= 0 {
				l.Start[all[last].at-from] = true
			}
			begun, last = other.at, i
		}
	}
	// A steady movement of the sessions around these lessons alone.
	trend := make([]float64, len(y))
	for i := begun; i < to; i++ {
		trend[i-from] = float64(i - s.at)
	}
	l.X = [][]float64{trend}
	course := func(at int) {
		for _, f := range forms {
			x := make([]float64, len(y))
			for i := at; i < to; i++ {
				x[i-from] = f.at(i - at)
			}
			l.X = append(l.X, x)
		}
	}
	course(s.at)
	// The last lessons before may still be at work: their effect comes or goes
	// on in a form of its own.
	earlier := []form{{chance: 1}}
	if last >= 0 {
		course(begun)
		earlier = even
	}
	// What bringing the sessions to one air is off by, in all of them at once: known
	// to be about none, by the standard deviations in the column.
	air, airPrior := -1, 0.0
	for _, s := range m.sessions[from:to] {
		if s.AirDoubt != 0 && known.Scale > 0 {
			air, airPrior = len(l.X), 1/known.Scale
		}
	}
	if air >= 0 {
		off := make([]float64, len(y))
		for i := range off {
			off[i] = m.sessions[from+i].AirDoubt
		}
		l.X = append(l.X, off)
	}
	var logs, with, still, moves []float64
	for _, walk := range walks {
		in := l.Innovations(walk.value)
		for j, before := range earlier {
			// fit fits an effect of a form, or none with a negative one, beside what
			// else there is.
			fit := func(form int, size float64, steep weighed, chance float64) (f stat.LevelFit, log float64, ok bool) {
				x, prior := make([]int, 0, 4), make([]float64, 0, 4)
				if form >= 0 {
					x, prior = append(x, 1+form), append(prior, size)
				}
				if steep.value > 0 {
					x, prior = append(x, 0), append(prior, steep.value*steep.value)
				}
				if last >= 0 {
					x, prior = append(x, 1+len(forms)+j), append(prior, math.Inf(1))
				}
				if air >= 0 {
					x, prior = append(x, air), append(prior, airPrior)
				}
				f, ok = in.Fit(x, prior, known)
				return f, f.LogLik + math.Log(walk.chance*steep.chance*before.chance*chance), ok
			}
			for _, steep := range trends {
				if _, log, ok := fit(-1, 0, steep, 1); ok {
					still = append(still, log)
				}
			}
			for _, steep := range moving {
				if _, log, ok := fit(-1, 0, steep, 1); ok {
					moves = append(moves, log)
				}
			}
			for _, steep := range trends {
				for i, form := range forms {
					if _, log, ok := fit(i, reach*reach, steep, form.chance); ok {
						with = append(with, log)
					}
					f, log, ok := fit(i, math.Inf(1), steep, form.chance)
					if !ok {
						continue
					}
					logs = append(logs, log)
					v.Mean = append(v.Mean, f.B[0])
					// Means that happen to lie closer than their balls explain do
					// not narrow the limits.
					v.SE = append(v.SE, math.Sqrt(f.Cov[0][0]*max(f.Scale, least)))
					v.DF = f.DF
					v.form, v.steep = append(v.form, i), append(v.steep, steep.value)
					moved := 0.0
					if steep.value > 0 {
						moved = f.B[1]
					}
					v.trend = append(v.trend, moved)
				}
			}
		}
	}
	if len(logs) == 0 {
		return v, false
	}
	v.Weight = logs
	v.settle(slices.Max(logs))
	v.odds, v.moved = sum(with)-sum(still), sum(with)-sum(moves)
	return v, true
}

// settle makes weights of log likelihoods, and drops the parts that make no
// difference.
func (v *verdict) settle(best float64) {
	const least = 1e-3
	n, sum := 0, 0.0
	for i, log := range v.Weight {
		if w := math.Exp(log - best); w > least {
			v.Mean[n], v.SE[n], v.Weight[n], v.form[n], v.trend[n], v.steep[n] = v.Mean[i], v.SE[i], w, v.form[i], v.trend[i], v.steep[i]
			sum += w
			n++
		}
	}
	v.Mean, v.SE, v.Weight, v.form, v.trend, v.steep = v.Mean[:n], v.SE[:n], v.Weight[:n], v.form[:n], v.trend[:n], v.steep[:n]
	for i := range v.Weight {
		v.Weight[i] /= sum
	}
}

// middle is the mean over the parts.
func (v verdict) middle() (sum float64) {
	for i, w := range v.Weight {
		sum += w * v.Mean[i]
	}
	return sum
}

// level is at which level the limits of the mixture hold 95 % of golfers who
// walk and of those who do not, as nearly as one level can where sessions do not
// tell them apart. It is lowest with six a side, where most of what the limits
// allow for is a trend that hardly anybody has; with fewer the day to day is not
// known, with more a walk is. An effect that comes or goes takes more, its forms
// being only nearly those of the model. All of it is by simulation [C]
// (TestSimulatedLessonThatDidNothing and the judge of the months). Why they hold more
// of those who do not walk is in the package's comment.
func (v verdict) level(before, after int) float64 {
	const six, steep, others = 0.875, 0.35, 0.965
	sudden := 0.0
	for i, w := range v.Weight {
		if forms[v.form[i]].shape == Sudden {
			sudden += w
		}
	}
	a, b := 1/float64(before), 1/float64(after)
	return sudden*(six+steep*math.Abs((a+b)/2-1./6)) + (1-sudden)*others
}

// now is what is left of the effect, or has come of it, in session k after. A
// form is not known so well that what is left of it would be known better than
// the whole.
func (v verdict) now(k int) verdict {
	n := v
	n.Mean = make([]float64, len(v.Mean))
	for i, f := range v.form {
		n.Mean[i] = forms[f].at(k) * v.Mean[i]
	}
	return n
}

// shape is the one that is told apart from the others, had none been thought
// likelier beforehand.
func (v verdict) shape() Shape {
	chance, all := map[Shape]float64{}, 0.0
	for i, f := range v.form {
		w := v.Weight[i] * even[f].chance / forms[f].chance
		if forms[f].shape == Sudden {
			w *= 2
		}
		chance[forms[f].shape] += w
		all += w
	}
	for _, s := range []Shape{Sudden, Gradual, Fading} {
		if chance[s] > told*all {
			return s
		}
	}
	return ""
}

// told is the chance from which something is said to be so.
const told = 0.6

// improving is the chance that the number was moving the way of a change
// already before.
func (v verdict) improving(way float64) (chance float64) {
	for i, w := range v.Weight {
		if v.steep[i] > 0 && v.trend[i]*way > 0 {
			chance += w
		}
	}
	return chance
}

// sum is the logarithm of a sum of what these are the logarithms of.
func sum(logs []float64) float64 {
	if len(logs) == 0 {
		return math.Inf(-1)
	}
	return floats.LogSumExp(logs)
}
