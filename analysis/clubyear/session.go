package clubyear

import (
	"bytes"
	"encoding/csv"
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

// A dress is how a device writes what it measured.
type dress struct {
	sep    rune
	stamp  string // heading of the times; "" where the day stands above the table
	layout string
	club   func(c analysis.Club) string
}

var dresses = map[Device]dress{
	Bay:      {',', "Time", time.RFC3339, analysis.Club.String},
	BayLine:  {',', "", "2006-01-02 15:04", func(c analysis.Club) string { return strings.ToUpper(c.Key()) }},
	Box:      {',', "Date", "2006-01-02 15:04:05", analysis.Club.Key},
	BoxComma: {';', "Date", "02.01.2006 15:04:05", analysis.Club.Key},
}

// File is the session as its device writes it. Times are on the clock of the
// balls' location; sides are letters, but for the box with commas, whose figures
// are positive to the right for every golfer.
func (s Session) File() File {
	var b bytes.Buffer
	name, d := strings.ToLower(s.Player), dresses[s.Device]
	stamp := d.stamp
	if s.Undated {
		stamp = ""
	} else {
		name += s.Start().Format("-0102-1504")
	}
	if s.Device == BayLine {
		fmt.Fprintf(&b, "Player,%s\n", s.Player)
		if !s.Undated {
			fmt.Fprintf(&b, "Date,%s\n", s.Start().Format(d.layout))
		}
		b.WriteByte('\n')
	}
	w := csv.NewWriter(&b)
	w.Comma = d.sep
	line := func(number, at, club string, cell func(c column) string) {
		row := []string{number}
		if stamp != "" {
			row = append(row, at)
		}
		row = append(row, club)
		for _, c := range s.Device.columns() {
			if !slices.Contains(s.Missing, c.n) {
				row = append(row, cell(c))
			}
		}
		w.Write(row) // a buffer takes everything
	}
	line("Shot", stamp, "Club", s.heading)
	for _, ball := range s.Balls {
		line(strconv.Itoa(ball.N), ball.At.Format(d.layout), d.club(ball.Club), func(c column) string { return s.cell(c, ball) })
	}
	w.Flush()
	return File{Name: name + ".csv", Data: b.Bytes()}
}

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

func (s Session) cell(c column, b Ball) string {
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
	if s.Device == BoxComma {
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
