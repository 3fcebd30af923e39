package cause

import (
	"flag"
	"fmt"
	"math"
	"os"
	"runtime"
	"slices"
	"sort"
	"strconv"
	"strings"
	"sync"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

var (
	panelCases = flag.Int("panel", 160, "sessions of the study over the panel of worlds; 2000 or more hold it to its full bounds")
	panelSeed  = flag.Uint64("panel-seed", 1, "its seed")
	panelFile  = flag.String("panel-file", "", "file to write the study's tables to")
)

// A trialled session is a case of the panel, its truth, and what was said.
type trialled struct {
	c     panel.Case
	truth panel.Truth
	said  Result
}

// play judges a case as the product does.
func play(c panel.Case) trialled {
	session, truth := c.Play()
	for i, s := range session.Shots {
		session.Shots[i] = s.Derived()
	}
	config := Config{Hand: session.Hand, Ball: session.Ball, Conditions: session.Conditions}
	return trialled{c, truth, judged(session.Sets()[0], config)}
}

// label is the verdict as a label of the panel, "" when none was given: of two
// patterns the whole has no cause.
func (s trialled) label() panel.Label {
	switch s.said.Verdict {
	case TooFew, TwoPatterns:
		return ""
	case Unmeasured:
		for _, w := range s.said.Warnings {
			if w.Code == Unexplained {
				return panel.Unexplained
			}
		}
		return ""
	}
	return panel.Label(s.said.Verdict)
}

// caused reports whether a label names a cause.
func caused(l panel.Label) bool {
	return l != "" && l != panel.Centred && l != panel.Unexplained
}

// showable reports whether the columns can show a cause of this label at all.
func (s trialled) showable() bool {
	if s.truth.Label == panel.Strike {
		return s.c.Columns == panel.Everything || s.c.Columns == panel.NoStrike || s.c.Columns == panel.NoAxis || s.c.Columns == panel.ClubAndEnd
	}
	return true
}

// real reports whether there is a cause to be found: a miss of more than twice
// the practical zero, off the border to another label by a tenth.
func (s trialled) real() bool {
	return caused(s.truth.Label) && s.showable() && math.Abs(s.truth.LongRun.Miss) > 2*s.truth.Zero && s.truth.Margin > 0.1
}

// tally counts what one group of sessions adds up to.
type tally struct {
	n                                  int
	exact, pair, family, wrong, speaks share
	miss, face, path                   share
	faceRatio, pathRatio               []float64
	faceNeed, pathNeed                 []float64
	faceUsable, pathUsable             share
	toward                             share
}

func (t *tally) add(s trialled) {
	t.n++
	l, truth := s.label(), s.truth
	if caused(l) {
		if s.said.Or == "" {
			t.exact.add(l == truth.Label)
		} else {
			t.pair.add(l == truth.Label || panel.Label(s.said.Or) == truth.Label)
		}
		t.family.add(l == truth.Label || (l != panel.Strike) == caused(truth.Label) && truth.Label != panel.Strike)
	}
	if !caused(truth.Label) {
		t.wrong.add(caused(l))
	}
	if s.c.Balls >= 20 && s.real() {
		t.speaks.add(caused(l))
	}
	t.holds(s)
	ratio := func(to *[]float64, said, truth, least float64) {
		if math.Abs(truth) > least {
			*to = append(*to, said/truth)
		}
	}
	if s.said.Face.OK {
		ratio(&t.faceRatio, s.said.Face.Mean, truth.Sample.Face, 5)
		ratio(&t.pathRatio, s.said.Path.Mean, truth.Sample.Path, 5)
	}
	if w := s.said.WorkBack; w.OK && s.said.Verdict != Strike {
		if !math.IsNaN(truth.FaceAlone) {
			t.faceUsable.add(w.FaceAlone.OK)
			if w.FaceAlone.OK {
				ratio(&t.faceNeed, w.FaceAlone.Mean, truth.FaceAlone, 1.5*analysis.Degree)
			}
		}
		if !math.IsNaN(truth.PathAlone) {
			t.pathUsable.add(w.PathAlone.OK)
			if w.PathAlone.OK {
				ratio(&t.pathNeed, w.PathAlone.Mean, truth.PathAlone, 1.5*analysis.Degree)
			}
		}
		d := truth.LongRunMean
		away := func(by, off float64) bool {
			return by*off > 0 && math.Abs(off) > analysis.Degree/2 && math.Abs(by) > analysis.Degree/4
		}
		t.toward.add(!away(w.FaceBy, d.Face) && !away(w.PathBy, d.Path))
	}
}

// holds counts whether the limits of the yards hold the long run.
func (t *tally) holds(s trialled) {
	for _, part := range []struct {
		to *share
		e  analysis.Estimate
		v  float64
	}{{&t.miss, s.said.Miss, s.truth.LongRun.Miss}, {&t.face, s.said.Face, s.truth.LongRun.Face}, {&t.path, s.said.Path, s.truth.LongRun.Path}} {
		if part.e.OK {
			part.to.add(part.e.Low <= part.v && part.v <= part.e.High)
		}
	}
}

// turned is a session with its long run as its device has it, which stands askew: all
// that is read of it is turned with the device, and nothing in the file tells.
func (s trialled) turned() trialled {
	by := s.truth.Askew
	s.truth.LongRun.Miss += s.said.Delivery[analysis.Carry].Mean * math.Sin(by)
	s.truth.LongRun.Face += s.said.FaceWorth * by
	s.truth.LongRun.Path += s.said.PathWorth * by
	return s
}

func quantiles(v []float64) string {
	if len(v) == 0 {
		return "        -        "
	}
	sort.Float64s(v)
	return fmt.Sprintf("%.2f (%.2f-%.2f)", v[len(v)/2], v[len(v)/10], v[len(v)*9/10])
}

func (s share) short() string {
	if s.all == 0 {
		return "   -   "
	}
	return fmt.Sprintf("%3.0f/%d", 100*s.value(), s.all)
}

func (t *tally) row(name string) string {
	return fmt.Sprintf("| %s | %d | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s | %s |",
		name, t.n, t.exact.short(), t.pair.short(), t.family.short(), t.wrong.short(), t.speaks.short(),
		t.miss.short(), t.face.short(), t.path.short(), quantiles(t.faceRatio), quantiles(t.pathRatio),
		quantiles(t.faceNeed), quantiles(t.pathNeed), t.faceUsable.short(), t.pathUsable.short(), t.toward.short())
}

const tallyHead = "| | n | exact %/n | one of two %/n | owner %/n | false %/n | speaks %/n | miss held | face held | path held | face yards | path yards | face need | path need | face usable | path usable | toward |\n" +
	"| --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- | --- |"

// panelStudy is the study over the panel.
type panelStudy struct {
	groups map[string]*tally
	order  []string
	bands  [5]struct {
		said  float64
		right share
	}
	table map[panel.Label]map[panel.Label]int

	split share // said to be of two patterns, which none is
}

func (st *panelStudy) add(s trialled) {
	held := "tuned"
	if s.c.World.HeldOut {
		held = "held out"
	}
	for _, key := range []string{
		"all " + held, "world " + s.c.World.Name, "club " + s.c.Club.Key(),
		"columns " + string(s.c.Columns), fmt.Sprintf("balls %02d", s.c.Balls), "kind " + string(s.c.Kind),
		"cell " + s.c.World.Name + ", " + s.c.Club.Key(), "cell " + string(s.c.Columns) + ", " + familyOf(s.c.Club),
	} {
		if st.groups[key] == nil {
			st.groups[key] = &tally{}
			st.order = append(st.order, key)
		}
		st.groups[key].add(s)
	}
	if s.truth.Askew != 0 {
		key := "world " + s.c.World.Name + ", by its device's line"
		if st.groups[key] == nil {
			st.groups[key] = &tally{}
			st.order = append(st.order, key)
		}
		st.groups[key].n++
		st.groups[key].holds(s.turned())
	}
	st.split.add(s.said.Verdict == TwoPatterns)
	l := s.label()
	if st.table[s.truth.Label] == nil {
		st.table[s.truth.Label] = map[panel.Label]int{}
	}
	st.table[s.truth.Label][l]++
	if l != "" {
		p := s.said.Confidence
		k := 0
		for _, edge := range []float64{0.7, 0.8, 0.9, 0.97} {
			if p >= edge {
				k++
			}
		}
		st.bands[k].said += p
		st.bands[k].right.add(l == s.truth.Label || s.said.Or != "" && panel.Label(s.said.Or) == s.truth.Label)
	}
}

// familyOf is the kind of club, as limits are told apart by.
func familyOf(c analysis.Club) string {
	switch c.Family {
	case analysis.Driver:
		return "driver"
	case analysis.Wood, analysis.Hybrid:
		return "wood or hybrid"
	case analysis.Wedge:
		return "wedge"
	}
	return "iron"
}

func (st *panelStudy) String() string {
	var out strings.Builder
	out.WriteString(tallyHead + "\n")
	slices.Sort(st.order)
	for _, key := range st.order {
		if !strings.HasPrefix(key, "cell ") {
			out.WriteString(st.groups[key].row(key) + "\n")
		}
	}
	out.WriteString("\n| cell | n | miss held | face held | path held | face yards | path yards | face need | path need |\n" + strings.Repeat("| --- ", 9) + "|\n")
	for _, key := range st.order {
		if name, ok := strings.CutPrefix(key, "cell "); ok {
			t := st.groups[key]
			fmt.Fprintf(&out, "| %s | %d | %s | %s | %s | %s | %s | %s | %s |\n", name, t.n, t.miss.short(), t.face.short(), t.path.short(),
				quantiles(t.faceRatio), quantiles(t.pathRatio), quantiles(t.faceNeed), quantiles(t.pathNeed))
		}
	}
	labels := []panel.Label{panel.Centred, panel.Aim, panel.Face, panel.Path, panel.FaceAndPath, panel.Strike, panel.Unexplained, ""}
	out.WriteString("\n| owed \\ said |")
	for _, l := range labels {
		fmt.Fprintf(&out, " %s |", l)
	}
	out.WriteString("\n|" + strings.Repeat(" --- |", len(labels)+1) + "\n")
	for _, o := range labels[:7] {
		fmt.Fprintf(&out, "| %s |", o)
		for _, l := range labels {
			fmt.Fprintf(&out, " %d |", st.table[o][l])
		}
		out.WriteString("\n")
	}
	out.WriteString("\n| said to be sure | mean | right |\n| --- | --- | --- |\n")
	for k, name := range []string{"under 70 %", "70 to 80", "80 to 90", "90 to 97", "over 97"} {
		b := st.bands[k]
		fmt.Fprintf(&out, "| %s | %.1f | %v |\n", name, 100*b.said/float64(max(1, b.right.all)), b.right)
	}
	fmt.Fprintf(&out, "\nSaid to be of two patterns, which none is, and counted as not spoken: %v.\n", st.split)
	return out.String()
}

func studyPanel(seed uint64, n int) *panelStudy {
	st := &panelStudy{groups: map[string]*tally{}, table: map[panel.Label]map[panel.Label]int{}}
	cases := panel.Cases(seed, n)
	played := make([]trialled, len(cases))
	var all sync.WaitGroup
	procs := runtime.GOMAXPROCS(0)
	for first := range procs {
		all.Go(func() {
			for i := first; i < len(cases); i += procs {
				played[i] = play(cases[i])
			}
		})
	}
	all.Wait()
	for _, s := range played {
		st.add(s)
	}
	return st
}

// promised are the bounds of a column, per cent or ratios: at least, at most.
var promised = map[string][2]float64{
	"exact %/n": {95, 100}, "false %/n": {0, 3}, "speaks %/n": {90, 100},
	"miss held": {93, 97}, "face held": {93, 97}, "path held": {93, 97},
	"face yards": {0.9, 1.1}, "path yards": {0.9, 1.1}, "face need": {0.9, 1.1}, "path need": {0.9, 1.1},
}

// outOfBounds lists the rows of the study's tables that are out of what is promised:
// shares by more than two standard errors of their number, medians by any.
func outOfBounds(tables string) string {
	var head, order []string
	out := map[string][]string{}
	chance := 0
	for line := range strings.Lines(tables) {
		cells := strings.Split(strings.TrimSpace(line), "|")
		for i := range cells {
			cells[i] = strings.TrimSpace(cells[i])
		}
		switch {
		case slices.Contains(cells, "miss held"):
			head = cells
			continue
		case len(cells) == 1:
			head = nil // between tables
			continue
		case len(cells) != len(head) || strings.HasPrefix(cells[1], "---"):
			continue
		}
		for i, name := range head {
			b, ok := promised[name]
			var v, n float64
			if !ok || cells[i] == "-" {
				continue
			}
			fmt.Sscanf(cells[i], "%f/%f", &v, &n)
			nearest := min(b[1], max(b[0], v))
			switch p := nearest / 100; {
			case v == nearest:
			case n > 0 && math.Abs(v-nearest) <= 200*math.Sqrt(p*(1-p)/n):
				chance++
			default:
				if out[name] == nil {
					order = append(order, name)
				}
				said := strconv.FormatFloat(v, 'g', -1, 64)
				if n > 0 {
					said = cells[i]
				}
				out[name] = append(out[name], cells[1]+" "+said)
			}
		}
	}
	var text strings.Builder
	text.WriteString("\n## Out of what is promised\n\nShares by more than two standard errors of so many, medians by any.\n\n")
	for _, name := range order {
		fmt.Fprintf(&text, "- %s, promised %v to %v: %s\n", strings.TrimSuffix(name, " %/n"), promised[name][0], promised[name][1], strings.Join(out[name], "; "))
	}
	fmt.Fprintf(&text, "\nAnother %d shares are out by no more than chance may make of so few.\n", chance)
	return text.String()
}

// panelNote heads the file that the long run writes.
const panelNote = `# The cause over the panel of worlds

Made by

    go test ./analysis/cause -run TestPanel -panel %d -panel-seed %d -panel-file %s

Columns: how often a named cause has the exact label the world owes its golfer,
and how often face, path or aim is named where one of them is owed; how often one
is named where none is owed; how often one is named of 20 balls and more where
the miss is over twice the practical zero, a tenth off the border to another
label, and the columns can show it. Then how often the 95 %% limits of the miss,
of face yards and path yards hold the golfer's long run; median (and tenth to
ninetieth hundredth) of what is said over what is true, of yards and of the
change of one number alone that is asked for; how often that change can be said
at all; how often what is asked for goes toward the target.

Worlds called "held out" are not untouched: the doubt of gear effect, face radius
and strike was chosen on runs that had them in, and their rows were on show while
the probabilities that a verdict needs were chosen, on seeds 1 to 5 among others.

The device of world "skewed" stands askew, which nothing in a file tells: its limits
are told against the true line, and apart against the line the device has.

`

// TestPanel measures every promise of the verdicts on the panel of worlds. Short
// runs are held to bounds that leave room for their sampling error. The full run
// takes about five minutes:
//
//	go test ./analysis/cause -run TestPanel -panel 3000 -panel-file ../../testdata/cause-study.md
func TestPanel(t *testing.T) {
	st := studyPanel(*panelSeed, *panelCases)
	t.Log("\n" + st.String())
	if *panelFile != "" {
		tables := st.String()
		text := fmt.Sprintf(panelNote, *panelCases, *panelSeed, *panelFile) + tables + outOfBounds(tables)
		if err := os.WriteFile(*panelFile, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	long := *panelCases >= 2000
	all := &tally{}
	for _, key := range []string{"all tuned", "all held out"} {
		if g := st.groups[key]; g != nil {
			for _, part := range []struct{ to, from *share }{
				{&all.exact, &g.exact}, {&all.pair, &g.pair}, {&all.wrong, &g.wrong}, {&all.speaks, &g.speaks}, {&all.miss, &g.miss},
				{&all.face, &g.face}, {&all.path, &g.path}, {&all.toward, &g.toward},
			} {
				part.to.of += part.from.of
				part.to.all += part.from.all
			}
			all.faceNeed, all.pathNeed = append(all.faceNeed, g.faceNeed...), append(all.pathNeed, g.pathNeed...)
		}
	}
	least := func(what string, s share, full, short float64) {
		limit := short
		if long {
			limit = full
		}
		if s.value() < limit {
			t.Errorf("%s: %v, bound %.0f %%", what, s, 100*limit)
		}
	}
	least("a cause named is the very one", all.exact, 0.91, 0.82) // 0.95 is not reached: the rest lie on the border to a neighbour
	least("a real cause is named", all.speaks, 0.84, 0.65)
	least("limits of the miss", all.miss, 0.92, 0.88)
	least("limits of the face yards", all.face, 0.91, 0.86)
	least("limits of the path yards", all.path, 0.91, 0.86)
	least("corrections go toward the target", all.toward, 0.99, 0.97)
	most := 0.06
	if long {
		most = 0.03
	}
	if all.wrong.value() > most {
		t.Errorf("a cause named where none is: %v", all.wrong)
	}
	middle := func(what string, v []float64) {
		sort.Float64s(v)
		if m := v[len(v)/2]; m < 0.85 || m > 1.15 || long && (m < 0.9 || m > 1.1) {
			t.Errorf("%s: said over needed has a median of %.2f", what, m)
		}
	}
	middle("face alone", all.faceNeed)
	middle("path alone", all.pathNeed)
	for k, from := range []float64{0, 0.7, 0.8, 0.9, 0.97} {
		if b := st.bands[k]; long && b.right.all >= 50 && from >= 0.8 && b.right.value() < from-0.01 {
			t.Errorf("of verdicts said to be %.0f %% sure and more, %v are right", 100*from, b.right)
		}
	}
}
