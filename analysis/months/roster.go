package months

import (
	"bytes"
	"fmt"
	"math/rand/v2"
	"time"

	"gonum.org/v1/gonum/stat/distuv"

	"rangepost/analysis"
)

// Need is why a student needs their coach.
type Need uint8

// Three of a roster need them, one for each reason.
const (
	None Need = iota
	MissedBrief
	Drifts
	Silent
)

// A Rostered is a student of a coach with thirty.
type Rostered struct {
	Name     string
	Need     Need
	Sessions []Visit          // by time
	Brief    *analysis.Brief  // of face-to-path, every club; nil without one
	Set      time.Time        // when it was set
	Lesson   *analysis.Lesson // nil without one
}

// A Visit is a session that was posted when it was hit.
type Visit struct {
	At     time.Time
	Values []float64 // face-to-path in the order they were hit, rad
	Unread bool      // the coach did not look at it
}

const rosterSize = 30

// Roster simulates the students of a coach at a time. Everybody who did not fall
// silent has so many posts not looked at, their latest. The students in need
// stand anywhere among the others. Every third of the others has a brief, which
// they keep.
//
// All posted within the last six days but the silent one: last 24 days ago, the
// day before a lesson. The one who missed a brief had 3 balls in 20 inside its
// limits; the one who drifts is 4 deg off for the last 8 sessions of 22.
func Roster(unread int, now time.Time, seed uint64) []Rostered {
	rng := rand.New(rand.NewPCG(seed, 1700))
	all := make([]Rostered, rosterSize)
	for i, at := range rng.Perm(rosterSize) {
		need := None
		if i < int(Silent) {
			need = Need(i + 1)
		}
		all[at] = rostered(fmt.Sprintf("student%02d", at+1), need, i%3 == 0, unread, now, rng)
	}
	return all
}

func rostered(name string, need Need, keeps bool, unread int, now time.Time, rng *rand.Rand) Rostered {
	const visits, shifted = 22, 8
	r := Rostered{Name: name, Need: need}
	world := World{Serial: 0.2}
	last := now.Add(-time.Duration(4+rng.IntN(6*24-4)) * time.Hour)
	if need == Silent {
		last = now.AddDate(0, 0, -24)
		r.Lesson = &analysis.Lesson{At: last.AddDate(0, 0, 1)}
	}
	for i := range visits {
		level := 0.0
		if need == Drifts && i >= visits-shifted {
			level = 4 * analysis.Degree
		}
		r.Sessions = append(r.Sessions, Visit{
			At:     last.AddDate(0, 0, -3*(visits-1-i)),
			Values: world.balls(level+world.day(rng), 15+rng.IntN(16), rng),
			Unread: need != Silent && i >= visits-unread,
		})
	}
	switch {
	case need == MissedBrief:
		r.brief(0.15)
	case need == None && keeps:
		r.brief(0.95)
	}
	return r
}

// brief sets one for the last four visits, of 40 balls, with limits that so
// large a share of the golfer's balls are inside.
func (r *Rostered) brief(share float64) {
	half := BallSD * distuv.UnitNormal.Quantile((1+share)/2)
	low := -half
	r.Brief = &analysis.Brief{Number: analysis.FaceToPath, Low: &low, High: &half, Balls: 40}
	r.Set = r.Sessions[len(r.Sessions)-4].At.Add(-time.Hour)
}

// File is the visit as a device would write it: a path of 1 deg to the right, a
// face that makes the numbers, and a time with its offset.
func (v Visit) File() []byte {
	var b bytes.Buffer
	b.WriteString("Date,Club,Club Path (deg),Face Angle (deg)\n")
	for i, x := range v.Values {
		at := v.At.Add(time.Duration(i) * 20 * time.Second)
		fmt.Fprintf(&b, "%s,7 iron,%s,%s\n", at.Format(time.RFC3339), sided(1), sided(1+x/analysis.Degree))
	}
	return b.Bytes()
}

// sided writes the side beside the figure, so that no sign is left to ask about.
func sided(v float64) string {
	if v < 0 {
		return fmt.Sprintf("%.2f L", -v)
	}
	return fmt.Sprintf("%.2f R", v)
}
