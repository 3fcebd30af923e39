package plan

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Trial is the balls that were compared as one labelled trial, as if looked at
// once: what tools' observations and compensation are told from. ok is false while
// a set has no balls. Its verdicts do not stand being looked at again; those of
// Judge do.
//
// What a visit differs from the others by, over all its balls of the card, is taken
// out first, so that a day is no scatter.
func (p Plan) Trial(visits []Placed, w Worths) (r trial.Result, ok bool, err error) {
	f, err := p.lay(visits, p.numbers())
	if err != nil {
		return r, false, err
	}
	sets := make([]analysis.Set, len(p.Labels))
	for i, label := range p.Labels {
		sets[i] = analysis.Set{Club: p.Club, Label: label}
	}
	n := 0
	for _, ball := range f.levelled() {
		n++
		ball.shot.N, ball.shot.Label, ball.shot.Club = n, p.Labels[ball.set], p.Club
		sets[ball.set].Shots = append(sets[ball.set].Shots, ball.shot)
	}
	for _, s := range sets {
		if len(s.Shots) == 0 {
			return r, false, nil
		}
	}
	r, err = trial.Of(sets, 0, trial.Config{
		Zeros:     map[analysis.Number]float64{p.Number: p.Change},
		FaceWorth: w.Face, PathWorth: w.Path, WorthDoubt: w.Doubt, Seed: p.Seed,
	})
	return r, err == nil, err
}

// levelled are the balls of the blocks that were compared, as they were hit, each
// number less what its visit differs from all visits by.
func (f *field) levelled() []placed {
	visit := map[int]int{}
	turns := map[int]bool{}
	for _, d := range f.all {
		visit[d.block] = d.visit
		turns[f.at[[2]int{d.block, 0}]], turns[f.at[[2]int{d.block, d.set}]] = true, true
	}
	var all []placed
	for i, t := range f.plan.Turns {
		if turns[i] {
			for _, s := range f.turns[i].shots {
				all = append(all, placed{*s, t.Set, visit[t.Block]})
			}
		}
	}
	for _, n := range f.numbers {
		level(all, n)
	}
	return all
}

// placed is a ball in its place.
type placed struct {
	shot       analysis.Shot
	set, visit int
}

func level(balls []placed, n analysis.Number) {
	sum, count := map[int]float64{}, map[int]float64{}
	total := 0.0
	for _, b := range balls {
		if v, ok := b.shot.Value(n); ok {
			sum[b.visit] += v
			count[b.visit]++
			total += v
		}
	}
	all := 0.0
	for _, c := range count {
		all += c
	}
	for i, b := range balls {
		v, ok := b.shot.Value(n)
		if !ok {
			continue
		}
		v -= sum[b.visit]/count[b.visit] - total/all
		if b.shot.Inferred(n) {
			balls[i].shot = b.shot.With(n, math.NaN()).WithInferred(n, v)
		} else {
			balls[i].shot = b.shot.With(n, v)
		}
	}
}
