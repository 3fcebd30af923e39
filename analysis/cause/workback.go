package cause

import (
	"rangepost/analysis"
)

// workBack finds the smallest change of face and path that puts the centre on
// target, measured in the golfer's own shot-to-shot covariance S,
//
//	min D' S^-1 D subject to s.D = -miss:  D = -miss S s / (s' S s)
//
// with s what a radian of each is worth; then either number alone, and the
// setup tool that comes nearest to the number that has to move.
func workBack(r *Result, draws []draw, c Config) WorkBack {
	ff, fp, pp := ownSpread(r.Balls)
	sf, sp := r.FaceWorth, r.PathWorth
	uf, up := ff*sf+fp*sp, fp*sf+pp*sp
	if sf == 0 || sp == 0 {
		return WorkBack{} // a ball that hardly flies cannot be steered
	}
	w := WorkBack{OK: true}
	w.FaceBy = -r.Miss.Mean * uf / (sf*uf + sp*up)
	w.PathBy = -r.Miss.Mean * up / (sf*uf + sp*up)
	w.FaceAlone = alone(r, draws, sf, func(d draw) float64 { return d.faceWorth })
	w.PathAlone = alone(r, draws, sp, func(d draw) float64 { return d.pathWorth })

	var need change
	switch r.Verdict {
	case Path:
		w.Number, need = analysis.Path, change{0, w.PathAlone.Mean}
	case FaceAndPath:
		w.Number, need = analysis.FaceToPath, change{w.FaceBy, w.PathBy}
	case Aim:
		off := (r.Delivery[analysis.Face].Mean - c.RefFace + r.Delivery[analysis.Path].Mean - c.RefPath) / 2
		w.Number, need = analysis.Face, change{-off, -off}
	case Strike:
		// The strike has to move, and no tool of setup is known for that.
		w.Number = analysis.StrikeToe
		return w
	default:
		w.Number, need = analysis.Face, change{w.FaceAlone.Mean, 0}
	}
	w.Tool = nearest(need, ff, fp, pp, c)
	return w
}

// alone is the change of one number that puts the centre on target. It has no
// limits where the model does not even know which way that number moves the
// ball: the path of a wedge hardly does.
func alone(r *Result, draws []draw, worth float64, of func(draw) float64) analysis.Estimate {
	e := analysis.Estimate{N: r.Miss.N, Mean: -r.Miss.Mean / worth}
	for _, d := range draws {
		if of(d)*worth <= 0 {
			return e
		}
	}
	e.OK = true
	e.Low, e.High = central(draws, func(d draw) float64 { return -d.miss() / of(d) })
	return e
}

// The spread a golfer is taken to have before any ball is seen, and how many
// balls that counts for (our choice): the same for face and path, so that with
// few balls the smallest change leans on neither.
const (
	usualSpread = 2 * analysis.Degree
	spreadBalls = 5
)

// ownSpread is the covariance of face and path over the balls, drawn toward
// the usual one while they are few.
func ownSpread(balls []Split) (ff, fp, pp float64) {
	n := float64(len(balls))
	var mf, mp float64
	for _, b := range balls {
		mf += b.Face / n
		mp += b.Path / n
	}
	for _, b := range balls {
		ff += (b.Face - mf) * (b.Face - mf)
		fp += (b.Face - mf) * (b.Path - mp)
		pp += (b.Path - mp) * (b.Path - mp)
	}
	usual, df := spreadBalls*usualSpread*usualSpread, n-1+spreadBalls
	return (ff + usual) / df, fp / df, (pp + usual) / df
}
