package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/bot/record"
	"rangepost/store"
)

// A crowd is a platform of members with roles, that takes messages or does
// not.
type crowd struct {
	corkboard // nothing hangs on it

	roles map[string][]string // of members
	fails error               // of every message
	asks  error               // of every question
	sent  []string            // "who nonce text"

	noOpen error    // of every thread
	open   []string // threads
}

func (c *crowd) Direct(_ context.Context, person, nonce string, reply Reply) error {
	if c.fails != nil {
		return c.fails
	}
	c.sent = append(c.sent, person+" "+nonce+" "+reply.Text)
	return nil
}

func (c *crowd) Sent(_ context.Context, person string, is func(string) bool) (bool, error) {
	for _, sent := range c.sent {
		to, rest, _ := strings.Cut(sent, " ")
		if _, text, _ := strings.Cut(rest, " "); to == person && is(text) {
			return true, c.fails
		}
	}
	return false, c.fails
}

func (c *crowd) Roles(_ context.Context, _, person string) ([]string, error) {
	if c.asks != nil {
		return nil, c.asks
	}
	roles, there := c.roles[person]
	if !there {
		return nil, fmt.Errorf("%s: %w", person, ErrGone)
	}
	return roles, nil
}

// Open opens a thread of that name once, as a platform has to.
func (c *crowd) Open(_ context.Context, t Thread) (string, error) {
	if c.noOpen != nil {
		return "", c.noOpen
	}
	id := "thread-of-" + t.Name
	if !slices.Contains(c.open, id) {
		c.open = append(c.open, id)
	}
	return id, nil
}

func present() *crowd {
	return &crowd{roles: map[string][]string{coach: {"coaches"}, rival: {"coaches"}, student: nil, other: nil}}
}

func TestScheduled(t *testing.T) {
	london, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	apia, err := time.LoadLocation("Pacific/Apia")
	if err != nil {
		t.Fatal(err)
	}
	at := func(zone *time.Location, text string) time.Time {
		t.Helper()
		v, err := time.ParseInLocation("Mon 2006-01-02 15:04", text, zone)
		if err != nil {
			t.Fatal(err)
		}
		return v
	}
	for _, tt := range []struct {
		weekday time.Weekday
		hour    int
		now     time.Time
		want    string
	}{
		{time.Sunday, 18, at(london, "Sun 2026-06-07 18:00"), "2026-06-07T18:00+01:00"},
		{time.Sunday, 18, at(london, "Sun 2026-06-07 17:59"), "2026-05-31T18:00+01:00"},
		{time.Sunday, 18, at(london, "Sat 2026-06-06 23:00"), "2026-05-31T18:00+01:00"},
		{time.Monday, 0, at(london, "Mon 2026-06-08 00:00"), "2026-06-08T00:00+01:00"},
		// Over the end of summer time the hour stays the coach's own.
		{time.Monday, 7, at(london, "Tue 2026-10-27 12:00"), "2026-10-26T07:00+00:00"},
		{time.Saturday, 7, at(london, "Tue 2026-10-27 12:00"), "2026-10-24T07:00+01:00"},
		// 01:30 never came on 29 March 2026 in London; the hour after did.
		{time.Sunday, 1, at(london, "Sun 2026-03-29 12:00"), "2026-03-29T02:00+01:00"},
		{time.Monday, 7, at(apia, "Wed 2026-06-10 01:00"), "2026-06-08T07:00+13:00"},
	} {
		if got := record.Scheduled(tt.weekday, tt.hour, tt.now).Format("2006-01-02T15:04-07:00"); got != tt.want {
			t.Errorf("%v at %d, asked on %v: %s, want %s", tt.weekday, tt.hour, tt.now, got, tt.want)
		}
	}
}

// A coach is told once a week, at their hour, of what changed, and of each
// brief's end once.
func TestDigest(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	d.bind(other, coach)
	tick := func() (said string) {
		t.Helper()
		on.sent = nil
		if err := d.Tick(t.Context(), on); err != nil {
			t.Fatal(err)
		}
		if len(on.sent) > 1 {
			t.Fatalf("%d messages: %q", len(on.sent), on.sent)
		}
		return strings.Join(on.sent, "")
	}
	none := func(what string) {
		t.Helper()
		if said := tick(); said != "" {
			t.Errorf("%s: %q", what, said)
		}
	}
	none("nobody asked for it")
	contained(t, "set", d.ask(coach, "digest", "day", "1", "hour", "7", "zone", "Europe/Berlin").Text, "Mondays at 07:00, Europe/Berlin. The next: 8 June 2026")
	d.session(student, 10, 0)
	d.ask(coach, "brief", "student", student, "text", "face within 2, 10 balls by 6 June")
	none("before its hour")
	d.now = time.Date(2026, time.June, 8, 4, 59, 0, 0, time.UTC)
	none("a minute before")
	d.now = time.Date(2026, time.June, 8, 5, 0, 0, 0, time.UTC) // 07:00 in Berlin
	first := tick()
	contained(t, "first", first, "coach ", "Your students since 1 June 2026:", "**wren**: Face brief missed: no ball hit for it. Ask what is in the way. 1 post.", "No change with the other 1.")
	none("the same hour")
	d.days(7)
	// Tamsin has been silent for two weeks by then; of the brief nothing is said
	// again.
	second := tick()
	contained(t, "second", second, "**tamsin**: Never posted. Help with the first file.")
	if strings.Contains(second, "brief") {
		t.Errorf("a brief's end is told twice: %q", second)
	}
	d.days(7)
	third := tick()
	if third != "" && !strings.Contains(third, "Silent") {
		t.Errorf("nothing changed: %q", third)
	}
	// The bot was down for five weeks: one message for all of them.
	d.session(student, 10, 0)
	d.days(35)
	contained(t, "made up", tick(), "Your students since 22 June 2026:", "1 post.")
	none("made up once")
	contained(t, "off", d.ask(coach, "digest", "day", "off").Text, "No weekly message")
	d.session(student, 10, 0)
	d.days(30)
	none("ended")
	for option, text := range map[string]string{"day": "9", "hour": "24", "zone": "Nowhere/Land"} {
		contained(t, option, d.ask(coach, "digest", option, text).Text, "Option '"+option+"'")
	}
}

// A coach is told who took their consent back, and once how a brief ended that
// was replaced where the student reads along.
func TestDigestOfEndings(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	d.bind(other, coach)
	d.ask(coach, "digest", "day", "1")
	week := func() string {
		t.Helper()
		d.days(7)
		on.sent = nil
		if err := d.Tick(t.Context(), on); err != nil {
			t.Fatal(err)
		}
		return strings.Join(on.sent, "")
	}
	thread := "thread-" + student + "-" + coach
	set := func(text string, options ...string) Reply {
		t.Helper()
		return d.ask(coach, "brief", append([]string{"student", student, "text", text}, options...)...)
	}
	set("face within 2, 10 balls by 3 June", "channel", thread)
	d.session(student, 10, 0)
	d.days(3)
	if said := set("face within 1, 10 balls by 20 June", "channel", thread).Text; strings.Contains(said, "kept") {
		t.Errorf("told where the student reads along: %q", said)
	}
	contained(t, "replaced in the thread", week(), "**wren**: 1 post. Earlier face brief kept: 10 of 10 balls inside.")
	if said := week(); strings.Contains(said, "Earlier") {
		t.Errorf("told twice: %q", said)
	}
	d.days(7) // beyond 20 June
	contained(t, "replaced elsewhere", set("face within 3, 10 balls by 30 July").Text, "Until now, brief missed: no ball hit for it.")
	if said := week(); strings.Contains(said, "Earlier") {
		t.Errorf("told at once and again: %q", said)
	}
	d.Handle(t.Context(), as(student, Request{Kind: PressRequest, Path: d.ask(student, "mine consent").Rows[0].Buttons[0].Path}))
	contained(t, "consent taken back", week(), "No longer among your students: wren.")
	if said := week(); strings.Contains(said, "No longer") {
		t.Errorf("told twice: %q", said)
	}
	// Gone to another coach and come back is no change.
	d.bind(other, rival)
	d.bind(other, coach)
	if said := week(); strings.Contains(said, "No longer") {
		t.Errorf("is back: %q", said)
	}
	d.bind(other, rival)
	contained(t, "gone to another", week(), "No longer among your students: tamsin.")
}

// What cannot be delivered now is tried again; what nobody will have is not,
// and nothing goes to somebody who is no coach any more.
func TestDigestTrouble(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	d.ask(coach, "digest", "day", "1")
	d.session(student, 10, 0)
	d.days(7)
	on.fails = errors.New("a lost link")
	if err := d.Tick(t.Context(), on); err == nil {
		t.Error("a lost link is no error")
	}
	on.fails, on.asks = nil, errors.New("a lost link")
	if err := d.Tick(t.Context(), on); err == nil || len(on.sent) > 0 {
		t.Errorf("not knowing who is a coach: %v, %q", err, on.sent)
	}
	on.asks = nil
	if err := d.Tick(t.Context(), on); err != nil || len(on.sent) != 1 {
		t.Errorf("tried again: %v, %q", err, on.sent)
	}
	d.session(student, 10, 0)
	d.days(7)
	on.sent, on.fails = nil, fmt.Errorf("50007: %w", ErrRefused)
	if err := d.Tick(t.Context(), on); err != nil {
		t.Error(err)
	}
	contained(t, "the roster says so", d.ask(coach, "roster").Text, "could not send you the weekly message")
	on.fails = nil
	if err := d.Tick(t.Context(), on); err != nil || len(on.sent) != 0 {
		t.Errorf("tried again within the week: %v, %q", err, on.sent)
	}
	d.days(7)
	if err := d.Tick(t.Context(), on); err != nil || len(on.sent) != 1 || !strings.Contains(on.sent[0], "since 8 June 2026") {
		t.Errorf("the week after: %v, %q", err, on.sent)
	}
	for name, change := range map[string]func(){
		"the role was taken": func() { on.roles[coach] = nil },
		"the coach left":     func() { delete(on.roles, coach) },
	} {
		on.roles[coach] = []string{"coaches"}
		d.ask(coach, "digest", "day", "1")
		change()
		on.sent = nil
		d.session(student, 10, 0)
		d.days(7)
		if err := d.Tick(t.Context(), on); err != nil || len(on.sent) != 0 {
			t.Errorf("%s: %v, %q", name, err, on.sent)
		}
		if _, err := d.db.Digest(t.Context(), "saltmarsh", coach); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("%s: the digest is still there: %v", name, err)
		}
	}
}

// Whoever leaves the server ends their binding; who stays keeps theirs, and a
// platform that does not answer ends nothing.
func TestSweep(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	d.bind(other, rival)
	sees := func(by, pupil string) bool {
		t.Helper()
		ok, err := d.db.MaySee(t.Context(), "saltmarsh", by, pupil)
		if err != nil {
			t.Fatal(err)
		}
		_, known := d.known.thread("thread-" + pupil + "-" + by)
		if known != ok {
			t.Errorf("%s sees %s: %v, but the thread is known: %v", by, pupil, ok, known)
		}
		return ok
	}
	on.asks = errors.New("a lost link")
	if err := d.Sweep(t.Context(), on); err == nil || !sees(coach, student) || !sees(rival, other) {
		t.Errorf("with the link lost: %v", err)
	}
	on.asks = nil
	if err := d.Sweep(t.Context(), on); err != nil || !sees(coach, student) || !sees(rival, other) {
		t.Errorf("everybody is there: %v", err)
	}
	delete(on.roles, student)
	delete(on.roles, rival)
	if err := d.Sweep(t.Context(), on); err != nil || sees(coach, student) || sees(rival, other) {
		t.Errorf("a student and a coach left: %v", err)
	}
	for pupil, want := range map[string]store.Ending{student: store.Withdrawn, other: store.Unbound} {
		about, err := d.db.ExportStudent(t.Context(), "saltmarsh", pupil, func(store.Session, []byte) error { return nil })
		if err != nil || len(about.Bindings) != 1 || about.Bindings[0].Why != want {
			t.Errorf("%s: %+v, %v, want %s", pupil, about.Bindings, err, want)
		}
	}
	contained(t, "the coach", d.ask(coach, "timeline", "student", student).Text, "not yours to see")
}

// A student who goes to another coach takes everything along: the one before
// sees nothing from that moment, the new one all that is to come.
func TestHandOver(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	before := d.session(student, 10, 0)
	d.days(1)
	d.ask(coach, "lesson", "student", student, "note", "grip")
	d.bind(student, rival)
	contained(t, "the coach before", d.ask(coach, "catch-up", "student", student).Text, "not yours to see")
	contained(t, "their roster", d.ask(coach, "roster").Text, "No student has agreed to you yet")
	contained(t, "the new one's roster", d.ask(rival, "roster").Text, "1 student, none needs you now.", "Nothing to do for now: wren.")
	contained(t, "what was before is history", d.ask(rival, "review").Text, "Nothing left to look at")
	d.days(1)
	after := d.session(student, 10, 0)
	first, more, err := d.db.Unread(t.Context(), "saltmarsh", rival, store.UnreadFilter{})
	if err != nil || first == nil || more != 0 || first.ID != after.ID {
		t.Errorf("to look at: %+v, %d more, %v", first, more, err)
	}
	if reply := d.ask(rival, "timeline", "student", student); reply.Picture == nil {
		t.Errorf("the new coach's timeline: %q", reply.Text)
	}
	contained(t, "an old button", d.press(coach, "looked", everybody, before.ID).Text, "not yours to see")
}
