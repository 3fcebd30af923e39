package cause

import (
	"sort"
	"testing"

	"rangepost/analysis/impact"
	"rangepost/analysis/panel"
)

// Face and path of single balls, worked back from their flight: the limits hold
// what the ball truly had, for every kind of club, with and without the club's
// speed, and of the balls said to be told as well.
func TestSingleBallsOverThePanel(t *testing.T) {
	type held struct{ face, path, toldFace, toldPath share }
	groups := map[string]*held{}
	for _, c := range panel.Cases(*panelSeed+100, 4*max(40, *panelCases/2)) {
		if c.Columns != panel.BallOnly && c.Columns != panel.SpeedSmash && c.Columns != panel.Everything || c.World.Name == "skewed" {
			continue
		}
		if c.Columns == panel.Everything {
			c.Columns = panel.SpeedSmash // twice as many of the hard ones
		}
		session, truth := c.Play()
		for i, s := range session.Shots {
			session.Shots[i] = s.Derived()
		}
		set := session.Sets()[0]
		_, worked := fill(set, Config{Hand: session.Hand, Conditions: session.Conditions})
		key := familyOf(c.Club) + ", " + string(c.Columns)
		if groups[key] == nil {
			groups[key] = &held{}
		}
		g := groups[key]
		for i, inference := range worked {
			if inference == nil {
				continue
			}
			d := truth.Balls[i].Delivery
			in := func(mean, sd, v float64) bool {
				low, high := impact.Limits95(mean, sd)
				return low <= v && v <= high
			}
			face, path := in(inference.Face, inference.FaceSD, d.Face), in(inference.Path, inference.PathSD, d.Path)
			g.face.add(face)
			g.path.add(path)
			if inference.FaceOK {
				g.toldFace.add(face)
			}
			if inference.PathOK {
				g.toldPath.add(path)
			}
		}
	}
	var keys []string
	for k := range groups {
		keys = append(keys, k)
	}
	sort.Strings(keys)
	for _, k := range keys {
		g := groups[k]
		t.Logf("%-45s face %s path %s; of those told: face %s path %s", k, g.face.short(), g.path.short(), g.toldFace.short(), g.toldPath.short())
		// Balls of a session share their world, so that the counts vary more than
		// single balls would.
		for _, part := range []struct {
			what string
			s    share
		}{{"face", g.face}, {"path", g.path}} {
			// A short run has eight sessions of a kind.
			least := 0.72
			if part.s.all >= 1000 {
				least = 0.86
			}
			if part.s.all >= 200 && part.s.value() < least {
				t.Errorf("%s: limits of the %s of one ball hold it in %v", k, part.what, part.s)
			}
		}
	}
}
