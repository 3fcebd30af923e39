package sessionfile

import (
	"fmt"
	"math"
	"slices"

	"rangepost/analysis"
)

// Whole columns can be wrong where every ball alone looks right beside its
// neighbours: a spin in other units than the heading says, two headings
// swapped, one side turned round, the club's cells a row late. Each such
// mistake is a way to read the file that hangs together better than the file as it
// stands. If it does so by far, the golfer is asked, and until somebody says,
// the numbers in question are left out.
//
// The questions are about this very file: a device that was wrong once is not
// wrong always.
type mistake struct {
	key     string
	text    string
	mended  string // the choice that takes the mistake back
	numbers []analysis.Number
	laws    []law
	mend    func(rows []ballRow)  // in file order
	usual   func(x *ballRow) bool // whether what is usual of the numbers may be so, nil for any
	middles bool                  // only middles tell: every ball alone is as it was
	clear   float64               // by how much it must fit better, in units of log likelihood
}

// The values of a question about a mistake. What a mistake is decides what
// mended means.
const (
	doubtPrefix  = "doubt:"
	doubtMended  = "mended"
	doubtAsIs    = "file"
	doubtLeftOut = "ignore"
)

var flightLaws = []law{carryLaw, apexLaw, timeLaw, descentLaw}

// clearMistake is odds of 3,000 to 1: few devices are ever wrong in this way.
const clearMistake = 8.0

// clearSpin is that of a factor of spin, for which the laws' own doubts leave
// little room: honest files of package panel come to 0.3 at most, those with
// their spin halved to 0.6 and more, one in twenty under 1.2.
const clearSpin = 1.2

var clubNumbers = func() (ns []analysis.Number) {
	for _, n := range analysis.Numbers() {
		if n.Info().Of == analysis.OfClub {
			ns = append(ns, n)
		}
	}
	return ns
}()

var mistakes = []mistake{
	{
		key: "speeds", text: "The club is faster than the ball in this file, and the balls flew further than such speeds send them. Are the two speeds swapped?",
		mended:  "Yes, take one for the other",
		numbers: []analysis.Number{analysis.BallSpeed, analysis.ClubSpeed, analysis.Smash},
		laws:    append([]law{speedLaw}, flightLaws...),
		clear:   clearMistake,
		usual:   func(x *ballRow) bool { return x[analysis.BallSpeed] < x[analysis.ClubSpeed] },
		mend: func(rows []ballRow) {
			for i := range rows {
				x := &rows[i]
				x[analysis.BallSpeed], x[analysis.ClubSpeed] = x[analysis.ClubSpeed], x[analysis.BallSpeed]
				x[analysis.Smash] = 1 / x[analysis.Smash]
			}
		},
	},
	factorOfSpin("half", 2),
	factorOfSpin("twice", 0.5),
	{
		key: "lateral", text: "The balls of this file finish on the other side than their start line and curve lead. Is the sideways finish turned round?",
		mended:  "Yes, the start line is right: turn the finish round",
		numbers: []analysis.Number{analysis.Lateral, analysis.LateralTotal},
		laws:    []law{finishLaw},
		clear:   clearMistake,
		mend: func(rows []ballRow) {
			for i := range rows {
				rows[i][analysis.Lateral] *= -1
				rows[i][analysis.LateralTotal] *= -1
			}
		},
	},
	{
		key: "club_rows", text: "The numbers of the club go with the ball of the row before, not with their own. Are they a row late?",
		mended:  "Yes, move them up a row",
		numbers: clubNumbers,
		laws:    []law{speedLaw, launchLaw, spinLaw, startLaw, axisLaw},
		clear:   clearMistake,
		mend:    func(rows []ballRow) { moveUp(rows, 1) },
	},
	{
		key: "club_rows_early", text: "The numbers of the club go with the ball of the row after, not with their own. Are they a row early?",
		mended:  "Yes, move them down a row",
		numbers: clubNumbers,
		laws:    []law{speedLaw, launchLaw, spinLaw, startLaw, axisLaw},
		clear:   clearMistake,
		mend:    func(rows []ballRow) { moveUp(rows, -1) },
	},
}

func factorOfSpin(said string, by float64) mistake {
	double := map[string]string{"half": "twice", "twice": "half"}[said]
	return mistake{
		key:     "spin_" + said,
		text:    fmt.Sprintf("The spin in this file is about %s of what the flight and the club make of these balls. How is it to be read?", said),
		mended:  fmt.Sprintf("As %s what the file says", double),
		numbers: []analysis.Number{analysis.Spin},
		laws:    append([]law{spinLaw}, flightLaws...),
		middles: true, clear: clearSpin,
		mend: func(rows []ballRow) {
			for i := range rows {
				rows[i][analysis.Spin] *= by
			}
		},
	}
}

// moveUp gives every row the club of the row that many below it, where both are
// of the same stretch.
func moveUp(rows []ballRow, by int) {
	was := append([]ballRow(nil), rows...)
	for i := range rows {
		for _, n := range clubNumbers {
			rows[i][n] = math.NaN()
			if from := i + by; from >= 0 && from < len(rows) {
				rows[i][n] = was[from][n]
			}
		}
	}
}

// A stretch is the rows of one club in file order, and where they are.
type stretch struct {
	club analysis.Club
	at   []int
	rows []ballRow

	company *company  // of the first of them, with what they miss, once it is wanted
	mended  []ballRow // what likely works with
}

// tried are the rows with which mistakes are looked for.
func (st *stretch) tried() []ballRow { return st.rows[:min(len(st.rows), mostTried)] }

// beside is what the rows tried are held against as they stand: which mistake
// is looked for changes nothing of it.
func (st *stretch) beside(sky *sky, hand analysis.Hand) *company {
	if st.company == nil {
		h := &company{physics: physicsOf(st.club, hand, sky), usual: usualOf(st.tried())}
		h.deliver(&h.usual)
		h.carryNoise()
		for _, x := range st.tried() {
			h.all = append(h.all, h.of(x))
		}
		st.company = h
	}
	return st.company
}

// stretches are the balls not set aside, by club, in order of first appearance.
func stretches(shots []analysis.Shot) (all []stretch) {
	where := map[analysis.Club]int{}
	for i, s := range shots {
		if s.Aside != analysis.Used {
			continue
		}
		k, ok := where[s.Club]
		if !ok {
			k = len(all)
			where[s.Club] = k
			all = append(all, stretch{club: s.Club})
		}
		all[k].at, all[k].rows = append(all[k].at, i), append(all[k].rows, rowOf(s))
	}
	return all
}

// wholeColumns asks about what is wrong of whole columns, and does what was
// answered.
func wholeColumns(shots []analysis.Shot, sky *sky, o Options) (decisions []string, questions []analysis.Question) {
	var all []stretch
	for _, m := range mistakes {
		if all == nil {
			all = stretches(shots)
		}
		key := doubtPrefix + m.key
		switch answer := o.Answers[key]; {
		case answer == doubtAsIs:
		case answer == doubtMended:
			for _, st := range all {
				m.mend(st.rows)
				for k, i := range st.at {
					for _, n := range m.numbers {
						if shots[i].Has(n) || !math.IsNaN(st.rows[k][n]) {
							shots[i] = shots[i].With(n, st.rows[k][n])
						}
					}
				}
			}
			all = nil
			decisions = append(decisions, "answered: "+m.text+" "+m.mended)
		case answer == doubtLeftOut:
			m.leaveOut(shots)
			all = nil
			decisions = append(decisions, listed(m.there(shots))+" left out, as answered")
		case m.likely(all, sky, o.Hand):
			m.leaveOut(shots)
			all = nil
			questions = append(questions, analysis.Question{Key: key, Alone: true, Text: m.text, Choices: []analysis.Choice{
				{Value: doubtMended, Text: m.mended},
				{Value: doubtAsIs, Text: "No, the file is right as it is"},
				{Value: doubtLeftOut, Text: "I do not know: leave these numbers out"},
			}})
		}
	}
	return decisions, questions
}

func (m *mistake) there(shots []analysis.Shot) (ns []analysis.Number) {
	for _, n := range m.numbers {
		for _, s := range shots {
			if s.Has(n) {
				ns = append(ns, n)
				break
			}
		}
	}
	return ns
}

func (m *mistake) leaveOut(shots []analysis.Shot) {
	for i := range shots {
		for _, n := range m.numbers {
			shots[i] = shots[i].With(n, math.NaN())
		}
	}
}

func (m *mistake) possible(usual *ballRow) bool { return m.usual == nil || m.usual(usual) }

// mostTried is how many balls of a club are tried.
const mostTried = 24

// likely reports whether the file hangs together far better with the mistake
// taken back.
func (m *mistake) likely(all []stretch, sky *sky, hand analysis.Hand) bool {
	gain, balls := 0.0, 0
	for i := range all {
		st := &all[i]
		rows := st.tried()
		if len(rows) < 4 {
			continue
		}
		h := st.beside(sky, hand)
		if !m.possible(&h.usual) || m.middles && h.club.Unknown() { // how much a ball should spin hangs on the club
			continue
		}
		st.mended = append(st.mended[:0], rows...)
		m.mend(st.mended)
		g, ok := h.gain(st.mended, m)
		if !ok {
			continue
		}
		gain, balls = gain+g*float64(len(rows)), balls+len(rows)
	}
	// What balls of several clubs say is not independent: it is the mean that
	// counts.
	return balls > 0 && gain/float64(balls) > m.clear
}

// gain is by how much rows hang together better as mended, in units of log
// likelihood. ok is false where the laws cannot be held against both.
func (h *company) gain(mended []ballRow, of *mistake) (gain float64, ok bool) {
	h.would = slices.Grow(h.would[:0], len(mended))[:len(mended)]
	for _, fly := range []bool{false, true} { // most files need no flight
		if fly && !slices.ContainsFunc(of.laws, law.ofFlight) || fly && of.middles && !(gain > 0) {
			continue
		}
		for i := range mended {
			h.would[i] = h.miss(mended[i], fly)
		}
		for _, k := range of.laws {
			if k.ofFlight() == fly {
				g, told := h.gainOf(k, h.all, h.would, of.middles)
				gain, ok = gain+g, ok || told
			}
		}
	}
	return gain, ok
}

// gainOf is the gain by one law. told is false where it says nothing alone.
func (h *company) gainOf(k law, is, would []misses, middles bool) (gain float64, told bool) {
	var a, b, noise []float64
	for i := range is {
		if v, w := is[i].by[k], would[i].by[k]; !math.IsNaN(v) && !math.IsNaN(w) {
			far := 0.0
			if k >= finishLaw { // of a flight the distance is no lever here: it is what changes
				far = min(math.Abs(is[i].far[k]), math.Abs(would[i].far[k]))
			}
			a, b = append(a, v), append(b, w)
			noise = append(noise, math.Hypot(math.Sqrt(h.spread[k][k]), lawNoises[k].lever*far))
		}
	}
	if len(a) < 3 {
		return 0, false
	}
	all := lawNoises[k].all
	if !middles {
		return misfit(a, noise, all) - misfit(b, noise, all), true
	}
	gain = middleCost(a, all) - middleCost(b, all)
	if k.ofFlight() {
		// What a flight model, a device or an air is off by, its flights share:
		// they are one witness, not four. And without the club nothing says
		// how much a ball should spin.
		return gain / float64(len(flightLaws)), false
	}
	return gain, true
}

// middleCost is the cost of the middle of some misses.
func middleCost(by []float64, all float64) float64 {
	z := median(by) / all
	return 0.5 * z * z
}

// misfit is the cost of misses about their middle, each capped at three noises so
// that a misread decides nothing, and of the middle.
func misfit(by, noise []float64, all float64) (cost float64) {
	n, width := float64(len(by)), median(noise)
	mid := median(by)
	mid *= all * all / (all*all + width*width/n)
	cost = 0.5 * (mid / all) * (mid / all)
	for i, v := range by {
		z := (v - mid) / noise[i]
		cost += min(4.5, 0.5*z*z)
	}
	return cost
}
