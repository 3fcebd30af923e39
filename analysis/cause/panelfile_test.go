package cause_test

import (
	"flag"
	"fmt"
	"math"
	"os"
	"reflect"
	"slices"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/sessionfile"
)

// What the judges of length, shapes, mixtures and faults share. They see the
// product by its exported names alone, and what it may come to say they take by
// its words, so that a verdict added later needs nothing here.

var (
	answerCases = flag.Int("answer", 30, "sessions of each study of length, shapes, mixtures and faults; 600 or more for figures to quote")
	answerSeed  = flag.Uint64("answer-seed", 1, "its seed")
	answerFile  = flag.String("answer-file", "", "file to add the studies' tables to")
	answerHold  = flag.Bool("answer-hold", false, "hold the studies to what is promised")
)

// A heading is what a column is called in a file, with its unit.
var headings = []struct {
	n    analysis.Number
	head string
	unit float64 // SI
	cell string
}{
	{analysis.ClubSpeed, "Club Speed (m/s)", 1, "%.2f"},
	{analysis.Attack, "Attack Angle (deg)", analysis.Degree, "%.1f"},
	{analysis.Path, "Club Path (deg)", analysis.Degree, "%.1f"},
	{analysis.Face, "Face to Target (deg)", analysis.Degree, "%.1f"},
	{analysis.FaceToPath, "Face to Path (deg)", analysis.Degree, "%.1f"},
	{analysis.DynamicLoft, "Dynamic Loft (deg)", analysis.Degree, "%.1f"},
	{analysis.SpinLoft, "Spin Loft (deg)", analysis.Degree, "%.1f"},
	{analysis.StrikeToe, "Strike Toe (mm)", analysis.Millimetre, "%.0f"},
	{analysis.StrikeUp, "Strike Height (mm)", analysis.Millimetre, "%.0f"},
	{analysis.BallSpeed, "Ball Speed (m/s)", 1, "%.2f"},
	{analysis.Smash, "Smash Factor", 1, "%.2f"},
	{analysis.LaunchAngle, "Launch Angle (deg)", analysis.Degree, "%.1f"},
	{analysis.Direction, "Launch Direction (deg)", analysis.Degree, "%.1f"},
	{analysis.Spin, "Spin Rate (rpm)", analysis.RevPerMinute, "%.0f"},
	{analysis.SpinAxis, "Spin Axis (deg)", analysis.Degree, "%.1f"},
	{analysis.Carry, "Carry (m)", 1, "%.2f"},
	{analysis.Lateral, "Lateral (m)", 1, "%.2f"},
	{analysis.Apex, "Apex (m)", 1, "%.1f"},
	{analysis.Descent, "Descent Angle (deg)", analysis.Degree, "%.1f"},
	{analysis.FlightTime, "Flight Time (s)", 1, "%.2f"},
}

// fileOf is a session as a file with its sides in words, which leaves no sign to
// be asked about.
func fileOf(s analysis.Session) []byte {
	var b strings.Builder
	var there []int
	b.WriteString("Shot,Club")
	for i, h := range headings {
		if slices.ContainsFunc(s.Shots, func(shot analysis.Shot) bool { return shot.Has(h.n) }) {
			there = append(there, i)
			b.WriteString("," + h.head)
		}
	}
	for _, shot := range s.Shots {
		fmt.Fprintf(&b, "\n%d,%s", shot.N, shot.Club.Key())
		for _, i := range there {
			h := headings[i]
			v, ok := shot.Value(h.n)
			b.WriteByte(',')
			switch {
			case !ok:
			case h.n.Info().Sideways:
				side := "R"
				if v < 0 {
					side = "L"
				}
				fmt.Fprintf(&b, h.cell+" %s", math.Abs(v)/h.unit, side)
			default:
				fmt.Fprintf(&b, h.cell, v/h.unit)
			}
		}
	}
	return []byte(b.String() + "\n")
}

// readFile is the session as it comes back from its file. ok is false when it
// was refused.
func readFile(s analysis.Session) (r sessionfile.Reading, ok bool) {
	r, err := sessionfile.Read("session.csv", fileOf(s), sessionfile.Options{Hand: s.Hand, HandSet: true})
	if err != nil {
		return r, false
	}
	r.Session.Ball, r.Session.Target, r.Session.Conditions = s.Ball, s.Target, s.Conditions
	return r, true
}

// judgeSession judges the first set of a session, with the golfer's earlier
// sessions where there are any.
func judgeSession(s analysis.Session, past []analysis.Session) (analysis.Set, pattern.Pattern, cause.Result) {
	for i, shot := range s.Shots {
		s.Shots[i] = shot.Derived()
	}
	c := cause.Config{Hand: s.Hand, Ball: s.Ball, Conditions: s.Conditions, Target: s.Target}
	return cause.Judge(s.Sets()[0], withPast(c, past))
}

// misread reports whether a shot was set aside as one.
func misread(s analysis.Shot) bool {
	return s.Aside == analysis.Impossible || s.Aside == analysis.Inconsistent || s.Aside == analysis.Duplicate
}

// mishit reports whether a shot was set aside as one of any kind.
func mishit(s analysis.Shot) bool { return s.Aside != analysis.Used && !misread(s) }

// twoSaid reports whether a judgement says in any warning that there are two
// patterns in one.
func twoSaid(p pattern.Pattern, r cause.Result) bool {
	for _, w := range append(slices.Clone(p.Warnings), r.Warnings...) {
		if strings.Contains(w.Code, "two_") || strings.Contains(w.Code, "mixture") {
			return true
		}
	}
	return false
}

// estimates are the fields of a struct that are estimates or plain lengths, by
// name in lower case. A plain one has no limits: N is 0.
func estimates(v any) map[string]analysis.Estimate {
	all := map[string]analysis.Estimate{}
	of := reflect.ValueOf(v)
	for i := range of.NumField() {
		name := strings.ToLower(of.Type().Field(i).Name)
		switch x := of.Field(i).Interface().(type) {
		case analysis.Estimate:
			all[name] = x
		case float64:
			all[name] = analysis.Estimate{Mean: x}
		}
	}
	return all
}

// A count is how often something was so.
type count struct{ yes, of int }

func (c *count) add(yes bool) {
	c.of++
	if yes {
		c.yes++
	}
}

func (c count) share() float64 {
	if c.of == 0 {
		return math.NaN()
	}
	return float64(c.yes) / float64(c.of)
}

func (c count) String() string {
	if c.of == 0 {
		return "-"
	}
	return fmt.Sprintf("%d/%d", c.yes, c.of)
}

// A report is a table of counts by group and column, in the order they came.
type report struct {
	columns, groups []string
	counts          map[[2]string]*count
}

func newReport(columns ...string) *report {
	return &report{columns: columns, counts: map[[2]string]*count{}}
}

// add counts in every group.
func (r *report) add(column string, yes bool, groups ...string) {
	for _, g := range groups {
		if !slices.Contains(r.groups, g) {
			r.groups = append(r.groups, g)
		}
		k := [2]string{g, column}
		if r.counts[k] == nil {
			r.counts[k] = &count{}
		}
		r.counts[k].add(yes)
	}
}

func (r *report) at(group, column string) count {
	if c := r.counts[[2]string{group, column}]; c != nil {
		return *c
	}
	return count{}
}

// print writes the table, its groups sorted so that those of one kind stand
// together and "all" first.
func (r *report) print(t *testing.T, title string) {
	var b strings.Builder
	fmt.Fprintf(&b, "%s\n%-40s", title, "")
	for _, c := range r.columns {
		fmt.Fprintf(&b, " | %10s", c)
	}
	groups := slices.Clone(r.groups)
	slices.Sort(groups)
	for _, g := range groups {
		fmt.Fprintf(&b, "\n%-40s", g)
		for _, c := range r.columns {
			fmt.Fprintf(&b, " | %*s", max(10, len(c)), r.at(g, c))
		}
	}
	t.Log(b.String())
	if *answerFile == "" {
		return
	}
	f, err := os.OpenFile(*answerFile, os.O_APPEND|os.O_CREATE|os.O_WRONLY, 0o644)
	if err != nil {
		t.Fatal(err)
	}
	defer f.Close()
	if _, err := fmt.Fprintf(f, "%s, %d cases of seed %d\n\n", b.String(), *answerCases, *answerSeed); err != nil {
		t.Fatal(err)
	}
}

// never holds a share whether or not the study is held to what is promised: it
// is what nothing of any use falls under, on few sessions as on many.
func (r *report) never(t *testing.T, group, column string, low, high float64) {
	if c := r.at(group, column); c.of > 0 && (c.share() < low || c.share() > high) {
		t.Errorf("%s, %s: %s, never under %v or over %v", group, column, c, low, high)
	}
}

// atMost holds a share to a bound, where the study is held to it.
func (r *report) atMost(t *testing.T, group, column string, bound float64) {
	if c := r.at(group, column); *answerHold && c.of > 0 && c.share() > bound {
		t.Errorf("%s, %s: %s, at most %v is promised", group, column, c, bound)
	}
}

// atLeast likewise.
func (r *report) atLeast(t *testing.T, group, column string, bound float64) {
	if c := r.at(group, column); *answerHold && c.of > 0 && c.share() < bound {
		t.Errorf("%s, %s: %s, at least %v is promised", group, column, c, bound)
	}
}
