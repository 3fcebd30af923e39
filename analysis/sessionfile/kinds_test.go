package sessionfile_test

import (
	"cmp"
	"flag"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/shapes"
)

var (
	kindsOf      = flag.String("shape-kinds", "", "with a seed, or several with commas: TestKinds counts what goes wrong with shapes by kind")
	kindsOfTiers = flag.String("shape-kinds-tiers", "ordinary,unseen,wordless", "the tiers TestKinds looks at")
	kindsLog     = flag.String("shape-kinds-log", "", "log every shape in which a kind that contains this goes wrong")
)

// unsaid says what a file with headings does not: its units, which way is plus.
func unsaid(t shapes.Truth) (units, signs bool) {
	units, signs = true, false
	for _, c := range t.Columns {
		if !c.Known {
			continue
		}
		if c.UnitIn != shapes.Nowhere {
			units = false
		}
		if c.Number.Info().Sideways {
			signs = true
		}
	}
	for _, c := range t.Columns {
		if c.Known && c.Number.Info().Sideways && (c.Lettered || c.SideSaid) {
			signs = false
		}
	}
	return units, signs
}

// kinds names what went wrong with a shape, one line each thing.
func kinds(s shapes.Shape, r sessionfile.Reading, err error, score shapes.Result) (out []string) {
	if err != nil {
		msg := err.Error()
		return []string{"refused: " + msg[:min(len(msg), 40)]}
	}
	for _, f := range score.Faults {
		what := f.What
		if strings.Contains(what, "values differ") {
			what = "values differ"
		}
		if strings.Contains(what, "is no ball") {
			what = "row is no ball"
		}
		know := "WRONG"
		if !f.Knowable {
			know = "custom"
		}
		out = append(out, fmt.Sprintf("%s: %v %s", know, f.Number, what))
	}
	if score.WrongClubs > 0 {
		out = append(out, "WRONG: club")
	}
	if score.NoClub > 0 {
		out = append(out, "left out: club")
	}
	if score.Lost > 0 {
		out = append(out, "left out: balls")
	}
	open := func(about shapes.About, at int) bool {
		return slices.ContainsFunc(s.Truth.Questions, func(q shapes.Question) bool { return q.About == about && (at < 0 || slices.Contains(q.Columns, at)) })
	}
	asked := map[analysis.Number]bool{}
	for _, q := range r.Questions {
		kind, key, _ := strings.Cut(q.Key, ":")
		about, at, name := shapes.AboutWhich, -1, key
		switch kind {
		case "column", "which":
			if c := columnOf(&s.Truth, key); c != nil {
				if name = c.Number.String(); !c.Known {
					name = "noise"
				}
				asked[c.Number] = true
				for i := range s.Truth.Columns {
					if &s.Truth.Columns[i] == c {
						at = i
					}
				}
			} else if kind == "column" {
				name = "?"
			}
		case "unit":
			about = shapes.AboutUnit
			for i, c := range s.Truth.Columns {
				if c.Known && c.Number.Info().Key == key {
					at = i
				}
			}
		case "signs":
			about = shapes.AboutSide
			name = ""
		}
		need := "needless"
		if open(about, at) {
			need = "fair"
		}
		out = append(out, fmt.Sprintf("asked %s: %s %s", need, kind, name))
	}
	for _, n := range score.LeftOut {
		if len(r.Questions) == 0 {
			out = append(out, "left out: "+n.String())
		}
	}
	return out
}

// TestKinds counts by kind what goes wrong with shapes of another hand.
func TestKinds(t *testing.T) {
	if *kindsOf == "" {
		t.Skip("-shape-kinds names no seed")
	}
	type tally struct {
		n, avoided, custom, few, questions int
		kinds                              [shapes.NumKinds]int
	}
	by := map[string]*tally{}
	what := map[string]map[string]int{}
	var log []string
	for text := range strings.SplitSeq(*kindsOf, ",") {
		var seed uint64
		fmt.Sscan(text, &seed)
		for _, s := range slices.Concat(shapes.Shapes(seed, *shapeCount), shapes.Pastes(seed, *shapeCount/3), shapes.Typed(seed, *shapeCount/3)) {
			kind := "files"
			if s.Name == "" {
				kind = s.Format
			}
			if !strings.Contains(*kindsOfTiers, s.Truth.Tier.String()) {
				continue
			}
			got, r, err := reading(s)
			score := shapes.Score(s.Truth, got)
			tier := kind + " " + fmt.Sprint(s.Truth.Tier)
			units, signs := unsaid(s.Truth)
			groups := []string{tier}
			strict := !slices.ContainsFunc(s.Truth.Questions, func(q shapes.Question) bool { return q.About != shapes.AboutClub })
			if strict {
				groups = append(groups, tier+", facts there")
			}
			if s.Truth.Tier != shapes.Wordless {
				if units {
					groups = append(groups, tier+", no units")
				}
				if signs {
					groups = append(groups, tier+", no signs")
				}
				if units && signs {
					groups = append(groups, tier+", neither")
				}
				if units || signs {
					groups = append(groups, tier+", not both")
				}
			}
			for _, g := range groups {
				c := by[g]
				if c == nil {
					c = &tally{}
					by[g] = c
				}
				c.n++
				c.kinds[score.Kind]++
				c.questions += len(r.Questions)
				if score.Kind == shapes.Asked && len(r.Questions) <= 2 {
					c.few++
				}
				if score.Kind == shapes.Wrong {
					if score.Avoidable() {
						c.avoided++
					} else {
						c.custom++
					}
				}
			}
			if score.Kind == shapes.Whole {
				continue
			}
			ks := kinds(s, r, err, score)
			slices.Sort(ks)
			for _, k := range slices.Compact(ks) {
				for _, g := range groups[:min(len(groups), 2)] {
					if !strings.HasSuffix(g, "facts there") && g != tier {
						continue
					}
					if what[g] == nil {
						what[g] = map[string]int{}
					}
					what[g][k]++
				}
			}
			if *kindsLog != "" && slices.ContainsFunc(ks, func(k string) bool {
				for _, want := range strings.Split(*kindsLog, "&") {
					if !strings.Contains(tier+" "+fmt.Sprint("strict=", strict)+" "+k, want) {
						return false
					}
				}
				return true
			}) {
				data := s.Data
				if s.Format == "xlsx" || s.Packed != "" {
					data = nil
				}
				var heads []string
				for _, c := range s.Truth.Columns {
					n := "-"
					if c.Known {
						n = c.Number.String()
					}
					heads = append(heads, fmt.Sprintf("%s=%s[%s,%v,%v]", c.Heading, n, c.Unit, c.UnitIn, c.Positive))
				}
				log = append(log, fmt.Sprintf("== seed %d %s %d %s %s %s hand %v ball %v: %v\nkinds %v\nleft %v faults %v\ncolumns %v\n%.900s\ndecided %v\nasked %v", seed, tier, s.I, s.Truth.Language, s.Format, s.Encoding, s.Truth.Hand, s.Truth.Ball, score.Kind, ks, score.LeftOut, score.Faults, strings.Join(heads, " | "), data, strings.Join(r.Decisions, "\n  "), r.Questions))
			}
		}
	}
	t.Log(strings.Join(log, "\n"))
	for _, g := range slices.Sorted(maps.Keys(by)) {
		c := by[g]
		share := func(k int) float64 { return 100 * float64(k) / float64(c.n) }
		t.Logf("%-28s n %4d whole %5.1f asked %5.1f (few %5.1f) left %4.1f refused %4.1f wrong %4.1f custom %4.1f q/file %.2f", g, c.n,
			share(c.kinds[shapes.Whole]), share(c.kinds[shapes.Asked]), share(c.few), share(c.kinds[shapes.LeftOut]), share(c.kinds[shapes.Refused]), share(c.avoided), share(c.custom), float64(c.questions)/float64(c.n))
	}
	for _, g := range slices.Sorted(maps.Keys(what)) {
		ks := slices.SortedFunc(maps.Keys(what[g]), func(a, b string) int { return cmp.Or(what[g][b]-what[g][a], cmp.Compare(a, b)) })
		var lines []string
		for _, k := range ks[:min(len(ks), 45)] {
			lines = append(lines, fmt.Sprintf("  %4d %s", what[g][k], k))
		}
		t.Logf("%s\n%s", g, strings.Join(lines, "\n"))
	}
}
