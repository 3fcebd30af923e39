package cause_test

import (
	"fmt"
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/panel"
)

// ownerSaid is a verdict of length as an owner of the panel: "" when none was
// named, for whatever reason.
func ownerSaid(v cause.DistanceVerdict) panel.Owner {
	switch v {
	case "centred", "luck":
		return panel.OwnerNone
	case "speed", "loft", "strike", "spin", "club":
		return panel.Owner(v)
	case "air", "ball", "air_or_ball", "wind":
		return panel.OwnerAir
	case "two", "two_things":
		return panel.OwnerTwo
	}
	return ""
}

// withPast is the config with the golfer's usual of earlier sessions in it.
func withPast(c cause.Config, past []analysis.Session) cause.Config {
	c.Usual = map[analysis.Club]cause.Usual{}
	for _, s := range past {
		for _, set := range s.Sets() {
			if u, ok := cause.UsualOf(past, set.Club, c); ok {
				c.Usual[set.Club] = u
			}
		}
	}
	return c
}

// TestLengthPanel tries the owner of a miss in length on worlds whose flight and
// impact are not the model's (package panel, length.go). A session counts where
// its miss is real: half as large again as the practical zero, and a tenth off
// the border to another owner.
//
//	oracle    what the session's own balls owe, flown by the world: no judge does better
//	right     the owner the world's own flights give, or one as right with the columns
//	near      one of two owners, or two of which one is right
//	wrong     another owner
//	centred   said of a real miss
//	not said  no owner named
//	false     an owner said where nothing is off, of those inside the practical zero by a tenth
//	no strike strike said where every ball was struck as usual
//	luck      of misses said to be luck, those whose limits have luck in them
//	miss      95 % limits of the miss hold the long run's (but of sessions picked for luck)
//	shares    95 % limits of an owner's yards hold the long run's
//	adds up   the yards of all owners are the miss within 1 cm
//	within    plain yards of an owner within 2 yd or a quarter of the sample's
//	club      a face, path, aim or strike named for the miss sideways
//
//	go test ./analysis/cause -run LengthPanel -v -answer 2000
func TestLengthPanel(t *testing.T) {
	r := newReport("oracle", "right", "near", "wrong", "centred", "not said", "said right", "said wrong", "false", "no strike", "luck", "miss", "shares", "within", "adds up", "club")
	for _, c := range panel.LengthCases(*answerSeed, *answerCases) {
		s, truth, past := c.Play()
		_, p, said := judgeSession(s, past)
		d := said.Distance
		g := []string{
			"all", "world: " + c.World.Name, "kind: " + string(c.Kind), "club: " + c.Club.Key(),
			"columns: " + string(c.Columns), fmt.Sprintf("balls: %3d", c.Balls),
			fmt.Sprintf("past: %v", c.Past), fmt.Sprintf("knowable: %v", truth.Knowable),
			"truth: " + string(truth.Label),
		}
		if c.World.HeldOut {
			g = append(g, "held out")
		}
		owner := ownerSaid(d.Verdict)
		named := owner != "" && owner != panel.OwnerNone
		switch {
		case truth.Label == panel.OwnerNone && truth.Margin > 0.1:
			r.add("false", named, g...)
		case truth.Label != panel.OwnerNone && truth.Margin > 0.1 && math.Abs(truth.Miss) > 1.5*truth.Zero:
			right, near := ownerRight(owner, truth)
			r.add("oracle", truth.SampleLabel == truth.Label, g...)
			r.add("right", right, g...)
			r.add("near", near, g...)
			r.add("wrong", named && !right && !near, g...)
			r.add("centred", owner == panel.OwnerNone, g...)
			r.add("not said", owner == "", g...)
			if named {
				r.add("said right", right, g...)
				r.add("said wrong", !right && !near, g...)
			}
		}
		if _, off := truth.Owners[panel.OwnerStrike]; !off {
			r.add("no strike", owner == panel.OwnerStrike, g...)
		}
		if d.Verdict == "luck" {
			r.add("luck", !d.Miss.Excludes(0), g...)
		}
		if d.Known && d.Miss.OK && c.Kind != panel.LengthLuck {
			r.add("miss", d.Miss.Low <= truth.Miss && truth.Miss <= d.Miss.High, g...)
		}
		judgeShares(r, d, truth, g)
		if c.Kind == panel.CrossWind {
			switch said.Verdict {
			case cause.Face, cause.Path, cause.FaceAndPath, cause.Aim, cause.Strike:
				r.add("club", true, g...)
			default:
				r.add("club", false, g...)
			}
		}
		if testing.Verbose() && *answerCases <= 60 && named {
			t.Logf("%s: %s (%.1f), said %s %.2f: miss %.1f true %.1f; owners %v; %d of %d used", c, truth.Label, truth.Margin, d.Verdict, d.Confidence, d.Miss.Mean, truth.Miss, truth.Owners, p.Used, c.Balls)
		}
	}
	r.print(t, "length")
	r.never(t, "all", "miss", 0.75, 1)
	r.never(t, "all", "false", 0, 0.25)
	r.never(t, "all", "club", 0, 0.5)
	r.atLeast(t, "all", "said right", 0.80)
	r.atMost(t, "all", "said wrong", 0.05)
	r.atMost(t, "all", "false", 0.03)
	r.atMost(t, "all", "no strike", 0)
	r.atLeast(t, "all", "luck", 1)
	r.atLeast(t, "all", "miss", 0.93)
	r.atLeast(t, "all", "shares", 0.93)
	r.atLeast(t, "all", "adds up", 1)
}

// ownerRight is whether an owner is the session's, or near it.
func ownerRight(said panel.Owner, truth panel.LengthTruth) (right, near bool) {
	if said == "" || said == panel.OwnerNone {
		return false, false
	}
	if said == truth.Label {
		return true, false
	}
	for _, o := range truth.Also {
		if said == o {
			return true, false
		}
	}
	for _, o := range truth.Main {
		near = near || said == o
	}
	return false, near || said == panel.OwnerTwo && second(truth)
}

// second is whether another owner than the main one has a fifth of the miss: two
// things said of it are near.
func second(truth panel.LengthTruth) bool {
	for o, v := range truth.Owners {
		if len(truth.Main) == 1 && o != truth.Main[0] && v/truth.Miss > 0.2 {
			return true
		}
	}
	return false
}

// offOrNot is the group of an owner's yards by whether it was off at all and the
// golfer's usual known: limits of what is nothing are easily right, and pooled they
// hide those of what is something.
func offOrNot(o panel.Owner, truth panel.LengthTruth) string {
	_, off := truth.Owners[o]
	if k := truth.Case.Kind; o == panel.OwnerClub {
		off = k == panel.OtherClub || k == panel.InTheMiddle
	}
	return fmt.Sprintf("yards of what was off %v, past %v", off, truth.Case.Past)
}

// judgeShares judges the yards said of each owner. Air may be said as air and
// ball; the rest is the club's.
func judgeShares(r *report, d cause.Distance, truth panel.LengthTruth, g []string) {
	if !d.Known || d.Verdict == cause.DistanceNone {
		return
	}
	fields := map[string]panel.Owner{
		"speed": panel.OwnerSpeed, "loft": panel.OwnerLoft, "strike": panel.OwnerStrike, "spin": panel.OwnerSpin,
		"air": panel.OwnerAir, "ball": panel.OwnerAir, "wind": panel.OwnerAir,
		"club": panel.OwnerClub, "rest": panel.OwnerClub,
	}
	sum := 0.0
	plain := map[panel.Owner]float64{}
	for name, e := range estimates(d) {
		o, ok := fields[name]
		if !ok {
			continue
		}
		sum += e.Mean
		plain[o] += e.Mean
		if e.OK && name != "ball" && name != "wind" && truth.Case.Kind != panel.LengthLuck {
			v := truth.Owners[o]
			r.add("shares", e.Low <= v && v <= e.High, append(g[:len(g):len(g)], "yards: "+string(o), offOrNot(o, truth))...)
		}
	}
	for o, said := range plain {
		v := truth.SampleOwners[o]
		r.add("within", math.Abs(said-v) <= max(2*analysis.Yard, math.Abs(v)/4), append(g[:len(g):len(g)], "yards: "+string(o))...)
	}
	r.add("adds up", math.Abs(sum-d.Miss.Mean) < 0.01, g...)
}
