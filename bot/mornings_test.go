package bot

import (
	"encoding/csv"
	"flag"
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/player"
	"rangepost/bot/record"
	"rangepost/store"
)

var mornings = flag.Int("mornings", 1, "clubs whose coach's mornings are counted")

// A desk is a coach with thirty students over eight weeks, twelve posts a day of
// them together. Among the posts are trials of a grip, every third student has a
// brief they keep, and by the seventh week three need their coach: one stopped
// coming after a lesson, one has a face three and a half degrees off what it was,
// one was set a brief that holds one ball in seven.
type desk struct {
	*desktop
	rng                *rand.Rand
	names              []string
	lost, off, beaten  string
	face               map[string]float64 // degrees right of target, of each one's usual
	presses, words     int
	longest, mostWords int
}

const (
	deskDays   = 56
	deskRate   = 12.0 / 27 // posts a day of a student: twelve of those who come
	deskInNeed = 44        // the day from which the three in need are looked for
)

func newDesk(t *testing.T, seed uint64) *desk {
	d := &desk{desktop: newDesktop(t), rng: rand.New(rand.NewPCG(seed, 88)), face: map[string]float64{}}
	for i := range 30 {
		d.names = append(d.names, fmt.Sprintf("student%02d", i))
	}
	for _, name := range d.names {
		d.bind(name, coach)
		d.face[name] = 2.5 * d.rng.NormFloat64()
		if err := d.db.SetName(t.Context(), "saltmarsh", name, name); err != nil {
			t.Fatal(err)
		}
	}
	d.rng.Shuffle(len(d.names), func(i, j int) { d.names[i], d.names[j] = d.names[j], d.names[i] })
	d.lost, d.off, d.beaten = d.names[0], d.names[1], d.names[2]
	return d
}

// day is a day of the club: whoever comes posts.
func (d *desk) day(day int) {
	for i, name := range d.names {
		if name == d.lost && day >= 30 || d.rng.Float64() > deskRate {
			continue
		}
		face := d.face[name] + 0.8*d.rng.NormFloat64()
		if name == d.off && day >= 30 {
			face += 3.5
		}
		d.posts(name, face, d.rng.IntN(20) == 0, i)
	}
	for i, name := range d.names {
		switch {
		case day == 29 && name == d.lost:
			d.ask(coach, "lesson", "student", name, "note", "aim")
		case day == 29 && name == d.beaten:
			d.ask(coach, "brief", "student", name, "text", "face to path within 0.5, 7-iron, 40 balls")
		case day == 29 && i%3 == 0 && i > 2:
			d.ask(coach, "brief", "student", name, "text", "face to path within 8, 7-iron, 400 balls by 1 December")
		}
	}
}

// posts posts a file of twenty balls, half of them with another grip in a trial.
func (d *desk) posts(name string, face float64, trial bool, world int) {
	d.t.Helper()
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	delivery := player.Typical(iron)
	delivery.Face, delivery.Path = face*analysis.Degree, 0
	golfer := player.Player{
		Club: iron, Delivery: delivery, Spread: player.TypicalSpread(1), World: player.Foreign(iron, analysis.RightHanded, rand.New(rand.NewPCG(uint64(world), 5))),
		Device: player.Device{Club: true, Ball: true, Landed: true, Noise: player.UsualNoise()},
	}
	shots := golfer.Shots(20, "", d.rng)
	if trial {
		golfer.Delivery.Face -= 3 * analysis.Degree
		shots = append(golfer.Shots(12, "normal", d.rng), golfer.Shots(12, "strong grip", d.rng)...)
	}
	var text strings.Builder
	w := csv.NewWriter(&text)
	columns := []struct {
		head   string
		number analysis.Number
		unit   float64
		sided  bool
	}{
		{"Club Speed (mph)", analysis.ClubSpeed, analysis.MilePerHour, false}, {"Attack Angle (deg)", analysis.Attack, analysis.Degree, false},
		{"Club Path (deg)", analysis.Path, analysis.Degree, true}, {"Face to Target (deg)", analysis.Face, analysis.Degree, true},
		{"Dynamic Loft (deg)", analysis.DynamicLoft, analysis.Degree, false}, {"Ball Speed (mph)", analysis.BallSpeed, analysis.MilePerHour, false},
		{"Launch Angle (deg)", analysis.LaunchAngle, analysis.Degree, false}, {"Launch Direction (deg)", analysis.Direction, analysis.Degree, true},
		{"Spin Rate (rpm)", analysis.Spin, analysis.RevPerMinute, false}, {"Spin Axis (deg)", analysis.SpinAxis, analysis.Degree, true},
		{"Carry (yd)", analysis.Carry, analysis.Yard, false}, {"Offline (yd)", analysis.Lateral, analysis.Yard, true},
	}
	header := []string{"Shot", "Time", "Club", "Set"}
	for _, c := range columns {
		header = append(header, c.head)
	}
	rows := [][]string{header}
	for i, shot := range shots {
		row := []string{fmt.Sprint(i + 1), d.now.Format("2006-01-02 15:04:05"), "7-iron", shot.Label}
		for _, c := range columns {
			v, _ := shot.Value(c.number)
			switch v /= c.unit; {
			case c.sided && v < 0:
				row = append(row, fmt.Sprintf("%.2f L", -v))
			case c.sided:
				row = append(row, fmt.Sprintf("%.2f R", v))
			default:
				row = append(row, fmt.Sprintf("%.2f", v))
			}
		}
		rows = append(rows, row)
	}
	if err := w.WriteAll(rows); err != nil {
		d.t.Fatal(err)
	}
	if _, answer, _, err := d.records.Post(d.t.Context(), record.Post{
		Server: "saltmarsh", Student: name, Name: "s.csv", Raw: []byte(text.String()), Said: store.Said{Ball: analysis.RangeBall},
	}); err != nil || len(answer.Reading.Questions) > 0 {
		d.t.Fatal(err, answer.Reading.Questions)
	}
}

// morning is the coach's: the whole roster, then every post looked at. first are
// the first students of the roster.
func (d *desk) morning() (first string) {
	presses, words := 0, 0
	read := func(r Reply) Reply {
		presses++
		words += len(strings.Fields(r.Text))
		return r
	}
	press := func(r Reply, label string) (Reply, bool) {
		for _, row := range r.Rows {
			for _, b := range row.Buttons {
				if strings.HasPrefix(b.Label, label) {
					return read(d.Handle(d.t.Context(), as(coach, Request{Kind: PressRequest, Path: b.Path}))), true
				}
			}
		}
		return r, false
	}
	page := read(d.ask(coach, "roster"))
	first = page.Text
	for more := true; more; {
		page, more = press(page, "Next page")
	}
	page = read(d.ask(coach, "review"))
	for more := true; more; {
		page, more = press(page, "Looked at")
	}
	if left, _, err := d.db.Unread(d.t.Context(), "saltmarsh", coach, store.UnreadFilter{}); err != nil || left != nil {
		d.t.Fatalf("after the morning %v is left, %v", left, err)
	}
	d.presses, d.words = d.presses+presses, d.words+words
	d.longest, d.mostWords = max(d.longest, presses), max(d.mostWords, words)
	return first
}

// A coach's morning with thirty students and twelve posts is short, and begins
// with the three who need them.
func TestMornings(t *testing.T) {
	if testing.Short() {
		t.Skip("eight weeks of files")
	}
	for seed := range uint64(*mornings) {
		d := newDesk(t, seed)
		looked, among, right := 0, 0, 0
		for day := range deskDays {
			d.now = time.Date(2026, time.June, 1+day, 18, 0, 0, 0, time.UTC)
			d.day(day)
			d.now = d.now.Add(12 * time.Hour)
			text := d.morning()
			if day < deskInNeed {
				continue
			}
			looked++
			three := firstNames(text, 3)
			n := 0
			for _, name := range []string{d.lost, d.off, d.beaten} {
				if strings.Contains(three, name) {
					n++
				}
			}
			among += n
			if n == 3 {
				right++
			} else if testing.Verbose() {
				t.Logf("day %d: lost %s, off %s, beaten %s, and the first are %s", day, d.lost, d.off, d.beaten, three)
			}
		}
		presses, words := float64(d.presses)/deskDays, float64(d.words)/deskDays
		t.Logf("club %d: a morning has %.1f presses (at most %d) and %.0f words (at most %d); the three in need are the first three on %d of %d mornings, %d of %d of them among the three",
			seed, presses, d.longest, words, d.mostWords, right, looked, among, 3*looked)
		if presses > 60 || words > 1500 {
			t.Errorf("club %d: %.1f presses and %.0f words a morning, want at most 60 and 1,500", seed, presses, words)
		}
		if 10*among < 9*3*looked {
			t.Errorf("club %d: of those in need %d of %d are among the first three, want nine in ten", seed, among, 3*looked)
		}
	}
}

// firstNames are the first names in bold of a text.
func firstNames(text string, n int) string {
	var names []string
	for i, part := range strings.Split(text, "**") {
		if i%2 == 1 && len(names) < n {
			names = append(names, part)
		}
	}
	return strings.Join(names, ", ")
}
