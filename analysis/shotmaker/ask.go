package shotmaker

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"

	"rangepost/analysis"
)

// An Ask is a shot as it was asked for, and what the golfer takes it to be.
type Ask struct {
	Label string  // as the student typed it
	Plain bool    // the label asks for no shot ("normal", or none at all)
	Start float64 // rad, right positive
	Curve float64 // m, likewise
	Apex  float64 // m; 0 as it comes
	Carry float64 // m; 0 as it comes
	named bool    // draw or fade by name, which may be taken for the other
}

func (a Ask) aim() aim {
	want := aim{a.Start, a.Curve, math.NaN(), math.NaN()}
	if a.Apex > 0 {
		want[2] = a.Apex
	}
	if a.Carry > 0 {
		want[3] = a.Carry
	}
	return want
}

// mirrored is the ask of a golfer of the other hand.
func (a Ask) mirrored() Ask {
	a.Label = turnWords.Replace(a.Label)
	a.Start, a.Curve = -a.Start, -a.Curve
	return a
}

var turnWords = strings.NewReplacer("right", "left", "left", "right", "Right", "Left", "Left", "Right")

// an asker makes asks of a size that suits the club.
type asker struct {
	rng    *rand.Rand
	side   float64 // +1 for a right-hander
	usual  Outcome // of the plain straight ball
	metric bool
}

// plain is the straight set that the others are compared with.
func (k asker) plain() Ask {
	label := []string{"straight", "straight", "Straight", "normal", ""}[k.rng.IntN(5)]
	return Ask{Label: label, Plain: strings.ToLower(label) != "straight"}
}

// asks are the ways of asking, each with a label of its own.
var asks = []func(k asker) Ask{
	func(k asker) Ask { return k.bent("draw", -1, 0) },
	func(k asker) Ask { return k.bent("fade", 1, 0) },
	func(k asker) Ask { return k.bent("draw", -1, k.size(0.025, 0.065)) },
	func(k asker) Ask { return k.bent("fade", 1, k.size(0.025, 0.065)) },
	func(k asker) Ask { return k.round(1) },
	func(k asker) Ask { return k.round(-1) },
	func(k asker) Ask { return k.pushed() },
	func(k asker) Ask { return k.high("low", 0.80) },
	func(k asker) Ask { return k.high("high", 1.15) },
	func(k asker) Ask { return k.apex() },
	func(k asker) Ask {
		return Ask{Label: k.either("short", "Short", "short one"), Carry: 0.88 * k.usual.Carry}
	},
	func(k asker) Ask { return k.carry() },
	func(k asker) Ask { return k.both(k.high("low", 0.80), k.bent("draw", -1, 0)) },
	func(k asker) Ask { return k.both(k.high("high", 1.15), k.bent("fade", 1, 0)) },
}

func (k asker) either(words ...string) string { return words[k.rng.IntN(len(words))] }

// unit is the golfer's, as they write it: yards may go without saying.
func (k asker) unit() (metres float64, written string) {
	if k.metric {
		return 1, k.either("m", " m", " metres")
	}
	return analysis.Yard, k.either("", "", " yd", "yd", " yards")
}

// size is a whole number of the golfer's units between two shares of the carry.
func (k asker) size(low, high float64) float64 {
	metres := analysis.Yard
	if k.metric {
		metres = 1
	}
	return max(2, math.Round(k.usual.Carry*(low+(high-low)*k.rng.Float64())/metres))
}

// bent is a draw or a fade that comes back to the target; without a number it is
// five yards, or a thirtieth of the carry where that is less.
func (k asker) bent(name string, way, by float64) Ask {
	metres, unit := k.unit()
	a := Ask{Label: k.either(name, name, strings.ToUpper(name[:1])+name[1:]), named: true}
	size := min(5*analysis.Yard, k.usual.Carry/30)
	if by > 0 {
		size = by * metres
		if k.rng.IntN(3) == 0 && unit != "" {
			a.Label = fmt.Sprintf("%.0f%s %s", by, unit, name)
		} else {
			a.Label = fmt.Sprintf("%s %.0f%s", a.Label, by, unit)
		}
	}
	a.Curve = k.side * way * size
	a.Start = -math.Asin(a.Curve / k.usual.Carry)
	return a
}

// round starts to one side by whole degrees and curves back about to the target.
func (k asker) round(side float64) Ask {
	metres, unit := k.unit()
	start := 1 + float64(k.rng.IntN(3))
	curve := max(2, math.Round(k.usual.Carry*math.Tan(start*deg)*(0.8+0.4*k.rng.Float64())/metres))
	here, there := "right", "left"
	if side < 0 {
		here, there = there, here
	}
	return Ask{
		Label: fmt.Sprintf("start %.0f%s %s, curve %.0f%s %s", start, k.either("", "", "°", " deg"), here, curve, unit, there),
		Start: side * start * deg, Curve: -side * curve * metres,
	}
}

// pushed starts to one side and stays there.
func (k asker) pushed() Ask {
	side, word := 1.0, "right"
	if k.rng.IntN(2) == 0 {
		side, word = -1, "left"
	}
	if k.rng.IntN(2) == 0 {
		return Ask{Label: "start " + word, Start: side * 2.5 * deg}
	}
	by := 2 + float64(k.rng.IntN(3))
	return Ask{Label: fmt.Sprintf("start %.0f %s", by, word), Start: side * by * deg}
}

func (k asker) high(word string, share float64) Ask {
	return Ask{Label: k.either(word, word, strings.ToUpper(word[:1])+word[1:], word+" ball"), Apex: share * k.usual.Apex}
}

func (k asker) apex() Ask {
	metres, unit := k.unit()
	share := 0.75 + 0.15*k.rng.Float64()
	if k.rng.IntN(2) == 0 {
		share = 1.10 + 0.10*k.rng.Float64()
	}
	by := math.Round(share * k.usual.Apex / metres)
	return Ask{Label: fmt.Sprintf("apex %.0f%s", by, unit), Apex: by * metres}
}

func (k asker) carry() Ask {
	metres, unit := k.unit()
	by := 5 * math.Round(k.usual.Carry*(0.80+0.15*k.rng.Float64())/metres/5)
	return Ask{Label: fmt.Sprintf("carry %.0f%s", by, unit), Carry: by * metres}
}

func (k asker) both(height, bent Ask) Ask {
	word := strings.Fields(height.Label)[0]
	bent.Label, bent.Apex = word+" "+strings.ToLower(bent.Label), height.Apex
	return bent
}
