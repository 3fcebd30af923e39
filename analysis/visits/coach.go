package visits

import (
	"cmp"
	"maps"
	"math"
	"math/rand/v2"
	"slices"

	"rangepost/analysis"
)

// Expected is what the trade expects a tool to do in the hands of a
// right-hander, by number, SI.
type Expected struct {
	Of       map[analysis.Number]float64
	ByTarget bool // its sideways numbers go by the target and are the same for a left-hander; else they are mirrored
}

// numbers are those that a coach's trials see: three of the delivery, drawn, and
// what follows from two of them.
var numbers = []analysis.Number{
	analysis.Face, analysis.Path, analysis.FaceToPath, analysis.Attack, analysis.DynamicLoft,
}

// drawn are those that are not worked out from others.
var drawn = []analysis.Number{analysis.Path, analysis.Face, analysis.Attack, analysis.DynamicLoft}

// An Amount is a change of each number in the frame of the target, rad.
// Face-to-path is always face less path.
type Amount map[analysis.Number]float64

func (a Amount) follow() Amount {
	a[analysis.FaceToPath] = a[analysis.Face] - a[analysis.Path]
	return a
}

// A Tool is a change of setup that a coach has students try, and what it truly
// does to right-handed golfers.
type Tool struct {
	Key      string
	ByTarget bool
	Fit      Fit     // how the truth was made from what the trade expects
	Mean     Amount  // over all golfers there could be
	Between  Amount  // sd of a golfer's own effect about the mean
	Within   Amount  // sd of what a trial of it does, about the golfer's own
	Together float64 // correlation of face and path, in both
}

// Fit is how far the trade is right about a tool.
type Fit uint8

// Of a hundred tools 75 do what is expected, give or take 1.2 deg; 10 the
// opposite; 15 nothing of it.
const (
	Roughly Fit = iota
	Opposite
	NothingOfIt
)

// A Student is one with their trials.
type Student struct {
	Hand   analysis.Hand
	Own    map[string]Amount // by tool: the golfer's true effect, of all tools of the coach
	Next   map[string]Amount // what their next trial of it would truly do: Own and that trial's part
	Trials []Trial           // by time
	Need   Need
	Best   string // the tool whose own effect is nearest to the need
}

// A Trial is one labelled set of a student's against their usual one.
type Trial struct {
	Tool        string
	Balls, Base int // in the set, and in the usual one
	Seen        map[analysis.Number]Seen
}

// Seen is the difference of two means and its standard error, from the scatter
// of the balls of both (Welch), SI. DF are the degrees of freedom, Welch's and
// Satterthwaite's.
type Seen struct{ Difference, SE, DF float64 }

// A Need is a change of one number that would bring the student where they want
// to be, in the frame of the target, rad.
type Need struct {
	Number analysis.Number
	Change float64
}

// Left is how much of the need a tool leaves in this student's hands, rad, never
// negative.
func (s Student) Left(tool string) float64 {
	return math.Abs(s.Need.Change - s.Own[tool][s.Need.Number])
}

// A Coaching is a coach with what their tools truly do.
type Coaching struct {
	Tools    []Tool
	Students []Student // as many as asked for
	New      Student   // to predict: of the same golfers, with no trials yet
}

// Coach simulates a coach with so many students. Of the tools the trade has
// expectations of, four to eight are used, or all if there are fewer; it has
// one at least. What it expects of other numbers than the five, face-to-path
// among them where it is not face less path, is not looked at.
func Coach(seed uint64, students int, expected map[string]Expected) Coaching {
	return newCoaching(students, expected, rand.New(rand.NewPCG(seed, 190)))
}

// Coaches simulates n coaches with 5 to 40 students; coach i of a seed is the
// same whatever n is.
func Coaches(seed uint64, n int, expected map[string]Expected) []Coaching {
	all := make([]Coaching, n)
	for i := range all {
		rng := rand.New(rand.NewPCG(seed, 19000+uint64(i)))
		all[i] = newCoaching(5+rng.IntN(36), expected, rng)
	}
	return all
}

func newCoaching(students int, expected map[string]Expected, rng *rand.Rand) Coaching {
	keys := slices.Sorted(maps.Keys(expected))
	rng.Shuffle(len(keys), func(i, j int) { keys[i], keys[j] = keys[j], keys[i] })
	keys = keys[:min(len(keys), 4+rng.IntN(5))]

	var c Coaching
	for _, key := range keys {
		c.Tools = append(c.Tools, newTool(key, expected[key], rng))
	}
	heavy := rng.IntN(4) == 0
	for range students {
		s := c.student(heavy, rng)
		c.practise(&s, expected, rng)
		c.Students = append(c.Students, s)
	}
	c.New = c.student(heavy, rng)
	return c
}

const deg = analysis.Degree

func newTool(key string, e Expected, rng *rand.Rand) Tool {
	t := Tool{
		Key: key, ByTarget: e.ByTarget, Together: -0.3 + 0.8*rng.Float64(),
		Mean: Amount{}, Between: Amount{}, Within: Amount{},
	}
	by := 1.0
	switch x := rng.IntN(100); {
	case x >= 90:
		t.Fit, by = Opposite, -1
	case x >= 75:
		t.Fit, by = NothingOfIt, 0
	}
	for _, n := range drawn {
		off := 0.6 * deg // of what nobody expects
		if e.Of[n] != 0 {
			off = 1.2 * deg
		}
		t.Mean[n] = by*e.Of[n] + off*rng.NormFloat64()
		t.Between[n] = 2.5 * deg * rng.Float64()
		t.Within[n] = 2.5 * deg * rng.Float64()
	}
	t.Mean.follow()
	for _, sd := range []Amount{t.Between, t.Within} {
		f, p := sd[analysis.Face], sd[analysis.Path]
		sd[analysis.FaceToPath] = math.Sqrt(f*f + p*p - 2*t.Together*f*p)
	}
	return t
}

// around draws an amount about a mean. Heavy ones are Student's t of 5 degrees
// of freedom, of the same sd, all numbers of one golfer alike.
func (t Tool) around(mean, sd Amount, heavy bool, rng *rand.Rand) Amount {
	scale := 1.0
	if heavy {
		chi := 0.0
		for range 5 {
			x := rng.NormFloat64()
			chi += x * x
		}
		scale = math.Sqrt(3 / chi)
	}
	a := Amount{}
	var onPath float64
	for _, n := range drawn {
		z := rng.NormFloat64()
		switch n {
		case analysis.Path:
			onPath = z
		case analysis.Face:
			z = t.Together*onPath + math.Sqrt(1-t.Together*t.Together)*z
		}
		a[n] = mean[n] + sd[n]*scale*z
	}
	return a.follow()
}

// seenFrom turns a right-hander's amount into that of a golfer of a hand.
func (t Tool) seenFrom(a Amount, h analysis.Hand) Amount {
	b := Amount{}
	for n, v := range a {
		if n.Info().Sideways && !t.ByTarget {
			v *= h.Mirror()
		}
		b[n] = v
	}
	return b
}

// student draws one without trials. One in twelve plays from the left.
func (c *Coaching) student(heavy bool, rng *rand.Rand) Student {
	s := Student{Own: map[string]Amount{}, Next: map[string]Amount{}}
	if rng.IntN(12) == 0 {
		s.Hand = analysis.LeftHanded
	}
	for _, t := range c.Tools {
		own := t.around(t.Mean, t.Between, heavy, rng)
		s.Own[t.Key] = t.seenFrom(own, s.Hand)
		s.Next[t.Key] = t.seenFrom(t.around(own, t.Within, false, rng), s.Hand)
	}
	s.Need.Change = (1 + 3.5*rng.Float64()) * deg * float64(1-2*rng.IntN(2))
	switch x := rng.IntN(8); {
	case x < 4:
		s.Need.Number = analysis.Face
	case x < 6:
		s.Need.Number = analysis.FaceToPath
	default:
		s.Need.Number = analysis.Path
	}
	best := slices.MinFunc(c.Tools, func(a, b Tool) int { return cmp.Compare(s.Left(a.Key), s.Left(b.Key)) })
	s.Best = best.Key
	return s
}

// practise gives a student up to six trials, as a coach would set them: seven of
// ten first trials are of the tool the trade thinks best for the need; after
// that half are of what looked best so far; the rest are of any tool.
func (c *Coaching) practise(s *Student, expected map[string]Expected, rng *rand.Rand) {
	sd := Amount{
		analysis.Face: (1.5 + 1.5*rng.Float64()) * deg, analysis.Path: (1.5 + 2*rng.Float64()) * deg,
		analysis.Attack: (1 + rng.Float64()) * deg, analysis.DynamicLoft: (1 + 1.5*rng.Float64()) * deg,
	}
	together := -0.3 + 0.6*rng.Float64()
	short := func(t Tool, change float64) float64 { return math.Abs(s.Need.Change - change) }
	for range rng.IntN(7) {
		t := c.Tools[rng.IntN(len(c.Tools))]
		switch {
		case len(s.Trials) == 0 && rng.Float64() < 0.7:
			t = slices.MinFunc(c.Tools, func(a, b Tool) int {
				return cmp.Compare(short(a, s.thought(a, expected)), short(b, s.thought(b, expected)))
			})
		case len(s.Trials) > 0 && rng.Float64() < 0.5:
			liked := slices.MinFunc(s.Trials, func(a, b Trial) int {
				n := s.Need.Number
				return cmp.Compare(short(t, a.Seen[n].Difference), short(t, b.Seen[n].Difference))
			})
			t = c.Tools[slices.IndexFunc(c.Tools, func(x Tool) bool { return x.Key == liked.Tool })]
		}
		s.Trials = append(s.Trials, s.try(t, sd, together, rng))
	}
}

// thought is what the trade thinks a tool does to the number the student needs.
func (s *Student) thought(t Tool, expected map[string]Expected) float64 {
	a := Amount{analysis.Face: 0, analysis.Path: 0}
	maps.Copy(a, expected[t.Key].Of)
	return t.seenFrom(a.follow(), s.Hand)[s.Need.Number]
}

// try hits a trial, ball by ball.
func (s *Student) try(t Tool, sd Amount, together float64, rng *rand.Rand) Trial {
	trial := Trial{Tool: t.Key, Balls: 5 + rng.IntN(21), Base: 8 + rng.IntN(23), Seen: map[analysis.Number]Seen{}}
	// A trial's part is drawn about the own effect in the golfer's frame, of
	// which the mirror image has the same spread.
	effect := t.around(t.seenFrom(s.Own[t.Key], s.Hand), t.Within, false, rng)
	effect = t.seenFrom(effect, s.Hand)
	ball := Tool{Together: together}
	set, base := map[analysis.Number][]float64{}, map[analysis.Number][]float64{}
	hit := func(into map[analysis.Number][]float64, mean Amount, balls int) {
		for range balls {
			for n, v := range ball.around(mean, sd, false, rng) {
				into[n] = append(into[n], v)
			}
		}
	}
	hit(base, Amount{}, trial.Base)
	hit(set, effect, trial.Balls)
	for _, n := range numbers {
		trial.Seen[n] = welch(set[n], base[n])
	}
	return trial
}

func welch(set, base []float64) Seen {
	m1, v1 := meanOf(set)
	m0, v0 := meanOf(base)
	n1, n0 := float64(len(set)), float64(len(base))
	a, b := v1/n1, v0/n0
	return Seen{
		Difference: m1 - m0, SE: math.Sqrt(a + b),
		DF: (a + b) * (a + b) / (a*a/(n1-1) + b*b/(n0-1)),
	}
}

// meanOf is the mean and the sample variance.
func meanOf(x []float64) (mean, variance float64) {
	for _, v := range x {
		mean += v / float64(len(x))
	}
	for _, v := range x {
		variance += (v - mean) * (v - mean) / float64(len(x)-1)
	}
	return mean, variance
}
