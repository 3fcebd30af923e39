package analysis

import (
	"fmt"
	"strconv"
	"strings"
)

// Family is a kind of club. Model constants (restitution, head mass) are kept
// by family.
type Family uint8

// The families. UnknownFamily is the zero value.
const (
	UnknownFamily Family = iota
	Driver
	Wood
	Hybrid
	Iron
	Wedge
	Putter
)

// A Club is a family with its number or, for a wedge, its marked loft. Two
// clubs are the same club when they are equal. The zero Club is unknown.
type Club struct {
	Family Family
	Number int // 3 for a 3-wood, 7 for a 7-iron; 0 if none
	Wedge  string
}

// Unknown reports whether the club was never named.
func (c Club) Unknown() bool { return c.Family == UnknownFamily }

// Key is the club's short stable name: "driver", "3w", "4h", "7i", "pw",
// "56" for a wedge marked with its loft, "" when unknown. ParseClub reads it
// back.
func (c Club) Key() string {
	switch c.Family {
	case Driver:
		return "driver"
	case Wood:
		return strconv.Itoa(c.Number) + "w"
	case Hybrid:
		return strconv.Itoa(c.Number) + "h"
	case Iron:
		return strconv.Itoa(c.Number) + "i"
	case Wedge:
		return c.Wedge
	case Putter:
		return "putter"
	}
	return ""
}

// String is the club as a golfer says it: "7-iron", "56-degree wedge".
func (c Club) String() string {
	switch c.Family {
	case Driver:
		return "driver"
	case Wood:
		return strconv.Itoa(c.Number) + "-wood"
	case Hybrid:
		return strconv.Itoa(c.Number) + "-hybrid"
	case Iron:
		return strconv.Itoa(c.Number) + "-iron"
	case Wedge:
		if name, ok := wedgeNames[c.Wedge]; ok {
			return name
		}
		return c.Wedge + "-degree wedge"
	case Putter:
		return "putter"
	}
	return "unknown club"
}

var wedgeNames = map[string]string{"pw": "pitching wedge", "gw": "gap wedge", "sw": "sand wedge", "lw": "lob wedge"}

// Loft is the club's usual static loft in rad: middle-of-the-road figures
// (common practice, no source), used only where no loft was measured. ok is
// false for an unknown club.
func (c Club) Loft() (loft float64, ok bool) {
	deg := 0.0
	switch c.Family {
	case Driver:
		deg = 10.5
	case Wood:
		deg = 15 + 2*float64(c.Number-3)
	case Hybrid:
		deg = 19 + 3*float64(c.Number-3)
	case Iron:
		if c.Number < 1 || c.Number > 9 {
			return 0, false
		}
		deg = [...]float64{15, 17, 20, 23, 26, 29, 33, 37, 41}[c.Number-1]
	case Wedge:
		switch c.Wedge {
		case "pw":
			deg = 45
		case "gw":
			deg = 50
		case "sw":
			deg = 55
		case "lw":
			deg = 59
		default:
			n, err := strconv.Atoi(c.Wedge)
			if err != nil {
				return 0, false
			}
			deg = float64(n)
		}
	case Putter:
		deg = 3
	default:
		return 0, false
	}
	return deg * Degree, true
}

// notInClubs is what the name of a club may have between its letters.
var notInClubs = strings.NewReplacer(" ", "", "-", "", ".", "", "_", "", "°", "", "deg", "", "ree", "", "(", "", ")", "")

// ParseClub reads a club as golfers write it in English: "7i", "7 iron",
// "Iron 7", "D", "driver", "3w", "3 wood", "H4", "pw", "sand wedge", "56",
// "56°". Case, spaces, dots and hyphens do not matter. An empty string is an
// unknown club and no error.
func ParseClub(s string) (Club, error) {
	w := notInClubs.Replace(strings.ToLower(s))
	switch w {
	case "":
		return Club{}, nil
	case "d", "dr", "drv", "driver", "1w", "w1", "1wood", "wood1":
		return Club{Family: Driver}, nil
	case "p", "pw", "pitchingwedge", "pitch", "wp", "10i":
		return Club{Family: Wedge, Wedge: "pw"}, nil
	case "g", "gw", "aw", "a", "uw", "gapwedge", "approachwedge", "attackwedge", "utilitywedge":
		return Club{Family: Wedge, Wedge: "gw"}, nil
	case "s", "sw", "sandwedge":
		return Club{Family: Wedge, Wedge: "sw"}, nil
	case "l", "lw", "lobwedge":
		return Club{Family: Wedge, Wedge: "lw"}, nil
	case "putter", "pt", "put":
		return Club{Family: Putter}, nil
	}
	digits := strings.TrimFunc(w, func(r rune) bool { return r < '0' || r > '9' })
	n, err := strconv.Atoi(digits)
	if err == nil {
		word := strings.Replace(w, digits, "", 1)
		switch {
		case (word == "i" || word == "iron" || word == "ir") && n >= 1 && n <= 9:
			return Club{Family: Iron, Number: n}, nil
		case (word == "w" || word == "wood" || word == "fw" || word == "fairwaywood" || word == "fairway") && n >= 2 && n <= 11:
			return Club{Family: Wood, Number: n}, nil
		case (word == "h" || word == "hybrid" || word == "hy" || word == "rescue" || word == "u" || word == "ut") && n >= 1 && n <= 9:
			return Club{Family: Hybrid, Number: n}, nil
		case (word == "" || word == "w" || word == "wedge" || word == "lob" || word == "lobwedge" || word == "sand" || word == "gap") && n >= 42 && n <= 64:
			return Club{Family: Wedge, Wedge: strconv.Itoa(n)}, nil
		}
	}
	return Club{}, fmt.Errorf("club %q is not one we know: write it as driver, 3w, 4h, 7i, pw or 56", s)
}
