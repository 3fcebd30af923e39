package words

import (
	"math"
	"strconv"
	"strings"

	"rangepost/analysis"
)

// A Voice is how one golfer is spoken to. The zero Voice speaks to a
// right-handed golfer in yards and miles an hour, in chat.
type Voice struct {
	Hand  analysis.Hand
	Units analysis.Units

	// Plain text has no markdown, so nothing in it needs escaping: the command
	// line, a picture, an alt text.
	Plain bool
}

// Scale is how many SI units make one of the units kind k is shown in.
func (v Voice) Scale(k analysis.Kind) float64 { return v.Units.Scale(k) }

// Unit is the unit kind k is shown in, as an axis carries it: "yards", "mph",
// "°", "mm", "rpm", "s", and "" for a ratio.
func (v Voice) Unit(k analysis.Kind) string {
	switch k {
	case analysis.Angle:
		return "°"
	case analysis.Speed:
		if v.Units.Speed == analysis.MetresPerSecond {
			return "m/s"
		}
		return "mph"
	case analysis.Length:
		if v.Units.Distance == analysis.Metres {
			return "metres"
		}
		return "yards"
	case analysis.Small:
		return "mm"
	case analysis.Rate:
		return "rpm"
	case analysis.Time:
		return "s"
	case analysis.Share:
		return "%"
	}
	return ""
}

// Distance says a length in m: "152 yards". It has no side; see Number.
func (v Voice) Distance(m float64) string { return v.amount(analysis.Length, m, alone) }

// Angle says an angle in rad, without its side: "2.9°".
func (v Voice) Angle(rad float64) string { return v.amount(analysis.Angle, rad, alone) }

// alone is the half-width of a figure that comes without limits: a single
// ball, or a setting somebody chose.
const alone = -1.0

// step is the last digit worth showing of a quantity of kind k, in shown
// units, whose limits lie half (shown units) either side of it. A half of
// alone means there are no limits; the digit is then what measuring devices
// are commonly trusted to (common practice, no source).
func step(k analysis.Kind, half float64) float64 {
	switch k {
	case analysis.Angle:
		if half >= 1 {
			return 1
		}
		return 0.1
	case analysis.Speed:
		if half != alone && half < 1 {
			return 0.1
		}
		return 1
	case analysis.Rate:
		if half >= 50 {
			return 100
		}
		return 10
	case analysis.Time:
		return 0.1
	case analysis.Ratio:
		return 0.01
	}
	return 1
}

// amount says x (SI) with its unit, rounded as limits half (shown units) either
// side of it allow.
func (v Voice) amount(k analysis.Kind, x, half float64) string {
	s := step(k, half)
	return v.unit(figure(math.Round(x/v.Scale(k)/s)*s, s), k)
}

// unit puts the unit of kind k behind a figure: one yard, two yards.
func (v Voice) unit(figure string, k analysis.Kind) string {
	u := v.Unit(k)
	switch {
	case u == "":
		return figure
	case u == "°":
		return figure + u
	case (figure == "1" || figure == "-1") && k == analysis.Length:
		return figure + " " + strings.TrimSuffix(u, "s")
	}
	return figure + " " + u
}

// figure writes x, a multiple of step, with the decimals step has, a comma
// between thousands, and never a minus in front of nothing.
func figure(x, step float64) string {
	decimals := 0
	for s := step; s < 0.999 && decimals < 3; s *= 10 {
		decimals++
	}
	if math.Abs(x) < step/2 {
		x = 0
	}
	text := strconv.FormatFloat(math.Abs(x), 'f', decimals, 64)
	whole, fraction, _ := strings.Cut(text, ".")
	for i := len(whole) - 3; i > 0; i -= 3 {
		whole = whole[:i] + "," + whole[i:]
	}
	if fraction != "" {
		whole += "." + fraction
	}
	if x < 0 {
		return "-" + whole
	}
	return whole
}

// Count says n things: "1 ball", "6 balls".
func Count(n int, thing string) string {
	if n == 1 {
		return "1 " + thing
	}
	return figure(float64(n), 1) + " " + thing + "s"
}

// List joins names as prose does: "a, b and c".
func List(names []string) string { return list(names, "and") }

// list joins words as prose does: "a", "a and b", "a, b and c".
func list(items []string, last string) string {
	switch len(items) {
	case 0:
		return ""
	case 1:
		return items[0]
	}
	n := len(items) - 1
	return strings.Join(items[:n], ", ") + " " + last + " " + items[n]
}

// percent says a share of 0..1: "64 %".
func percent(share float64) string {
	return figure(math.Round(share*100), 1) + " %"
}

// sentence starts s with a capital, leaving a quotation or a figure alone.
func sentence(s string) string {
	if s == "" {
		return s
	}
	return strings.ToUpper(s[:1]) + s[1:]
}

// chosen is a value somebody typed, in shown units. Two decimals of a degree
// are more than anybody types; of what is converted between units, one is.
func (v Voice) chosen(k analysis.Kind, x float64) float64 {
	fine := 10.0
	if k == analysis.Angle || k == analysis.Ratio {
		fine = 100
	}
	return math.Round(x/v.Scale(k)*fine) / fine
}

// trimmed writes a chosen value without the noughts it was not typed with.
func trimmed(x float64) string {
	text := figure(x, 0.01)
	return strings.TrimSuffix(strings.TrimRight(text, "0"), ".")
}

// percentOutward says the limits of a share of 0..1 in whole per cent, rounded
// outward.
func percentOutward(low, high float64) (string, string) {
	return figure(math.Floor(tidy(low*100)), 1), figure(math.Ceil(tidy(high*100)), 1)
}
