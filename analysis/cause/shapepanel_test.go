package cause_test

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/panel"
)

// TestShapePanel tries mishits, and whether two patterns are seen where there is
// one, on honest sessions of every shape and on sessions with tops, duffs, thin
// balls and shanks in them. Each goes through its file first.
//
//	set aside  honest sessions with any ball called a mishit
//	on a face  of those, sessions with one that was struck on the face: heavy tails
//	           drawn without end strike some balls where no club is (onFace)
//	balls      honest balls called mishits
//	misread    honest balls called misreads, or with a number left out
//	two        honest sessions said to be two patterns
//	carry      95 % limits of the mean carry hold the long run's, honest sessions
//	lateral    likewise
//	found      true mishits set aside
//	as kind    of those found, said as what they are
//	as misread true mishits called misreads
//	beside     good balls called mishits beside true ones
//
//	go test ./analysis/cause -run ShapePanel -v -answer 2000
func TestShapePanel(t *testing.T) {
	r := newReport("refused", "asked", "set aside", "on a face", "balls", "misread", "two", "carry", "lateral", "found", "as kind", "as misread", "beside")
	for _, c := range panel.ShapeCases(*answerSeed, *answerCases) {
		session, truth := c.Play()
		g := []string{
			"all", "world: " + c.World.Name, "shape: " + string(c.Shape), "club: " + c.Club.Key(),
			"columns: " + string(c.Columns), fmt.Sprintf("balls: %3d", c.Balls), steady(c.World),
		}
		if c.World.HeldOut {
			g = append(g, "held out")
		}
		reading, ok := readFile(session)
		r.add("refused", !ok, g...)
		if !ok {
			continue
		}
		r.add("asked", len(reading.Questions) > 0, g...)
		set, p, said := judgeSession(reading.Session, nil)
		if len(set.Shots) != c.Balls {
			t.Errorf("%s: %d balls come back", c, len(set.Shots))
			continue
		}
		if len(c.Mishits) == 0 {
			any, struck := false, false
			for i, shot := range set.Shots {
				any = any || mishit(shot)
				struck = struck || mishit(shot) && onFace(c.Club, truth.Balls[i].Delivery)
				r.add("balls", mishit(shot), g...)
				r.add("misread", misread(shot) || leftOut(session.Shots[i], shot), g...)
			}
			r.add("set aside", any, g...)
			r.add("on a face", struck, g...)
			r.add("two", twoSaid(p, said), g...)
			if p.Carry.OK && p.Lateral.OK {
				carry, lateral := truth.LongRun()
				r.add("carry", p.Carry.Low <= carry && carry <= p.Carry.High, g...)
				r.add("lateral", p.Lateral.Low <= lateral+askew(c.World, carry) && lateral+askew(c.World, carry) <= p.Lateral.High, g...)
			}
			continue
		}
		for i, shot := range set.Shots {
			m := truth.Mishits[i]
			if m == "" {
				r.add("beside", mishit(shot), g...)
				continue
			}
			g := append(g[:len(g):len(g)], "mishit: "+string(m), "mishit "+string(m)+": "+string(c.Shape))
			r.add("found", shot.Aside != analysis.Used, g...)
			r.add("as misread", misread(shot), g...)
			if shot.Aside != analysis.Used {
				r.add("as kind", strings.Contains(strings.ToLower(string(shot.Aside)+" "+shot.Why), string(m)), g...)
			}
		}
	}
	r.print(t, "shapes and mishits")
	r.never(t, "all", "balls", 0, 0.1)
	r.never(t, "all", "found", 0.6, 1)
	r.never(t, "all", "carry", 0.7, 1)
	r.never(t, "all", "refused", 0, 0)
	for _, s := range panel.Shapes() {
		r.atMost(t, "shape: "+string(s), "set aside", 0.05)
		r.atMost(t, "shape: "+string(s), "two", 0.02)
		r.atLeast(t, "shape: "+string(s), "carry", 0.93)
	}
	r.atMost(t, "steady device", "misread", 0.001)
	r.atMost(t, "mishit: shank", "as misread", 0)
}

// onFace reports whether a ball was struck on a club's face: within the largest head
// that the rules allow of a wood, 127 by 71 mm (Equipment Rules, Part 2 [M]), or 70 by
// 50 mm of an iron or wedge (common practice, no source).
func onFace(club analysis.Club, d analysis.Delivery) bool {
	wide, high := 0.070, 0.050
	switch club.Family {
	case analysis.Driver, analysis.Wood, analysis.Hybrid:
		wide, high = 0.127, 0.071
	}
	return math.Abs(d.StrikeToe) <= wide/2 && math.Abs(d.StrikeUp) <= high/2
}

// askew is what a device set down off line adds to every lateral, m: no file can
// tell.
func askew(w *panel.World, carry float64) float64 {
	c := panel.Case{World: w, Club: panel.Clubs()[0], Balls: 1, Columns: panel.Everything, Kind: panel.Square}
	_, truth := c.Play()
	return carry * truth.Askew
}

// leftOut reports whether a number of the file is not among those of the ball as
// it came back.
func leftOut(handed, back analysis.Shot) bool {
	for _, n := range analysis.Numbers() {
		if handed.Measured(n) && !back.Measured(n) {
			return true
		}
	}
	return false
}

// TestMixPanel tries sessions with two swings in them.
//
//	two      said to be two patterns
//	mishits  sessions in which a tenth of the balls or more are called mishits
//	centred  said to be centred
//	cause    a cause named as if it were one swing, and two not said
//
//	go test ./analysis/cause -run MixPanel -v -answer 2000
func TestMixPanel(t *testing.T) {
	r := newReport("two", "mishits", "centred", "cause")
	for _, c := range panel.MixCases(*answerSeed, *answerCases) {
		session, truth := c.Play()
		parts, way := "half", "blocks"
		if c.Third {
			parts = "third"
		}
		if c.Turns {
			way = "turns"
		}
		apart := "under 3"
		switch {
		case truth.Apart >= 6:
			apart = "6 and more"
		case truth.Apart >= 3:
			apart = "3 to 6"
		}
		g := []string{
			"all", "world: " + c.World.Name, "kind: " + string(c.Kind), "columns: " + string(c.Columns),
			fmt.Sprintf("balls: %3d", c.Balls), "parts: " + parts, "way: " + way, "deviations: " + apart,
		}
		set, p, said := judgeSession(session, nil)
		two := twoSaid(p, said)
		mishits := 0
		for _, shot := range set.Shots {
			if mishit(shot) {
				mishits++
			}
		}
		r.add("two", two, g...)
		r.add("mishits", 10*mishits >= c.Balls, g...)
		r.add("centred", said.Verdict == "centred" && !two, g...)
		switch said.Verdict {
		case "face", "path", "face_and_path", "aim", "strike":
			r.add("cause", !two, g...)
		default:
			r.add("cause", false, g...)
		}
	}
	r.print(t, "two swings in one file")
	r.never(t, "all", "cause", 0, 0.5)
	r.atLeast(t, "kind: "+string(panel.MixPath20), "two", 0.95)
}
