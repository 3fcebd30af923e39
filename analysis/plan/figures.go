package plan

import (
	"math"
	"slices"

	"rangepost/analysis"
)

// figures are the numbers of a file's balls made ready to tell courses apart:
// in spreads of one ball, independent of each other, without what changes slowly
// over the visit. Sums from the first slot up to each make a stretch's sums two
// look-ups.
type figures struct {
	weight []float64   // of the slots before: how many are measured
	value  [][]float64 // by number, of the slots before
	drift  [][]float64 // by slow change, of the slots before
	sets   int         // besides the usual one
	prior  [][]float64 // what earlier visits say: by number, of each set
	known  [][]float64 // how well, among sets
}

// mostNumbers is how many numbers are looked at: the later ones of the list add
// noise and time.
const mostNumbers = 7

// telling are the numbers that tell a set from another, the most telling first.
// What follows from those in front of it is left out.
var telling = []analysis.Number{
	analysis.Face, analysis.Path, analysis.Attack, analysis.DynamicLoft, analysis.ClubSpeed, analysis.StrikeToe, analysis.StrikeUp,
	analysis.Direction, analysis.SpinAxis, analysis.LaunchAngle, analysis.Spin, analysis.BallSpeed, analysis.Lateral, analysis.Carry,
}

// newFigures makes a file's figures ready; before are the sessions that have
// their places.
func (p Plan) newFigures(before []Placed, shots []analysis.Shot, slot []int, slots int) figures {
	f := figures{sets: len(p.Labels) - 1}
	numbers := append([]analysis.Number{p.Number}, telling...)
	numbers = slices.DeleteFunc(numbers, func(n analysis.Number) bool { return mostlyLacking(shots, n) })
	rows := newRows(shots, numbers)
	var earlier []rows2
	for _, b := range before {
		if len(numbers) == 0 || b.last() == Nowhere {
			continue
		}
		earlier = append(earlier, rows2{newRows(b.Session.Shots, numbers), b.Turn})
	}
	all := [][][]float64{rows}
	for _, e := range earlier {
		all = append(all, e.rows)
	}
	w := newWhitening(all, numbers)
	f.value = make([][]float64, len(w.at))
	f.prior = make([][]float64, len(w.at))
	for j := range f.prior {
		f.prior[j] = make([]float64, f.sets)
	}
	f.known = square(f.sets)
	for _, e := range earlier {
		weight, value, drift := w.ready(e.rows, nil, len(e.rows))
		f.learn(p, e.turn, weight, value, drift)
	}
	weight, value, drift := w.ready(rows, slot, slots)
	f.weight = sums(weight)
	for j := range value {
		f.value[j] = sums(value[j])
	}
	for _, d := range drift {
		f.drift = append(f.drift, sums(d))
	}
	return f
}

type rows2 struct {
	rows [][]float64
	turn []int
}

// mostlyLacking reports whether more than a fifth of the balls that count lack a
// number.
func mostlyLacking(shots []analysis.Shot, n analysis.Number) bool {
	used, has := 0, 0
	for i := range shots {
		if shots[i].Aside != analysis.Used {
			continue
		}
		used++
		if shots[i].Has(n) {
			has++
		}
	}
	return 5*has < 4*used || has < 8
}

// newRows are the balls' numbers; nil of a ball that is set aside or lacks one.
func newRows(shots []analysis.Shot, numbers []analysis.Number) [][]float64 {
	rows := make([][]float64, len(shots))
	flat := make([]float64, len(shots)*len(numbers))
	for i := range shots {
		if shots[i].Aside != analysis.Used {
			continue
		}
		row := flat[i*len(numbers) : (i+1)*len(numbers)]
		complete := true
		for j, n := range numbers {
			v, ok := shots[i].Value(n)
			row[j], complete = v, complete && ok
		}
		if complete {
			rows[i] = row
		}
	}
	return rows
}

// learn adds what a session that has its places says of the sets.
func (f *figures) learn(p Plan, turn []int, weight []float64, value, drift [][]float64) {
	in := make([][]float64, f.sets) // of each set the sums of the drifts
	for s := range in {
		in[s] = make([]float64, len(drift))
	}
	for i, t := range turn {
		if t == Nowhere || weight[i] == 0 || p.Turns[t].Set == 0 {
			continue
		}
		s := p.Turns[t].Set - 1
		f.known[s][s]++
		for q := range drift {
			in[s][q] += drift[q][i]
		}
		for j := range value {
			f.prior[j][s] += value[j][i]
		}
	}
	for a := range f.known {
		for b := range f.known[a] {
			f.known[a][b] -= dot(in[a], in[b])
		}
	}
}

// sums are the sums of what comes before each.
func sums(x []float64) []float64 {
	out := make([]float64, len(x)+1)
	for i, v := range x {
		out[i+1] = out[i] + v
	}
	return out
}

func dot(a, b []float64) float64 {
	sum := 0.0
	for i := range a {
		sum += a[i] * b[i]
	}
	return sum
}

func square(n int) [][]float64 {
	m := make([][]float64, n)
	for i := range m {
		m[i] = make([]float64, n)
	}
	return m
}

// slow are the changes over so many slots that are no set's: the visit's level,
// its warming up (gone after a dozen balls) and waves longer than forty balls.
// They are orthonormal over the slots that are measured.
func slow(weight []float64) [][]float64 {
	n := len(weight)
	shapes := []func(i int) float64{
		func(int) float64 { return 1 },
		func(i int) float64 { return math.Exp(-float64(i) / 6) },
	}
	for k := 1; k <= n/30; k++ {
		shapes = append(shapes, func(i int) float64 { return math.Cos(math.Pi * float64(k) * (float64(i) + 0.5) / float64(n)) })
	}
	var out [][]float64
	for _, shape := range shapes {
		x := make([]float64, n)
		for i := range x {
			x[i] = weight[i] * shape(i)
		}
		before := dot(x, x)
		for range 2 { // once more for the rounding
			for _, q := range out {
				c := dot(q, x)
				for i := range x {
					x[i] -= c * q[i]
				}
			}
		}
		length := dot(x, x)
		if !(length > 1e-6*before) {
			continue
		}
		for i := range x {
			x[i] /= math.Sqrt(length)
		}
		out = append(out, x)
	}
	return out
}
