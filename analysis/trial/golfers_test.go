package trial_test

import (
	"math"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// taught is what one trial of a tool saw of face, path and club speed, deg and m/s.
func taught(tool analysis.Tool, face, path, speed float64) []analysis.Observation {
	return []analysis.Observation{
		{Club: iron, Tool: tool, Number: analysis.Face, Difference: face * analysis.Degree, SE: 0.8 * analysis.Degree, Balls: 10},
		{Club: iron, Tool: tool, Number: analysis.Path, Difference: path * analysis.Degree, SE: 0.8 * analysis.Degree, Balls: 10},
		{Club: iron, Tool: tool, Number: analysis.ClubSpeed, Difference: speed, SE: 0.2, Balls: 10},
	}
}

func pooledOf(t *testing.T, all []analysis.Pooled, n analysis.Number) analysis.Pooled {
	t.Helper()
	for _, p := range all {
		if p.Number == n {
			return p
		}
	}
	t.Fatalf("%s is not pooled", n)
	return analysis.Pooled{}
}

// A left-hander counts as the right-hander in the mirror, but for a tool that goes
// by the target.
func TestPoolMirrors(t *testing.T) {
	for _, c := range []struct {
		tool analysis.Tool
		side float64
	}{{analysis.StrongerGrip, -1}, {analysis.BallBack, -1}, {analysis.AimLeft, 1}} {
		var right, mixed []trial.Golfer
		for i := range 6 {
			face, path, speed := -2-float64(i)/3, -1+float64(i)/4, -0.1*float64(i)
			g := trial.Golfer{Taught: taught(c.tool, face, path, speed)}
			right = append(right, g)
			if i%2 == 0 {
				g = trial.Golfer{Hand: analysis.LeftHanded, Taught: taught(c.tool, c.side*face, c.side*path, speed)}
			}
			mixed = append(mixed, g)
		}
		want, got := trial.Pool(c.tool, right), trial.Pool(c.tool, mixed)
		if len(want) != 3 || len(got) != 3 {
			t.Fatalf("%s: %d and %d numbers pooled, want 3", c.tool, len(want), len(got))
		}
		for i := range want {
			if got[i] != want[i] {
				t.Errorf("%s: with left-handers %+v, without %+v", c.tool, got[i], want[i])
			}
		}
		// And what is learned from it reads as the student's own hand has it.
		r := find(t, trial.Learn(nil, analysis.RightHanded, want...), c.tool, analysis.Face)
		l := find(t, trial.Learn(nil, analysis.LeftHanded, want...), c.tool, analysis.Face)
		if p := pooledOf(t, want, analysis.Face); math.Abs(r.Mean-p.Mean) > 1e-12 || math.Abs(l.Mean-c.side*p.Mean) > 1e-12 || r.Golfers != 6 {
			t.Errorf("%s: pooled %v, learned %v right-handed and %v left-handed", c.tool, p.Mean, r.Mean, l.Mean)
		} else if math.Abs(r.High-p.NewHigh) > 0.15*(p.NewHigh-p.NewLow) {
			t.Errorf("%s: limits %v to %v, prediction limits %v to %v", c.tool, r.Low, r.High, p.NewLow, p.NewHigh)
		}
	}
}

// Of four golfers nothing is pooled, nor of five of whom one never had the path
// measured; a number that one of five lacks is not told of the others.
func TestPoolFew(t *testing.T) {
	var golfers []trial.Golfer
	for i := range 5 {
		golfers = append(golfers, trial.Golfer{Taught: taught(analysis.BallBack, float64(i)/3, 1.5, 0)})
	}
	if got := trial.Pool(analysis.BallBack, golfers[:4]); got != nil {
		t.Errorf("of four golfers: %+v", got)
	}
	if got := trial.Pool(analysis.StrongerGrip, golfers); got != nil {
		t.Errorf("of a tool nobody tried: %+v", got)
	}
	if got := trial.Pool(analysis.BallBack, golfers); len(got) != 3 || got[0].Golfers != 5 || got[0].Trials != 5 {
		t.Errorf("of five golfers: %+v", got)
	}
	golfers[2].Taught = golfers[2].Taught[:2] // no club speed
	if got := trial.Pool(analysis.BallBack, golfers); len(got) != 2 || got[0].Number == analysis.ClubSpeed || got[1].Number == analysis.ClubSpeed {
		t.Errorf("club speed that four have: %+v", got)
	}
	golfers[3].Taught = golfers[3].Taught[:1] // the face alone
	if got := trial.Pool(analysis.BallBack, golfers); got != nil {
		t.Errorf("of five golfers, one without a path: %+v", got)
	}
}

// What a response rests on: nothing tried goes by the coach's students or the
// trade, many trials by themselves, and a trial that says little beside students
// who differ less by those.
func TestGrounds(t *testing.T) {
	var golfers []trial.Golfer
	for i := range 12 {
		golfers = append(golfers, trial.Golfer{Taught: taught(analysis.BallBack, 0.5, float64(i)/3, 0)})
	}
	pooled := trial.Pool(analysis.BallBack, golfers)
	vague := []analysis.Observation{{Club: iron, Tool: analysis.BallBack, Number: analysis.Path, Difference: -1 * analysis.Degree, SE: 4 * analysis.Degree, Balls: 3}}
	var many []analysis.Observation
	for range 8 {
		many = append(many, taught(analysis.BallBack, 0, -1, 0)...)
	}
	for _, c := range []struct {
		name   string
		seen   []analysis.Observation
		pooled []analysis.Pooled
		want   analysis.Grounds
	}{
		{"nothing", nil, nil, analysis.CommonPractice},
		{"students alone", nil, pooled, analysis.CoachStudents},
		{"a vague trial and students", vague, pooled, analysis.CoachStudents},
		{"a vague trial", vague, nil, analysis.CommonPractice},
		{"many trials", many, nil, analysis.OwnTrials},
		{"many trials and students", many, pooled, analysis.OwnTrials},
	} {
		r := find(t, trial.Learn(c.seen, analysis.RightHanded, c.pooled...), analysis.BallBack, analysis.Path)
		if got := r.Grounds(); got != c.want {
			t.Errorf("%s: rests on %q, want %q (%+v)", c.name, got, c.want, r)
		}
	}
}
