package sessionfile

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/impact"
)

// clubUsual is what a full swing with a club gives, in SI: its usual delivery, what
// that does to the ball (package impact), and how the ball flies (package
// flight).
func clubUsual(c analysis.Club) map[field]float64 {
	h := impact.HeadOf(c)
	d := h.Usual.Delivery()
	l := h.Strike(d)
	m := flight.Standard()
	to := m.Fly(l)
	return map[field]float64{
		clubSpeed: d.ClubSpeed, attack: d.Attack, dynamicLoft: d.DynamicLoft,
		field(analysis.SpinLoft): d.DynamicLoft - d.Attack,
		ballSpeed:                l.Speed, smash: l.Speed / d.ClubSpeed, launch: l.Angle, spin: l.Spin, backSpin: l.Spin,
		carry: to.Carry, total: 1.05 * to.Carry, apex: to.Apex, descent: to.Descent, flightTime: to.Time,
	}
}

// besideUsual is how far golfers' medians lie from the usual of their club, as
// a deviation of the logarithm: less than that of all clubs together. Common
// practice, no source.
var besideUsual = map[field]float64{
	clubSpeed: 0.2, dynamicLoft: 0.2, field(analysis.SpinLoft): 0.2, ballSpeed: 0.21, smash: 0.07,
	launch: 0.24, spin: 0.32, backSpin: 0.32, carry: 0.28, total: 0.3, apex: 0.5, descent: 0.18, flightTime: 0.22,
}

// usuals are the usual figures of the club of each row that is looked at, nil
// unless most rows say theirs.
func (t *table) usuals() (rows []map[field]float64) {
	at := -1
	for i := range t.columns {
		if t.columns[i].field == clubField {
			at = t.columns[i].at
		}
	}
	known := map[string]map[field]float64{"": nil}
	n := 0
	for i, r := range t.rows[:min(len(t.rows), mostFigures)] {
		text := t.clubs[i]
		if text == "" {
			text = t.clubAbove
		}
		if at >= 0 {
			text = plainText(r.cell(at))
		}
		u, ok := known[text]
		if !ok {
			if c, ok := parseClub(text); ok && c.Family != analysis.Putter && !c.Unknown() {
				u = clubUsual(c)
			}
			known[text] = u
		}
		if u != nil {
			n++
		}
		rows = append(rows, u)
	}
	if n*4 < len(rows)*3 {
		return nil
	}
	return rows
}

// holdsClubs reports whether nearly all of a column's cells are clubs.
func (t *table) holdsClubs(c *column) bool {
	clubs, filled := 0, 0
	for _, r := range t.rows[:min(len(t.rows), mostFigures)] {
		if text := plainText(r.cell(c.at)); !isMissing(text) {
			filled++
			if _, ok := parseClub(text); ok {
				clubs++
			}
		}
	}
	return filled >= 2 && clubs*5 >= filled*4
}

// against is how figures in a unit of that scale stand to the usual of their
// clubs: the middle of the ratios' logarithms, and how they spread.
func (f figures) against(of field, scale float64) (middle, spread float64, ok bool) {
	var logs []float64
	for i, v := range f.vs {
		if i < len(f.usual) && v > 0 && f.usual[i][of] > 0 {
			logs = append(logs, math.Log(v*scale/f.usual[i][of]))
		}
	}
	if len(logs)*2 < f.n || len(logs) == 0 {
		return 0, 0, false
	}
	middle = median(logs)
	for i := range logs {
		logs[i] = math.Abs(logs[i] - middle)
	}
	return middle, median(logs), true
}

// addUsual gives columns what the clubs of their rows usually give.
func (t *table) addUsual(cs []column) {
	rows := t.usuals()
	for i := range cs {
		cs[i].usual = rows
	}
}

// usually is what the club of row i usually gives of a field, or what does for it
// where the club is not known.
func (c *column) usually(of field, i int, otherwise float64) float64 {
	if i < len(c.usual) && c.usual[i][of] > 0 {
		return c.usual[i][of]
	}
	return otherwise
}

// besideUsual is the middle of the logarithms of a column's values of that scale
// over what their clubs usually give.
func (c *column) besideUsual(scale float64) (middle float64, ok bool) {
	var logs []float64
	for i := range c.usual {
		if v, u := c.cells[i], c.usually(c.field, i, 0); v.ok && !v.si && v.v > 0 && u > 0 {
			logs = append(logs, math.Log(v.v*scale/u))
		}
	}
	return median(logs), len(logs) > 0
}

// steepness is how high the clubs of a column's rows usually send a ball for its
// length.
func (c *column) steepness() (share float64, ok bool) {
	var shares []float64
	for i := range c.usual {
		if far := c.usually(carry, i, 0); far > 0 {
			shares = append(shares, c.usually(apex, i, 0)/far)
		}
	}
	return median(shares), len(shares) > 0
}
