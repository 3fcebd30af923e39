package cause

import (
	"math/rand/v2"
	"testing"

	"rangepost/analysis"
)

// Which kind of swing was meant is as sure as one carries nearer the target than the
// other.
func TestOtherMeant(t *testing.T) {
	within(t, "as near", otherMeant(145, 155, 150), 0.5, 1e-9)
	if near, far := otherMeant(150, 143, 150), otherMeant(150, 125, 150); !(0.2 < near && near < 0.5) || far > 0.1 {
		t.Errorf("7 m apart %.2f, 25 m apart %.2f", near, far)
	}
}

// Strikes a little wider than usual may be one golfer's, the more so of few balls;
// far wider ones are of two kinds.
func TestOneKind(t *testing.T) {
	within(t, "as wide as usual", oneKind(1, 40), 0.5, 1e-9)
	if few, many, wide := oneKind(1.2, 5), oneKind(1.2, 60), oneKind(1.8, 60); !(few > many && many > 0.1) || wide > 0.01 {
		t.Errorf("of five balls %.3f, of sixty %.3f, twice as wide %.3f", few, many, wide)
	}
	rng, counts := rand.New(rand.NewPCG(1, 2)), map[float64]int{}
	for range 4000 {
		counts[kinds{other: 7, all: 3, ofOther: 0.25, ofAll: 0.2}.draw(rng)]++
	}
	for off, want := range map[float64]float64{3: 0.2, 7: 0.8 * 0.25, 0: 0.6} {
		within(t, "drawn", float64(counts[off])/4000, want, 0.03)
	}
}

// Where the ball's speed alone is known half the balls with more loft are slower for
// it, and no club was.
func TestBallSpeedLessItsLoft(t *testing.T) {
	wedge, err := analysis.ParseClub("pw")
	if err != nil {
		t.Fatal(err)
	}
	m := ModelOf(wedge, Config{})
	usual := flier{carry: 95, speed: 33, smash: 1.15, launch: 26 * degree, spin: 8000 * analysis.RevPerMinute}
	s := slopesAt(usual, &m)
	fliers := everyOther(usual, func(f *flier) {
		f.carry -= 12
		f.launch += 9 * degree
		f.speed *= 1 + s.smashByLaunch*9*degree/f.smash
		f.spin += s.spinByLaunch * 9 * degree
	})
	var none *Usual
	r := none.reference(fliers, true, usual.carry, &m)
	if !r.told[byLoft] || r.told[bySpeed] {
		t.Errorf("told %v", r.told)
	}
	within(t, "speed", slopesAt(meanOf(fliers), &m).parts(meanOf(fliers), r)[bySpeed], 0, 1)
}

// What is not known of a ball's speed is whose the part is that was seen; how far a
// reference of the set itself may be off is each owner's own.
func TestShareOfWhatWasSeen(t *testing.T) {
	e := owing{at: flier{carry: 150}, give: 3, reference: reference{clubless: true}}
	o := other{strike: 0.5, from: [byClub]float64{bySpeed: -4}}
	v, _ := e.owed([numParts]float64{bySpeed: -6}, o)
	within(t, "speed", v[bySpeed], -7, 1e-9)
	within(t, "strike", v[byStrike], -3, 1e-9)
	within(t, "club", v[byClub], 4, 1e-9)
}

// Without earlier sessions a target is as often for the day's ball, and for its air,
// as for others; the wind is the day's, and earlier sessions have their own.
func TestTargetOfTheDay(t *testing.T) {
	e := owing{means: means{n: 20}, at: flier{carry: 150}, give: 3, said: Said{Wind: -5, Air: 3, Ball: -9}}
	rng, counts := rand.New(rand.NewPCG(1, 2)), map[float64]int{}
	for range 2000 {
		counts[e.other(rng).usual]++
	}
	for _, does := range []float64{0, -9, 3, -6} {
		within(t, "drawn", float64(counts[does])/2000, 0.25, 0.04)
	}
	e.reference.sessions = 3
	for range 100 {
		within(t, "beside a past", e.other(rng).usual, 0, 0)
	}
}
