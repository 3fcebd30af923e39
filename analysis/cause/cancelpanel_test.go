package cause_test

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/panel"
	"rangepost/analysis/trial"
)

// TestCancelPanel tries what a trial says one number cancelled of what another
// did: a golfer of the panel hits a set as usual and a set with face and path
// moved, and the share is theirs by the yards that the world itself gives face
// and path in the long run of each set.
//
//	told   the share is told at all
//	held   its limits hold the world's
//	wide   of those told, limits more than one wide: of no use
//
// The number that leads is the one that the world moved the more yards by, and
// only sets are counted where the two pull opposite ways there.
//
//	go test ./analysis/cause -run CancelPanel -v -answer 600
func TestCancelPanel(t *testing.T) {
	r := newReport("told", "held", "wide")
	rng := rand.New(rand.NewPCG(*answerSeed, 0x63616e63656c))
	usual := []panel.Kind{panel.Square, panel.FaceOff, panel.PathOff}
	moved := []panel.Kind{panel.Leaning, panel.ExtremePath, panel.Together, panel.AimOff}
	worlds, clubs, columns := panel.Worlds(), panel.Clubs(), panel.AllColumns()
	for i := range *answerCases {
		c := panel.Case{
			World: worlds[i%len(worlds)], Club: clubs[rng.IntN(len(clubs))], Hand: analysis.Hand(rng.IntN(2)),
			Balls: 8 + rng.IntN(23), Columns: columns[rng.IntN(len(columns))],
			Kind: usual[rng.IntN(len(usual))], Seed: rng.Uint64(),
		}
		tried := c
		tried.Kind, tried.Balls = moved[rng.IntN(len(moved))], 8+rng.IntN(23)
		before, was := c.Play()
		after, is := tried.Play()
		face, path := is.LongRun.Face-was.LongRun.Face, is.LongRun.Path-was.LongRun.Path
		if face*path >= 0 || max(math.Abs(face), math.Abs(path)) < was.Zero {
			continue
		}
		base, _, said := judgeSession(before, nil)
		set, _, then := judgeSession(after, nil)
		for i := range set.Shots {
			set.Shots[i].N += c.Balls
		}
		config := trial.Config{Numbers: []analysis.Number{analysis.Face, analysis.Path}}
		config.FaceWorth, config.PathWorth, config.WorthDoubt = cause.WorthBetween(said, then)
		config.Split = map[int]trial.Metres{}
		for _, b := range said.Balls {
			config.Split[b.N] = trial.Metres{Face: b.FaceM, Path: b.PathM}
		}
		for _, b := range then.Balls {
			config.Split[b.N+c.Balls] = trial.Metres{Face: b.FaceM, Path: b.PathM}
		}
		result, err := trial.Of([]analysis.Set{base, set}, 0, config)
		if err != nil {
			t.Fatal(err)
		}
		of := "others"
		if c.World.HeldOut {
			of = "held out"
		}
		g := []string{"all " + of, "world: " + c.World.Name, "club: " + c.Club.Key(), "columns: " + string(c.Columns), worked(said)}
		if len(result.Compensations) == 0 {
			r.add("told", false, g...)
			continue
		}
		said0, truth := result.Compensations[0], -path/face
		share := trial.Fraction{OK: said0.OK, Value: said0.Cancelled, Low: said0.Low, High: said0.High}
		lead := "lead: face"
		if math.Abs(path) > math.Abs(face) {
			share, truth, lead = said0.Reverse, -face/path, "lead: path"
		}
		g = append(g, lead, fmt.Sprintf("balls: %d to %d", (c.Balls+tried.Balls)/20*10, (c.Balls+tried.Balls)/20*10+9))
		r.add("told", share.OK, g...)
		if share.OK {
			r.add("held", share.Low <= truth && truth <= share.High, g...)
			r.add("wide", share.High-share.Low > 1, g...)
		}
	}
	r.print(t, "the share cancelled")
	r.never(t, "all others", "held", 0.8, 1)
	r.atLeast(t, "all others", "held", 0.93)
	r.atLeast(t, "all held out", "held", 0.91)
}

// worked names how a session's face and path came to be known.
func worked(r cause.Result) string {
	if r.Inferred {
		return "face and path worked back"
	}
	return "face and path measured"
}
