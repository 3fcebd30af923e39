package sessionfile

import (
	"strings"
	"sync"

	"rangepost/analysis"
)

// A unit turns a written number into SI: value*scale + offset.
type unit struct {
	name          string // as shown to people
	dim           dimension
	scale, offset float64
}

func (u unit) si(v float64) float64 { return v*u.scale + u.offset }

// units is the one table of units, each with the spellings it goes by in the
// languages of the lexicon, separated by spaces. Case and dots do not matter.
// A spelling may stand for two units of different dimension ("s", "m").
var units = []struct {
	unit
	spellings string
}{
	{unit{"mph", speed, analysis.MilePerHour, 0}, "mph mi/h miles/h mileh milesperhour mp/h miles マイル 마일 mphs"},
	{unit{"km/h", speed, analysis.KMPerHour, 0}, "km/h kmh kph kmph kmt km/t km/std"},
	{unit{"m/s", speed, 1, 0}, "m/s mps m/sec m/sek ms ms-1 m/초 m/秒 metrespersecond meterspersecond"},
	{unit{"knots", speed, analysis.Knot, 0}, "knots knot kn kts"},
	{unit{"ft/s", speed, analysis.Foot, 0}, "ft/s fps ft/sec"},
	{unit{"yd", length, analysis.Yard, 0}, "yd yds yard yards y ヤード 야드 yarde yardas iarde vg"},
	{unit{"m", length, 1, 0}, "m mtr mtrs meter meters metre metres mètre mètres metro metros metri メートル 미터"},
	{unit{"ft", length, analysis.Foot, 0}, "ft foot feet fuß fuss pied pieds pie pies piede piedi fot フィート 피트 '"},
	{unit{"in", length, analysis.Inch, 0}, "in inch inches zoll pouce pouces pulgada pulgadas pollice pollici tum インチ 인치 \" ''"},
	{unit{"cm", length, 0.01, 0}, "cm センチ 센티미터"},
	{unit{"mm", length, analysis.Millimetre, 0}, "mm ミリ 밀리미터"},
	{unit{"deg", angle, analysis.Degree, 0}, "° deg degs degree degrees grad degré degrés grado grados grado gradi grader 度 도 ˚"},
	{unit{"rad", angle, 1, 0}, "rad rads radian radians radianten radiant ラジアン 라디안"},
	{unit{"rpm", rate, analysis.RevPerMinute, 0}, "rpm r/min rev/min revs/min u/min tr/min giri/min varv/min 回転 回転/分 회전 tpm tours/min 1/min"},
	{unit{"rps", rate, 60 * analysis.RevPerMinute, 0}, "rps rev/s r/s"},
	{unit{"rad/s", rate, 1, 0}, "rad/s rads/s rad/sec"},
	{unit{"krpm", rate, 1000 * analysis.RevPerMinute, 0}, "krpm"},
	{unit{"s", duration, 1, 0}, "s sec secs second seconds sek sekunden sekunder seconde secondes segundo segundos secondi 秒 초"},
	{unit{"ms", duration, 0.001, 0}, "ms msec"},
	{unit{"", ratio, 1, 0}, "x -"},
	{unit{"°C", warmth, 1, analysis.ZeroCelsius}, "°c c celsius degc"},
	{unit{"°F", warmth, 5.0 / 9, analysis.ZeroCelsius - 32*5.0/9}, "°f f fahrenheit degf"},
	{unit{"K", warmth, 1, 0}, "k kelvin"},
}

var unitBySpelling = sync.OnceValue(func() map[string][]unit {
	m := map[string][]unit{}
	for _, u := range units {
		for s := range strings.FieldsSeq(u.spellings) {
			m[unitSpelling(s)] = append(m[unitSpelling(s)], u.unit)
			if bare := squeezed(s); !ascii(s) && ascii(bare) && bare != "" { // without its accents
				m[bare] = append(m[bare], u.unit)
			}
		}
	}
	return m
})

var unitMarks = strings.NewReplacer(" ", "", ".", "", "·", "")

func unitSpelling(s string) string { return unitMarks.Replace(strings.ToLower(plainText(s))) }

// unitFor is the unit of dimension d spelled s.
func unitFor(s string, d dimension) (unit, bool) {
	for _, u := range unitBySpelling()[unitSpelling(s)] {
		if u.dim == d {
			return u, true
		}
	}
	return unit{}, false
}

// unitNamed is the unit of dimension d with that name.
func unitNamed(name string, d dimension) unit {
	for _, u := range units {
		if u.name == name && u.dim == d {
			return u.unit
		}
	}
	return unit{}
}

// isUnit reports whether s is the spelling of any unit.
func isUnit(s string) bool { return len(unitBySpelling()[unitSpelling(s)]) > 0 }
