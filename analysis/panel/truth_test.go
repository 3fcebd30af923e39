package panel

import (
	"math"
	"math/rand/v2"
	"reflect"
	"testing"

	"rangepost/analysis"
)

func TestTheSameCaseIsTheSameSession(t *testing.T) {
	for _, c := range Cases(5, 12) {
		s1, t1 := c.Play()
		s2, t2 := c.Play()
		t1.Case, t2.Case = Case{}, Case{}
		// A correction that does not exist is NaN, equal to nothing.
		for _, tr := range []*Truth{&t1, &t2} {
			for _, v := range []*float64{&tr.FaceAlone, &tr.PathAlone} {
				if math.IsNaN(*v) {
					*v = 99
				}
			}
		}
		if !reflect.DeepEqual(s1, s2) || !reflect.DeepEqual(t1, t2) {
			t.Errorf("%s: a second session differs", c)
		}
		if len(s1.Shots) != c.Balls || len(t1.Balls) != c.Balls || s1.Hand != c.Hand || s1.Ball != c.World.Ball {
			t.Errorf("%s: %d shots, %d balls, %s, %s", c, len(s1.Shots), len(t1.Balls), s1.Hand, s1.Ball)
		}
	}
}

// Columns hide numbers of the same balls; more balls follow the same first ones.
func TestCasesDifferInWhatTheyName(t *testing.T) {
	c := Case{World: WorldNamed("mat"), Club: Clubs()[4], Balls: 8, Columns: Everything, Kind: PathOff, Seed: 9}
	full, truth := c.Play()
	fewer, longer := c, c
	fewer.Columns, longer.Balls = FacePathEnd, 12
	s, tr := fewer.Play()
	if !reflect.DeepEqual(tr.Balls, truth.Balls) {
		t.Error("other columns, other balls")
	}
	a, _ := full.Shots[3].Value(analysis.Face)
	if b, _ := s.Shots[3].Value(analysis.Face); a != b {
		t.Error("other columns, other readings")
	}
	if _, tr := longer.Play(); !reflect.DeepEqual(tr.Balls[:8], truth.Balls) || tr.LongRun != truth.LongRun {
		t.Error("more balls are not the same with more after them")
	}
	c.Seed++
	if _, tr := c.Play(); tr.LongRunMean == truth.LongRunMean {
		t.Error("another seed gives the same golfer")
	}
}

func TestLeftHandersAreInAMirror(t *testing.T) {
	for _, c := range Cases(11, 20) {
		c.Hand, c.Balls = analysis.RightHanded, 5
		_, right := c.Play()
		c.Hand = analysis.LeftHanded
		_, left := c.Play()
		for i, b := range right.Balls {
			l := left.Balls[i]
			if math.Abs(b.Flight.Lateral+l.Flight.Lateral) > 1e-6 || math.Abs(b.Delivery.Face+l.Delivery.Face) > 1e-12 || b.Delivery.StrikeToe != l.Delivery.StrikeToe {
				t.Fatalf("%s: ball %d lands %v and %v", c, i+1, b.Flight.Lateral, l.Flight.Lateral)
			}
		}
		near(t, c.String()+": long run", left.LongRun.Miss, -right.LongRun.Miss, 1e-6)
		near(t, c.String()+": face", left.LongRun.Face, -right.LongRun.Face, 1e-6)
		near(t, c.String()+": strike", left.LongRun.Strike, -right.LongRun.Strike, 1e-6)
		near(t, c.String()+": curve", left.Curve, -right.Curve, 1e-6)
		if left.Label != right.Label || math.Abs(left.Margin-right.Margin) > 1e-6 {
			t.Errorf("%s: left %s, right %s", c, left.Label, right.Label)
		}
	}
}

// Every split adds up; what is at the target line in still air from the middle
// owes nothing; and a part is what going without it changes.
func TestSplitsAddUp(t *testing.T) {
	for _, c := range Cases(13, 18) {
		c.Balls = 5
		_, tr := c.Play()
		all := []Split{tr.Sample, tr.LongRun}
		for _, b := range tr.Balls {
			all = append(all, b.Split)
			near(t, "ball's miss", b.Split.Miss, b.Flight.Lateral, 1e-12)
		}
		for _, s := range all {
			near(t, c.String()+": sum", s.Face+s.Path+s.Strike+s.Wind+s.Other, s.Miss, 1e-9)
			near(t, c.String()+": rest", s.Rest()+s.Face+s.Path, s.Miss, 1e-9)
		}
		h := hitter{c.World, c.World.head(c.Club), c.Hand, Wind{}}
		d := tr.LongRunMean
		d.StrikeToe, d.StrikeUp, d.Path = 0, 0, 0
		// The mean ball in still air, middle struck with its path square: all face.
		miss := h.lateral(d, vec{})
		s := h.split(d, vec{}, miss)
		near(t, c.String()+": all face", s.Face, miss, 1e-9)
		near(t, c.String()+": nothing else", math.Abs(s.Path)+math.Abs(s.Rest()), 0, 1e-9)
	}
}

// The long run of 64 balls is that of many drawn at random.
func TestLongRunIsTheLongRun(t *testing.T) {
	if testing.Short() {
		t.Skip("flies 48,000 balls")
	}
	for i, c := range Cases(17, 12) {
		w := c.World
		p := c.Kind.plan(w, c.Club, c.Hand, c.rng("plan"))
		h := hitter{w, w.head(c.Club), c.Hand, p.wind}
		_, tr := Case{w, c.Club, c.Hand, 1, c.Columns, c.Kind, c.Seed}.Play()
		rng := rand.New(rand.NewPCG(uint64(i), 5))
		const pairs = 2000
		sum, square := 0.0, 0.0
		for range pairs {
			var z, back draw
			for d := range z {
				z[d] = w.golfer.tail.of(rng.NormFloat64())
				back[d] = -z[d]
			}
			both := 0.0
			for _, z := range []draw{z, back} {
				gust := max(-2, min(2, z[drawGust]))
				both += h.lateral(w.golfer.deliver(p.mean, c.Hand, z, p.wide), p.wind.toward(1+p.gust*gust)) / 2
			}
			sum += both
			square += both * both
		}
		mean := sum / pairs
		se := math.Sqrt((square/pairs - mean*mean) / pairs)
		// What 64 balls leave out beyond second order.
		near(t, c.String()+": miss", tr.LongRun.Miss, mean, 0.15+4*se)
	}
}

// A correction brings the long run to the target, and there is none nearer to
// where it stands.
func TestCorrectionsCorrect(t *testing.T) {
	none := 0
	for _, c := range Cases(19, 20) {
		c.Balls = 5
		_, tr := c.Play()
		w := c.World
		p := c.Kind.plan(w, c.Club, c.Hand, c.rng("plan"))
		h := hitter{w, w.head(c.Club), c.Hand, p.wind}
		mean := func(face, path float64) float64 {
			q := p
			q.mean.Face += face
			q.mean.Path += path
			sum := 0.0
			for _, r := range h.longRun(q) {
				sum += h.lateral(r.d, r.wind)
			}
			return sum / longRun
		}
		if math.IsNaN(tr.FaceAlone) {
			t.Errorf("%s: no face brings it back", c)
			continue
		}
		near(t, c.String()+": with the face corrected", mean(tr.FaceAlone, 0), 0, 0.1)
		if miss := tr.LongRun.Miss; math.Abs(miss) > 1 && miss*mean(tr.FaceAlone/2, 0) < 0 {
			t.Errorf("%s: half of the correction is already too much", c)
		}
		if math.IsNaN(tr.PathAlone) {
			none++
			continue
		}
		near(t, c.String()+": with the path corrected", mean(0, tr.PathAlone), 0, 0.1)
	}
	if none > 7 {
		t.Errorf("%d of 20 paths cannot be corrected", none)
	}
}

// What the wind made of a ball is what stilling it changes; of a session it is
// in the truth to be read.
func TestWindIsTold(t *testing.T) {
	told := 0
	for seed := range uint64(12) {
		c := Case{WorldNamed("middle"), Clubs()[0], analysis.RightHanded, 6, Everything, WindOnly, seed}
		s, tr := c.Play()
		if tr.Wind.Speed < 2 {
			t.Fatalf("%s: wind of %v", c, tr.Wind)
		}
		if across := tr.Wind.Across(); across*tr.Drift <= 0 || across*tr.LongRun.Wind <= 0 {
			t.Errorf("%s: blows %v right and drifts %v, split %v", c, across, tr.Drift, tr.LongRun.Wind)
		}
		for _, b := range tr.Balls {
			_, still := c.World.Hit(c.Club, c.Hand, b.Delivery, Wind{})
			near(t, "wind's part", b.Wind, b.Flight.Lateral-still.Lateral, 1e-9)
		}
		if tr.WindTold {
			told++
			near(t, "stated wind", *s.Conditions.WindSpeed, tr.Wind.Speed, 1e-12)
		} else if s.Conditions.WindSpeed != nil {
			t.Errorf("%s: states a wind it does not tell", c)
		}
	}
	if told == 0 || told == 12 {
		t.Errorf("%d of 12 sessions state their wind", told)
	}
}

// A ball's start and curve make its landing.
func TestStartAndCurve(t *testing.T) {
	for _, c := range Cases(23, 12) {
		c.Balls = 5
		_, tr := c.Play()
		l, f := c.World.Hit(c.Club, c.Hand, tr.LongRunMean, tr.Wind)
		_, still := c.World.Hit(c.Club, c.Hand, tr.LongRunMean, Wind{})
		near(t, "start", tr.Start, l.Direction, 1e-12)
		near(t, c.String()+": start, curve and drift", still.downrange*math.Tan(tr.Start)+tr.Curve+tr.Drift, f.Lateral, 1e-9)
	}
}
