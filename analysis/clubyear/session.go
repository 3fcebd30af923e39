package clubyear

import (
	"bytes"
	"fmt"
	"math"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
)

// A Ball is a row of a file: its number as the file gives it, club, numbers in SI
// (one that is not known is an empty cell) and time.
type Ball struct {
	analysis.Shot
	At time.Time
}

// A Session is what a device keeps of a visit, before it is written.
type Session struct {
	Device Device
	Player string
	Balls  []Ball

	// What somebody did to the file, or was wrong with the device.
	Undated  bool
	Missing  []analysis.Number          // columns that are not there
	Heads    map[analysis.Number]string // headings written over by hand
	Decimals int                        // as many at most, less one: 1 is none; 0 is the device's own
	Unit     string                     // the heading of every distance says so, whatever was measured
}

// clone is the session with balls of its own.
func (s Session) clone() Session {
	s.Balls = slices.Clone(s.Balls)
	return s
}

// shots are the balls without their times.
func (s Session) shots() []analysis.Shot {
	all := make([]analysis.Shot, len(s.Balls))
	for i, b := range s.Balls {
		all[i] = b.Shot
	}
	return all
}

// Start is when the first ball was hit, zero without a ball.
func (s Session) Start() time.Time {
	if len(s.Balls) == 0 {
		return time.Time{}
	}
	return s.Balls[0].At
}

// File is the session as its device writes it. Times are on the clock of the
// balls' location; sides are letters, but for the box with commas, whose figures
// are positive to the right for every golfer.
func (s Session) File() File {
	sep, comma := ",", false
	if s.Device == BoxComma {
		sep, comma = ";", true
	}
	cols := slices.DeleteFunc(s.Device.columns(), func(c column) bool { return slices.Contains(s.Missing, c.n) })
	var b bytes.Buffer
	if s.Device == BayLine {
		fmt.Fprintf(&b, "Player,%s\n", s.Player)
		if !s.Undated {
			fmt.Fprintf(&b, "Date,%s\n", s.Start().Format("2006-01-02 15:04"))
		}
		b.WriteByte('\n')
	}
	head := []string{"Shot"}
	if s.stamped() {
		head = append(head, map[Device]string{Bay: "Time", Box: "Date", BoxComma: "Date"}[s.Device])
	}
	head = append(head, "Club")
	for _, c := range cols {
		head = append(head, s.heading(c))
	}
	b.WriteString(strings.Join(head, sep) + "\n")
	for _, ball := range s.Balls {
		row := []string{strconv.Itoa(ball.N)}
		if s.stamped() {
			layout := map[Device]string{Bay: time.RFC3339, Box: "2006-01-02 15:04:05", BoxComma: "02.01.2006 15:04:05"}[s.Device]
			row = append(row, ball.At.Format(layout))
		}
		row = append(row, s.club(ball.Club))
		for _, c := range cols {
			row = append(row, s.cell(c, ball, comma))
		}
		b.WriteString(strings.Join(row, sep) + "\n")
	}
	return File{Name: fmt.Sprintf("%s-%s.csv", strings.ToLower(s.Player), s.Start().Format("0102-1504")), Data: b.Bytes()}
}

// stamped reports whether every row has its time.
func (s Session) stamped() bool { return !s.Undated && s.Device != BayLine }

func (s Session) heading(c column) string {
	if h, ok := s.Heads[c.n]; ok {
		return h
	}
	unit := c.name
	if s.Unit != "" && c.n.Info().Kind == analysis.Length {
		unit = s.Unit
	}
	return fmt.Sprintf("%s (%s)", c.head, unit)
}

func (s Session) club(c analysis.Club) string {
	switch s.Device {
	case Bay:
		return c.String()
	case BayLine:
		return strings.ToUpper(c.Key())
	}
	return c.Key()
}

func (s Session) cell(c column, b Ball, comma bool) string {
	v, ok := b.Value(c.n)
	if !ok {
		return ""
	}
	decimals := max(c.decimals, 0)
	if s.Decimals > 0 {
		decimals = min(decimals, s.Decimals-1)
	}
	v /= c.unit
	if c.decimals < 0 { // tens of revolutions
		v, decimals = 10*math.Round(v), 0
	}
	side := ""
	if c.n.Info().Sideways && s.Device != BoxComma {
		side = "R"
		if v < 0 {
			v, side = -v, "L"
		}
		if !s.Device.metric() {
			side = " " + side
		}
	}
	text := strconv.FormatFloat(v, 'f', decimals, 64)
	if comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	return text + side
}

// part is n balls from the one at index i on.
func (s Session) part(i, n int) Session {
	s.Balls = slices.Clone(s.Balls[i : i+n])
	return s
}

// number gives the balls the numbers from 1 on and times in their order.
func (s *Session) number() {
	times := make([]time.Time, len(s.Balls))
	for i, b := range s.Balls {
		times[i] = b.At
	}
	slices.SortFunc(times, time.Time.Compare)
	for i := range s.Balls {
		s.Balls[i].N, s.Balls[i].At = i+1, times[i]
	}
}

// move moves the session to another start.
func (s *Session) move(start time.Time) {
	by := start.Sub(s.Start())
	for i := range s.Balls {
		s.Balls[i].At = s.Balls[i].At.Add(by)
	}
}

// each changes every number of every ball that is known.
func (s *Session) each(change func(n analysis.Number, v float64) float64) {
	for i := range s.Balls {
		b := &s.Balls[i]
		for _, n := range analysis.Numbers() {
			if v, ok := b.Value(n); ok {
				b.Shot = b.With(n, change(n, v))
			}
		}
	}
}

// half rounds a distance to a half of the file's unit.
func (s Session) half(v float64) float64 {
	unit := analysis.Yard
	if s.Device.metric() {
		unit = 1
	}
	return unit / 2 * math.Round(2*v/unit)
}
