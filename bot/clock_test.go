package bot

import (
	"context"
	"fmt"
	"log/slog"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/months"
	"rangepost/store"
	"rangepost/store/pgtest"
)

// clocked is a server whose clock can be set, where people post sessions dated
// as they like.
type clocked struct {
	*desktop
	posts int
}

func newClocked(t *testing.T) *clocked {
	t.Helper()
	c := &clocked{desktop: &desktop{t: t, now: time.Date(2026, time.June, 8, 0, 0, 0, 0, time.UTC)}}
	db, err := store.Open(t.Context(), pgtest.Path(t, ""), store.WithClock(func() time.Time { return c.now }))
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { db.Close() })
	c.Bot, err = New(t.Context(), Config{
		DB: db, Now: func() time.Time { return c.now }, Log: slog.New(slog.DiscardHandler),
		Fetch: func(_ context.Context, a Attachment) ([]byte, error) { return []byte(a.Name), nil },
	})
	if err != nil {
		t.Fatal(err)
	}
	c.ask(manager, "clubhouse coach", "role", "coaches")
	return c
}

// at sets the clock, to a time in UTC.
func (c *clocked) at(when string) {
	c.t.Helper()
	var err error
	if c.now, err = time.Parse("2006-01-02 15:04", when); err != nil {
		c.t.Fatal(err)
	}
}

// post hands over ten balls that a file says were hit at a time; "" if it does
// not say. No two are alike.
func (c *clocked) post(who, when string) Reply {
	c.posts++
	head, cell := "Club,Carry (yd),Lateral (yd),Face to Path (deg),Club Path (deg)", ""
	if when != "" {
		head, cell = "Time,"+head, when+","
	}
	lines := []string{head}
	for i := range 10 {
		lines = append(lines, fmt.Sprintf("%s7i,%d.%d,%d R,%.1f R,%.1f R", cell, 140+(i*7+c.posts*3)%11, c.posts%10, 2+(i+c.posts)%5, 1+float64((i*3+c.posts)%7)/5, float64(i%4)/5))
	}
	return c.hand(who, strings.Join(lines, "\n"))
}

// hand hands over a file, with more options of /post.
func (c *clocked) hand(who, file string, options ...string) Reply {
	r := Request{
		Kind: CommandRequest, Command: "post", Options: map[string]string{"file": "f", "ball": "new"},
		Files: map[string]Attachment{"f": {ID: "f", Name: file}},
	}
	for i := 0; i < len(options); i += 2 {
		r.Options[options[i]] = options[i+1]
	}
	r = as(who, r)
	r.ID = NewIncident()
	return c.Handle(c.t.Context(), r)
}

// counted is how many balls a student's brief has counted.
func (c *clocked) counted(who string) int {
	c.t.Helper()
	b, err := c.records.LastBrief(c.t.Context(), "saltmarsh", who)
	if err != nil || b == nil {
		c.t.Fatalf("%v, %v", b, err)
	}
	return b.Kept.Of
}

// In Los Angeles balls hit an hour after a brief was set count, those hit before
// it do not, and Sunday ends with Sunday there.
func TestBriefInLosAngeles(t *testing.T) {
	for _, c := range []struct {
		posted, hit string
		counts      bool
	}{
		{"2026-06-10 19:30", "2026-06-10 11:30", false}, // half an hour before it was set
		{"2026-06-10 21:30", "2026-06-10 13:00", true},  // an hour after
		{"2026-06-15 05:30", "2026-06-14 22:15", true},  // Sunday night
		{"2026-06-15 08:30", "2026-06-15 00:15", false}, // Monday, just
		{"2026-06-10 19:30", "2026-06-10", true},        // that day, the hour is not known
		{"2026-06-10 19:30", "2026-06-09", false},
		{"2026-06-15 20:00", "2026-06-14", true},
		{"2026-06-15 20:00", "2026-06-15", false},
		{"2026-06-10 21:30", "2026-06-10T21:00:00Z", true}, // an offset is what it says
		{"2026-06-10 21:30", "2026-06-10T13:00:00Z", false},
	} {
		d := newClocked(t)
		d.ask(manager, "clubhouse zone", "zone", "America/Los_Angeles")
		d.bind(student, coach)
		d.at("2026-06-10 19:00") // noon there
		contained(t, "the brief", d.ask(coach, "brief", "student", student, "text", "face within 2, 7-iron, 10 balls by Sunday").Text, "by 14 June")
		d.at(c.posted)
		d.post(student, c.hit)
		if got := d.counted(student) > 0; got != c.counts {
			t.Errorf("hit %s, posted %s UTC: counts %v, want %v", c.hit, c.posted, got, c.counts)
		}
	}
}

// In Auckland a session hit before a challenge opened is no entry, and one hit
// after is; the clubhouse is in London, the player says where they are.
func TestEntryInAuckland(t *testing.T) {
	for _, c := range []struct {
		hit  string
		says string
	}{
		{"2026-06-09 21:00", "before the challenge opened"}, // 22 hours before
		{"2026-06-10 18:30", "before the challenge opened"}, // half an hour before
		{"2026-06-10 19:30", "You are in"},
		{"2026-06-10", "You are in"}, // the day is known, the hour is not
		{"2026-06-09", "before the challenge opened"},
	} {
		d := newClocked(t)
		d.ask(manager, "clubhouse zone", "zone", "Europe/London")
		d.ask(student, "mine zone", "zone", "Pacific/Auckland")
		d.at("2026-06-10 07:00") // 19:00 there
		opened, err := d.db.OpenChallenge(t.Context(), store.Challenge{
			Server: "saltmarsh", Name: "Straightest", Channel: "c", Terms: []byte(`{"rule":"` + string(challenge.Narrow) + `","club":"7i","balls":10,"ball":"new"}`),
		})
		if err != nil {
			t.Fatal(err)
		}
		d.at("2026-06-10 09:00")
		d.post(student, c.hit)
		session, err := d.db.LatestSession(t.Context(), "saltmarsh", student)
		if err != nil {
			t.Fatal(err)
		}
		contained(t, "the button, hit "+c.hit, d.ask(student, "challenge enter", "challenge", opened.ID).Text, c.says)
		contained(t, "hit "+c.hit, d.ask(student, "challenge enter", "challenge", opened.ID, "session", session.ID).Text, c.says)
	}
}

// A session before the lesson is before it, in Auckland and in London's summer
// alike.
func TestSessionBeforeTheLesson(t *testing.T) {
	for _, c := range []struct{ zone, lesson, posted, hit, side string }{
		{"Europe/London", "2026-06-10 11:00", "2026-06-10 12:00", "2026-06-10 11:30", "before"}, // the lesson was at 12:00 there
		{"Europe/London", "2026-06-10 11:00", "2026-06-10 12:00", "2026-06-10 12:30", "after"},
		{"Pacific/Auckland", "2026-06-10 00:00", "2026-06-10 03:00", "2026-06-10 11:00", "before"}, // at noon
		{"Pacific/Auckland", "2026-06-10 00:00", "2026-06-10 03:00", "2026-06-10 13:00", "after"},
		{"America/Los_Angeles", "2026-06-10 19:00", "2026-06-10 23:00", "2026-06-10 11:00", "before"},
		{"America/Los_Angeles", "2026-06-10 19:00", "2026-06-10 23:00", "2026-06-10 13:00", "after"},
	} {
		d := newClocked(t)
		d.ask(manager, "clubhouse zone", "zone", c.zone)
		d.bind(student, coach)
		d.at(c.lesson)
		d.ask(coach, "lesson", "student", student, "note", "aim")
		d.at(c.posted)
		d.post(student, c.hit)
		lines, err := d.records.Roster(t.Context(), "saltmarsh", coach)
		if err != nil || len(lines) != 1 {
			t.Fatal(lines, err)
		}
		side := "before"
		if lines[0].Balls > 0 {
			side = "after"
		}
		if side != c.side {
			t.Errorf("%s: hit %s, lesson %s UTC: %s, want %s", c.zone, c.hit, c.lesson, side, c.side)
		}
	}
}

// A zone is asked for once, under the first post with a time; saying it moves
// what was read on the clubhouse's clock, and so does a change of that.
func TestZoneIsAskedOnce(t *testing.T) {
	d := newClocked(t)
	d.ask(manager, "clubhouse zone", "zone", "Europe/London")
	d.at("2026-06-10 20:00")
	const note = "on the clock of Europe/London; `/mine zone`"
	if text := d.post(student, "").Text; strings.Contains(text, "/mine zone") {
		t.Errorf("nothing to ask for: %q", text)
	}
	contained(t, "first", d.post(student, "2026-06-10 11:00").Text, note)
	if text := d.post(student, "2026-06-10 11:30").Text; strings.Contains(text, "/mine zone") {
		t.Errorf("asked twice: %q", text)
	}
	hit := func() string {
		t.Helper()
		all, err := d.db.Sessions(t.Context(), "saltmarsh", student, store.SessionFilter{})
		if err != nil {
			t.Fatal(err)
		}
		values, err := d.db.Values(t.Context(), "saltmarsh", student, store.ValuesFilter{Number: analysis.Carry})
		if err != nil || len(values) != len(all) {
			t.Fatal(values, err)
		}
		var says []string
		for i, s := range all {
			if v := values[len(all)-1-i]; v.Session != s.ID || !v.At.Equal(s.At) {
				t.Errorf("timelines have session %s at %v, it was hit at %v", v.Session, v.At, s.At)
			}
			if s.Dated != "" {
				says = append(says, s.At.Format("15:04"))
			}
		}
		return strings.Join(says, " ")
	}
	if got := hit(); got != "10:30 10:00" {
		t.Errorf("on London's clock: %s", got)
	}
	contained(t, "said", d.ask(student, "mine zone", "zone", "Europe/Stockholm").Text, "Europe/Stockholm, where it is 22:00 on 10 June now", "2 sessions moved")
	if got := hit(); got != "09:30 09:00" {
		t.Errorf("on Stockholm's clock: %s", got)
	}
	d.ask(student, "mine zone", "zone", "clubhouse")
	d.ask(manager, "clubhouse zone", "zone", "America/New_York")
	if err := d.records.Redate(t.Context()); err != nil {
		t.Fatal(err)
	}
	if got := hit(); got != "15:30 15:00" {
		t.Errorf("on New York's clock: %s", got)
	}
	contained(t, "nowhere", d.ask(student, "mine zone", "zone", "Saltmarsh").Text, "not a time zone I know")
	// A clock ahead of ours is another zone's.
	contained(t, "ahead", d.post(student, "2026-06-11 05:00").Text, "hit after you posted it; `/mine zone`")
}

// Years that cannot be are asked about and not taken, and an answer holds for
// that file alone.
func TestYearsThatCannotBe(t *testing.T) {
	d := newClocked(t)
	d.at("2026-06-10 20:00")
	d.post(student, "2026-06-10 11:00")
	for when, year := range map[string]string{"2062-06-09 11:00": "2026", "1999-06-09 11:00": "2026"} {
		asked := d.post(student, when)
		contained(t, when, asked.Text, "The file says it was hit on 9 June "+when[:4])
		if latest, err := d.db.LatestSession(t.Context(), "saltmarsh", student); err != nil || latest.At.After(d.now) || latest.At.Year() != 2026 {
			t.Errorf("%s: the latest is of %v, %v", when, latest.At, err)
		}
		menu := asked.Rows[0].Menu
		for _, choice := range menu.Choices {
			if strings.Contains(choice.Text, "9 June "+year) {
				d.Handle(t.Context(), as(student, Request{Kind: PressRequest, Path: menu.Path, Values: []string{choice.Value}}))
			}
		}
	}
	all, err := d.db.Sessions(t.Context(), "saltmarsh", student, store.SessionFilter{})
	if err != nil || len(all) != 3 || all[1].At.Format(time.DateTime) != "2026-06-09 11:00:00" || all[2].At.Format(time.DateTime) != "2026-06-09 11:00:00" {
		t.Errorf("answered: %+v, %v", all, err)
	}
	contained(t, "another file", d.post(student, "2062-06-09 11:00").Text, "still to come")
}

// Every day a command takes is checked on the clock of whoever says it.
func TestDaysThatCannotBe(t *testing.T) {
	d := newClocked(t)
	d.bind(student, coach)
	d.ask(coach, "mine zone", "zone", "Pacific/Auckland")
	d.at("2026-06-10 13:00") // 01:00 on 11 June there
	for _, c := range []struct{ command, option, text, says string }{
		{"lesson", "date", "0001-01-01", "1 January 0001 is too long ago"},
		{"lesson", "date", "2026-06-12", "12 June 2026 is still to come"},
		{"lesson", "date", "2026-06-11 02:00", "still to come"},
		{"lesson", "date", "2026-06-11", "Lesson marked on 11 June 2026"},
		{"lesson", "date", "2026-06-10 18:00", "Lesson marked on 10 June 2026, 18:00 NZST"},
		{"lesson", "date", "2026-02-30", "not a day"},
		{"lesson", "date", "", "Lesson marked on 11 June 2026, 01:00 NZST"},
		{"brief", "text", "face within 2, 20 balls in 1.9 weeks", "whole number"},
		{"brief", "text", "face within 2, 20 balls by 0001-01-01", "over"},
		{"brief", "text", "face within 2, 20 balls by 2027-06-30", "more than a year"},
		{"brief", "text", "face within 2, 20 balls by 10 June 2026", "over"}, // it is the 11th there
		{"brief", "text", "face within 2, 20 balls by today", "by 11 June"},
		{"timeline", "since", "0001-01-01", "too long ago"},
		{"timeline", "since", "2026-06-12", "still to come"},
	} {
		reply := d.ask(coach, c.command, "student", student, "note", "aim", c.option, c.text)
		contained(t, c.command+" "+c.text, reply.Text, c.says)
	}
}

// The sixty cases of another hand, through the bot: whoever sets a brief, marks a
// lesson or opens a challenge does so on their clock, and the golfer's file is on
// theirs.
func TestSixtyClocks(t *testing.T) {
	utc := func(zone, wall string) time.Time {
		where, err := time.LoadLocation(zone)
		if err != nil {
			t.Fatal(err)
		}
		at, err := time.ParseInLocation("2006-01-02 15:04", wall, where)
		if err != nil {
			t.Fatal(err)
		}
		return at.UTC()
	}
	for _, c := range months.Clocks() {
		t.Run(c.Name, func(t *testing.T) {
			d := newClocked(t)
			d.now = utc(c.Zone, c.From).AddDate(0, 0, -7)
			d.bind(student, coach)
			d.ask(coach, "mine zone", "zone", c.Zone)
			d.ask(student, "mine zone", "zone", c.Golfer)
			d.now = utc(c.Zone, c.From)
			var id string
			switch c.Kind {
			case months.Deadline:
				contained(t, "the brief", d.ask(coach, "brief", "student", student, "text", "face within 2, 7-iron, 10 balls by "+c.Until).Text, "by ")
			case months.Marked:
				contained(t, "the lesson", d.ask(coach, "lesson", "student", student, "note", "aim").Text, "Lesson marked")
			case months.Contest:
				d.ask(manager, "clubhouse zone", "zone", c.Zone) // a challenge is the clubhouse's
				d.ask(manager, "clubhouse channel", "channel", "contests")
				said := d.ask(manager, "challenge open", "name", "Straightest", "rule", string(challenge.Narrow), "club", "7i", "balls", "10", "ball", "new", "until", c.Until)
				contained(t, "the challenge", said.Text, "**Straightest**")
				all, err := d.db.Challenges(t.Context(), "saltmarsh", false, 0)
				if err != nil || len(all) != 1 {
					t.Fatal(said.Text, all, err)
				}
				id = all[0].ID
			}
			hit, err := time.Parse(time.RFC3339, c.Hit[len(c.Hit)-1]) // of an hour that came twice, posted after both
			if err != nil {
				t.Fatal(err)
			}
			if d.now.Before(hit) {
				d.now = hit
			}
			d.now = d.now.Add(20 * time.Minute)
			d.post(student, c.File)
			session, err := d.db.LatestSession(t.Context(), "saltmarsh", student)
			if err != nil {
				t.Fatal(err)
			}
			if at := session.At.UTC().Format(time.RFC3339); !slices.Contains(c.Hit, at) {
				t.Errorf("hit at %s, want %v", at, c.Hit)
			}
			counts := false
			switch c.Kind {
			case months.Deadline:
				counts = d.counted(student) > 0
			case months.Marked:
				lines, err := d.records.Roster(t.Context(), "saltmarsh", coach)
				if err != nil || len(lines) != 1 {
					t.Fatal(lines, err)
				}
				counts = lines[0].Balls > 0
			case months.Contest:
				counts = strings.Contains(d.ask(student, "challenge enter", "challenge", id, "session", session.ID).Text, "You are in")
			}
			if counts != c.Counts {
				t.Errorf("set %s in %s, until %q, hit %s in %s: counts %v", c.From, c.Zone, c.Until, c.File, c.Golfer, counts)
			}
		})
	}
}
