package shapes

import (
	"fmt"
	"maps"
	"math"
	"slices"

	"rangepost/analysis"
)

// Kind is what came of reading a shape.
type Kind int

// The kinds, from best to worst. Whoever asks and is then wrong only in what
// was asked about has asked.
const (
	Whole    Kind = iota // every needed column right, every ball there
	Asked                // asked, and nothing wrong that was not asked about
	LeftOut              // nothing wrong, but a needed column or a ball is not there
	Refused              // not read at all
	Wrong                // wrong in silence
	NumKinds = int(iota)
)

func (k Kind) String() string {
	return [...]string{"whole", "asked", "left out", "refused", "wrong in silence"}[k]
}

// Got is what a reader made of a shape, in the scorer's terms.
type Got struct {
	Refused bool
	Asked   int   // questions asked about columns, units, sides and clubs
	About   []int // the columns they were about, if that is known

	// Columns is what each column was read as, by its place; a column left
	// out has no entry. nil if that is not known: the values then tell.
	Columns map[int]analysis.Number

	// Shots is every row read as a ball in file order, with what was read in
	// it, SI, right, toe and up positive. Only what was read: no number that
	// was worked out by a model of the flight. Values that follow by
	// definition (smash, face-to-path) may be among them.
	Shots []GotShot
}

// GotShot is one ball as read.
type GotShot struct {
	Club   analysis.Club
	Values map[analysis.Number]float64
}

// Fault is one thing that is wrong.
type Fault struct {
	Column   int // -1 if it is about no one column
	Number   analysis.Number
	What     string
	Knowable bool // the file held the fact that would have prevented it
}

func (f Fault) String() string {
	know := ""
	if !f.Knowable {
		know = " (the file does not say)"
	}
	return fmt.Sprintf("column %d, %v: %s%s", f.Column, f.Number, f.What, know)
}

// Result is the score of one shape.
type Result struct {
	Kind            Kind
	Asked           int
	Rightly         int               // questions the file left open
	Needlessly      int               // questions the file answers
	LeftOut         []analysis.Number // needed numbers that are in the file and not in what was read
	LeftOutKnowable int               // of them, those the file says
	Lost            int               // balls that are not there
	Faults          []Fault           // what is wrong and was not asked about
	Excused         []Fault           // what is wrong and was asked about
	WrongClubs      int               // balls given another club than theirs
	NoClub          int               // balls given none though the file has it
}

// Avoidable reports whether what is wrong could have been known.
func (r Result) Avoidable() bool {
	return slices.ContainsFunc(r.Faults, func(f Fault) bool { return f.Knowable })
}

// Score compares what was read with the truth. It knows nothing of how it was
// read.
func Score(t Truth, g Got) Result {
	res := Result{Asked: g.Asked}
	if g.Refused {
		res.Kind = Refused
		return res
	}
	res.Rightly, res.Needlessly = questions(t, g)
	pairs, extra := align(t, g)
	for i, j := range pairs {
		if j < 0 && !t.Shots[i].Misread {
			res.Lost++
		}
		if j < 0 || t.Shots[i].Misread {
			continue
		}
		switch {
		case g.Shots[j].Club.Unknown():
			if t.ClubIn != Nowhere {
				res.NoClub++
			}
		case g.Shots[j].Club != t.Shots[i].Club:
			res.WrongClubs++
		}
	}
	var faults []Fault
	for _, j := range extra {
		if len(g.Shots[j].Values) > 0 {
			faults = append(faults, Fault{-1, 0, fmt.Sprintf("row %d of what was read is no ball", j+1), true})
		}
	}
	for i, c := range t.Columns {
		if !c.Known {
			continue
		}
		fault, missing := compare(t, g, pairs, c)
		switch {
		case fault != nil:
			fault.Column = i
			faults = append(faults, *fault)
		case missing && Needed(c.Number):
			res.LeftOut = append(res.LeftOut, c.Number)
			if c.WhichKnowable {
				res.LeftOutKnowable++
			}
		}
	}
	faults = append(faults, assigned(t, g, faults)...)
	faults = append(faults, invented(t, g, pairs)...)
	for _, f := range faults {
		if excused(g, f) {
			res.Excused = append(res.Excused, f)
		} else {
			res.Faults = append(res.Faults, f)
		}
	}
	switch {
	case len(res.Faults) > 0:
		res.Kind = Wrong
	case g.Asked > 0:
		res.Kind = Asked
	case len(res.LeftOut) > 0 || res.Lost > 0:
		res.Kind = LeftOut
	}
	return res
}

// questions divides those asked into those the file left open and the rest.
func questions(t Truth, g Got) (rightly, needlessly int) {
	if g.About == nil {
		rightly = min(g.Asked, len(t.Questions))
		return rightly, g.Asked - rightly
	}
	for _, i := range g.About {
		open := slices.ContainsFunc(t.Questions, func(q Question) bool { return slices.Contains(q.Columns, i) })
		if open || i < 0 && len(t.Questions) > 0 {
			rightly++
		}
	}
	rightly = min(rightly, g.Asked)
	return rightly, g.Asked - rightly
}

// excused reports whether a fault lies in what was asked about. Where it is
// not known what was asked about, a wrong unit or side is given the benefit of
// the doubt, another number is not.
func excused(g Got, f Fault) bool {
	if g.Asked == 0 {
		return false
	}
	if g.About != nil {
		return slices.Contains(g.About, f.Column)
	}
	return f.What == mirrored || f.What == scaled
}

const (
	mirrored = "left and right are changed round"
	scaled   = "another unit"
)

// near is how far a value may be from what is written: half of its last place,
// and a ten-thousandth for the unit's own rounding.
func near(c Column, got, want float64) bool {
	return math.Abs(got-want) <= 0.51*c.Quantum+1e-4*math.Abs(want)
}

// compare looks at one column over all balls.
func compare(t Truth, g Got, pairs []int, c Column) (fault *Fault, missing bool) {
	var got, want []float64
	seen, absent := 0, 0
	for i, j := range pairs {
		v, ok := t.Shots[i].Values[c.Number]
		if !ok || t.Shots[i].Misread || j < 0 {
			continue
		}
		seen++
		w, ok := g.Shots[j].Values[c.Number]
		if !ok {
			absent++
			continue
		}
		got, want = append(got, w), append(want, v)
	}
	bad, flipped := 0, 0
	var ratios []float64
	for i := range got {
		if !near(c, got[i], want[i]) {
			bad++
			if near(c, -got[i], want[i]) {
				flipped++
			}
			if math.Abs(want[i]) > 4*c.Quantum {
				ratios = append(ratios, got[i]/want[i])
			}
		}
	}
	missing = seen > 0 && absent*20 > seen
	if bad == 0 {
		return nil, missing
	}
	f := &Fault{Number: c.Number, What: fmt.Sprintf("%d of %d values differ", bad, len(got)), Knowable: c.WhichKnowable}
	if flipped == bad && c.Number.Info().Sideways {
		f.What, f.Knowable = mirrored, c.SideKnowable
	} else if len(ratios) > 1 && len(ratios)*2 > bad {
		slices.Sort(ratios)
		if m := ratios[len(ratios)/2]; ratios[len(ratios)-1]-ratios[0] < 0.3*math.Abs(m) && math.Abs(m-1) > 0.03 && unitRatio(math.Abs(m)) {
			f.What, f.Knowable = scaled, c.UnitKnowable
		}
	}
	return f, missing
}

// unitRatio reports whether two units of one kind are so far apart.
func unitRatio(m float64) bool {
	for _, group := range [][]string{farUnits, fastUnits, {"mm", "cm", "in"}} {
		for _, a := range group {
			for _, b := range group {
				if a != b && math.Abs(m/(inSI[a]/inSI[b])-1) < 0.02 {
					return true
				}
			}
		}
	}
	return false
}

// assigned looks at what each column was taken for, where that is known and
// has not been found wrong already.
func assigned(t Truth, g Got, found []Fault) []Fault {
	var out []Fault
	for _, i := range slices.Sorted(maps.Keys(g.Columns)) {
		n := g.Columns[i]
		if i < 0 || i >= len(t.Columns) {
			out = append(out, Fault{i, n, "there is no such column", true})
			continue
		}
		c := t.Columns[i]
		if c.Known && c.Number == n || slices.Contains(c.Accept, n) {
			continue
		}
		if slices.ContainsFunc(found, func(f Fault) bool { return f.Column == i }) {
			continue
		}
		what := "was no number of the ball"
		if c.Known {
			what = "was " + c.Number.String()
		}
		out = append(out, Fault{i, n, what, c.WhichKnowable})
	}
	return out
}

// invented looks for numbers that are in what was read, are no column's and do
// not follow from any by definition.
func invented(t Truth, g Got, pairs []int) []Fault {
	may := map[analysis.Number]bool{}
	for _, c := range t.Columns {
		if c.Known {
			may[c.Number] = true
		}
		for _, n := range c.Accept {
			may[n] = true
		}
	}
	derive := func(to analysis.Number, from ...analysis.Number) {
		for _, n := range from {
			if !may[n] {
				return
			}
		}
		may[to] = true
	}
	for range 2 {
		derive(analysis.Smash, analysis.BallSpeed, analysis.ClubSpeed)
		derive(analysis.BallSpeed, analysis.Smash, analysis.ClubSpeed)
		derive(analysis.ClubSpeed, analysis.BallSpeed, analysis.Smash)
		derive(analysis.FaceToPath, analysis.Face, analysis.Path)
		derive(analysis.Face, analysis.FaceToPath, analysis.Path)
		derive(analysis.Path, analysis.FaceToPath, analysis.Face)
		derive(analysis.SpinLoft, analysis.DynamicLoft, analysis.Attack)
	}
	count := map[analysis.Number]int{}
	for i, j := range pairs {
		if j < 0 || t.Shots[i].Misread {
			continue
		}
		for n := range g.Shots[j].Values {
			if !may[n] {
				count[n]++
			}
		}
	}
	var out []Fault
	for _, n := range slices.Sorted(maps.Keys(count)) {
		if count[n] > 0 && !slices.Contains(slices.Collect(maps.Values(g.Columns)), n) {
			out = append(out, Fault{-1, n, "is in no column", t.Tier != Wordless})
		}
	}
	return out
}

// align gives every ball of the truth the row read from it, -1 for none, and
// the rows that are nobody's: the pairing in order that costs least, where a
// pair costs by how few of its numbers agree whatever their sign.
func align(t Truth, g Got) (pairs, extra []int) {
	n, m := len(t.Shots), len(g.Shots)
	const skip = 1.0
	cost := make([][]float64, n+1)
	for i := range cost {
		cost[i] = make([]float64, m+1)
	}
	drop := func(i int) float64 {
		if t.Shots[i].Misread {
			return 0.3
		}
		return skip
	}
	for i := n; i >= 0; i-- {
		for j := m; j >= 0; j-- {
			switch {
			case i == n && j == m:
			case i == n:
				cost[i][j] = cost[i][j+1] + skip
			case j == m:
				cost[i][j] = cost[i+1][j] + drop(i)
			default:
				cost[i][j] = min(cost[i+1][j+1]+unlike(t, t.Shots[i], g.Shots[j]), cost[i+1][j]+drop(i), cost[i][j+1]+skip)
			}
		}
	}
	pairs = make([]int, n)
	i, j := 0, 0
	for i < n || j < m {
		switch {
		case i < n && j < m && cost[i][j] == cost[i+1][j+1]+unlike(t, t.Shots[i], g.Shots[j]):
			pairs[i] = j
			i, j = i+1, j+1
		case i < n && cost[i][j] == cost[i+1][j]+drop(i):
			pairs[i] = -1
			i++
		default:
			extra = append(extra, j)
			j++
		}
	}
	return pairs, extra
}

// unlike is 0 for two rows with the same figures, 0.9 for rows with none in
// common, and little for a row that is nonsense in any case.
func unlike(t Truth, s Shot, g GotShot) float64 {
	if s.Misread {
		return 0.2
	}
	both, same := 0, 0
	for _, c := range t.Columns {
		if !c.Known {
			continue
		}
		want, ok := s.Values[c.Number]
		got, also := g.Values[c.Number]
		if ok && also {
			both++
			if near(c, math.Abs(got), math.Abs(want)) {
				same++
			}
		}
	}
	if both == 0 {
		return 0.9
	}
	return 0.9 * float64(both-same) / float64(both)
}
