package cause_test

import (
	"fmt"
	"slices"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/panel"
	"rangepost/analysis/sessionfile"
)

// TestFaultPanel tries what a device gets wrong, through the file, beside the
// same file without the fault.
//
//	found     one ball: set aside as misread, or the number left out;
//	          a column: a new question, or the numbers of most balls left out.
//	          Only where other columns contradict it.
//	unknown   the same where none does
//	mishit    one ball: called a mishit instead
//	a word    a column: nothing but a decision that the honest file does not have
//	moved     the verdict sideways is another than of the honest file, of those
//	          not found: the fault went through
//	advice    likewise, what the face or the path is asked to move by is 3 deg or more off
//	beside    other balls newly called misreads
//
// Honest files are counted by ball:
//
//	false     balls called misreads or with a number left out
//
//	go test ./analysis/cause -run FaultPanel -v -answer 2000
func TestFaultPanel(t *testing.T) {
	r := newReport("refused", "asked", "found", "unknown", "mishit", "a word", "moved", "advice", "beside")
	honest := newReport("refused", "asked", "false")
	all := append(panel.BallFaults(), panel.ColumnFaults()...)
	for _, c := range panel.FaultCases(*answerSeed, *answerCases, all) {
		was, _ := c.Honest().Play()
		is, truth := c.Play()
		g := []string{
			"fault: " + string(c.Fault), "world: " + c.World.Name, "columns: " + string(c.Columns),
			fmt.Sprintf("balls: %3d", c.Balls), "shape: " + string(c.Shape),
		}
		if truth.At >= 0 {
			g = append(g, "all of one ball")
		} else {
			g = append(g, "all of columns")
		}
		before, ok := readFile(was)
		h := []string{"all", g[1], g[2], g[3], steady(c.World) + ", " + string(c.Shape)}
		honest.add("refused", !ok, h...)
		if !ok {
			continue
		}
		honest.add("asked", len(before.Questions) > 0, h...)
		for i, shot := range before.Session.Shots {
			honest.add("false", misread(shot) || leftOut(was.Shots[i], shot), h...)
		}
		after, ok := readFile(is)
		r.add("refused", !ok, g...)
		if !ok {
			continue
		}
		asked := newQuestion(before, after)
		r.add("asked", asked, g...)
		if len(after.Session.Shots) != c.Balls || len(before.Session.Shots) != c.Balls {
			t.Errorf("%s: %d balls come back", c, len(after.Session.Shots))
			continue
		}
		set, _, said := judgeSession(after.Session, nil)
		_, _, owed := judgeSession(before.Session, nil)

		found := faultFound(truth, is, after) || truth.At < 0 && asked
		if truth.Contradicted {
			r.add("found", found, g...)
		} else {
			r.add("unknown", found, g...)
		}
		if truth.At >= 0 {
			r.add("mishit", !found && mishit(set.Shots[truth.At]), g...)
		} else {
			r.add("a word", !found && newDecision(before, after), g...)
		}
		if !found {
			r.add("moved", said.Verdict != owed.Verdict, g...)
			r.add("advice", advice(said, owed) >= 3*analysis.Degree, g...)
		}
		for i, shot := range after.Session.Shots {
			if i != truth.At && truth.At >= 0 {
				r.add("beside", misread(shot) && !misread(before.Session.Shots[i]), g...)
			}
		}
	}
	r.print(t, "faults")
	honest.print(t, "honest files, by ball")
	honest.never(t, "all", "false", 0, 0.05)
	honest.never(t, "all", "refused", 0, 0)
	r.never(t, "all of one ball", "beside", 0, 0.05)
	for _, f := range panel.BallFaults() {
		r.atLeast(t, "fault: "+string(f), "found", 0.80)
	}
	for _, f := range panel.ColumnFaults() {
		r.atLeast(t, "fault: "+string(f), "found", 0.80)
	}
	honest.atMost(t, "steady device, "+string(panel.ShapeNormal), "false", 0.001)
	honest.atMost(t, "steady device, "+string(panel.ShapeT3), "false", 0.001)
}

// steady names the kind of device: readings set aside of a wild one are no false
// alarms.
func steady(w *panel.World) string {
	if w.Wild() {
		return "wild device"
	}
	return "steady device"
}

// faultFound reports whether the ball, or most of them, was set aside as a
// misread or came back without a number that is wrong.
func faultFound(truth panel.FaultTruth, handed analysis.Session, after sessionfile.Reading) bool {
	out := 0
	for i, shot := range after.Session.Shots {
		if truth.At >= 0 && i != truth.At {
			continue
		}
		if misread(shot) || slices.ContainsFunc(truth.Numbers, func(n analysis.Number) bool {
			return handed.Shots[i].Measured(n) && !shot.Measured(n)
		}) {
			out++
		}
	}
	if truth.At >= 0 {
		return out > 0
	}
	return 2*out > len(handed.Shots)
}

// newQuestion reports whether the file is asked about what the honest one is not.
func newQuestion(before, after sessionfile.Reading) bool {
	return slices.ContainsFunc(after.Questions, func(q analysis.Question) bool {
		return !slices.ContainsFunc(before.Questions, func(p analysis.Question) bool { return p.Key == q.Key })
	})
}

func newDecision(before, after sessionfile.Reading) bool {
	return slices.ContainsFunc(after.Decisions, func(d string) bool { return !slices.Contains(before.Decisions, d) })
}

// advice is how far apart two work-backs are, rad, in what differs the more.
func advice(a, b cause.Result) float64 {
	if !a.WorkBack.OK || !b.WorkBack.OK {
		return 0
	}
	face, path := a.WorkBack.FaceBy-b.WorkBack.FaceBy, a.WorkBack.PathBy-b.WorkBack.PathBy
	return max(face, -face, path, -path)
}
