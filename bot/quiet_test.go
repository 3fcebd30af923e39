package bot

import (
	"context"
	"strings"
	"testing"
	"time"

	"rangepost/bot/record"
	"rangepost/store"
)

func TestQuietHours(t *testing.T) {
	at := func(text string) time.Time {
		t.Helper()
		v, err := time.Parse("15:04", text)
		if err != nil {
			t.Fatal(err)
		}
		return v.AddDate(2026, 5, 0) // in summer, when London is an hour ahead
	}
	for _, tt := range []struct {
		from, until int
		zone        string
		quiet, loud []string
	}{
		{22, 7, "", []string{"22:00", "23:59", "00:00", "06:59"}, []string{"21:59", "07:00", "12:00"}},
		{1, 5, "", []string{"01:00", "04:59"}, []string{"00:59", "05:00", "23:00"}},
		{22, 7, "Europe/London", []string{"21:00", "05:59"}, []string{"20:59", "06:00"}},
		{9, 9, "", nil, []string{"08:59", "09:00", "09:01"}},
	} {
		c := store.Clubhouse{TimeZone: tt.zone, QuietFrom: tt.from * 60, QuietUntil: tt.until * 60}
		for _, text := range tt.quiet {
			if !record.Quiet(c, at(text)) {
				t.Errorf("%d to %d %s: loud at %s UTC", tt.from, tt.until, tt.zone, text)
			}
		}
		for _, text := range tt.loud {
			if record.Quiet(c, at(text)) {
				t.Errorf("%d to %d %s: quiet at %s UTC", tt.from, tt.until, tt.zone, text)
			}
		}
	}
}

// board keeps the notices that are put on it.
type board struct {
	crowd
	posts []string
}

func (b *board) Put(_ context.Context, _, _ string, reply Reply) (string, error) {
	b.posts = append(b.posts, reply.Text)
	return "message", nil
}

func (b *board) Edit(context.Context, string, string, Reply) error { return nil }

// A weekly message, and who won by the clock, wait for the end of the quiet
// hours; who closes by hand hears at once.
func TestNothingIsSaidInQuietHours(t *testing.T) {
	d, on := newDesktop(t), &board{crowd: *present()}
	tick := func() {
		t.Helper()
		if err := d.Tick(t.Context(), on); err != nil {
			t.Fatal(err)
		}
	}
	said := func(what string) (n int) {
		for _, text := range on.posts {
			if strings.Contains(text, what) {
				n++
			}
		}
		return n
	}
	contained(t, "set", d.ask(manager, "clubhouse quiet", "from", "22", "until", "7").Text, "Quiet hours: 22:00 to 07:00.")
	contained(t, "no hour", d.ask(manager, "clubhouse quiet", "from", "24", "until", "7").Text, "Option 'from': that is no hour.")
	d.ask(manager, "clubhouse channel", "channel", "contests")
	for _, name := range []string{"By the clock", "By hand"} {
		more := []string{"name", name, "rule", "narrow", "club", "7i", "balls", "10"}
		if name == "By the clock" {
			more = append(more, "until", "2026-06-01 23:00")
		}
		contained(t, name, d.ask(manager, "challenge open", more...).Text, "**"+name+"**")
	}
	tick()
	d.ask(coach, "digest", "day", "1", "hour", "23") // today is a Monday
	d.bind(student, coach)
	d.session(student, 10, 0)

	d.now = time.Date(2026, time.June, 1, 23, 30, 0, 0, time.UTC)
	list := func() []store.Challenge {
		t.Helper()
		all, err := d.db.Challenges(t.Context(), "saltmarsh", false, 10)
		if err != nil {
			t.Fatal(err)
		}
		return all
	}
	for _, c := range list() {
		if c.Name == "By hand" {
			d.ask(manager, "challenge close", "challenge", c.ID)
		}
	}
	tick()
	if len(on.sent) != 0 || said("**By the clock** is over") != 0 || said("**By hand** is over") != 1 {
		t.Errorf("in quiet hours: %q, %q", on.sent, on.posts)
	}
	for _, c := range list() {
		if c.Closed.IsZero() {
			t.Errorf("%s is still open: quiet hours hold back the word, not the end", c.Name)
		}
	}
	d.now = time.Date(2026, time.June, 2, 7, 0, 0, 0, time.UTC)
	tick()
	tick()
	if len(on.sent) != 1 || said("**By the clock** is over") != 1 || said("**By hand** is over") != 1 {
		t.Errorf("after them: %q, %q", on.sent, on.posts)
	}
}
