package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

// A corkboard is where messages hang. Like the platform it posts a nonce once,
// and says no to what it was told to.
type corkboard struct {
	noPost, noPin error
	slips         []*slip
}

type slip struct {
	id, channel, nonce string
	reply              Reply
	pinned, gone       bool
	edits              int
}

func (c *corkboard) Put(_ context.Context, channel, nonce string, reply Reply) (string, error) {
	if c.noPost != nil {
		return "", c.noPost
	}
	if len(nonce) > 25 {
		return "", errors.New("the platform takes no such nonce")
	}
	for _, s := range c.slips {
		if s.channel == channel && s.nonce == nonce {
			return s.id, nil
		}
	}
	c.slips = append(c.slips, &slip{id: fmt.Sprintf("10000%d", len(c.slips)), channel: channel, nonce: nonce, reply: reply})
	return c.slips[len(c.slips)-1].id, nil
}

func (c *corkboard) find(channel, message string) (*slip, error) {
	for _, s := range c.slips {
		if s.id == message && s.channel == channel && !s.gone {
			return s, nil
		}
	}
	return nil, ErrNoMessage
}

func (c *corkboard) Edit(_ context.Context, channel, message string, reply Reply) error {
	s, err := c.find(channel, message)
	if err == nil {
		s.reply, s.edits = reply, s.edits+1
	}
	return err
}

func (c *corkboard) Pin(_ context.Context, channel, message string) error {
	s, err := c.find(channel, message)
	if err == nil && c.noPin == nil {
		s.pinned = true
	}
	return errors.Join(err, c.noPin)
}

func (c *corkboard) Delete(_ context.Context, channel, message string) error {
	s, err := c.find(channel, message)
	if err == nil {
		s.gone = true
	}
	return err
}

// hanging are the slips with a student's buttons that are there.
func (c *corkboard) hanging() (all []*slip) {
	for _, s := range c.slips {
		if !s.gone && len(s.reply.Rows) == 1 && s.reply.Rows[0].Buttons[0].Label == "Post a session" {
			all = append(all, s)
		}
	}
	return all
}

// TestPinned follows the message of a lesson thread from consent to its end.
func TestPinned(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	d.bind(other, coach)
	on := present()
	tick := func() {
		t.Helper()
		if err := d.Tick(t.Context(), on); err != nil {
			t.Fatal(err)
		}
	}
	tick()
	if n := len(on.hanging()); n != 2 {
		t.Errorf("%d hang, want 2", n)
	}
	for _, s := range on.hanging() {
		if !s.pinned || !strings.HasPrefix(s.reply.Text, "<@"+student) && !strings.HasPrefix(s.reply.Text, "<@"+other) || len(s.reply.Notify) > 0 {
			t.Errorf("hanging: %+v", s)
		}
	}
	began := len(on.slips)
	asked, err := d.db.AskConsent(t.Context(), "saltmarsh", "fresh", "fern", coach)
	if err != nil {
		t.Fatal(err)
	}
	tick()
	if len(on.slips) != began {
		t.Error("something was posted before consent")
	}
	agree := as("fern", Request{Kind: PressRequest, Path: path("consent", asked.ID, "give"), Channel: "fresh"})
	contained(t, "consent", d.Handle(t.Context(), agree).Text, "Agreed")
	for range 3 {
		tick()
	}
	hers := on.slips[began]
	if len(on.slips) != began+1 || !hers.pinned || hers.channel != "fresh" || hers.edits != 0 {
		t.Fatalf("after consent: %+v", on.slips[began:])
	}
	var labels []string
	for _, b := range hers.reply.Rows[0].Buttons {
		labels = append(labels, b.Label)
	}
	if !slices.Equal(labels, []string{"Post a session", "My task", "How am I doing"}) {
		t.Errorf("its buttons: %q", labels)
	}

	// Somebody deletes it: nobody is told, and /bind brings it back.
	hers.gone = true
	tick()
	if len(on.slips) != began+1 {
		t.Error("it came back by itself")
	}
	again := as(coach, Request{Kind: CommandRequest, Command: "bind", Options: map[string]string{"student": "fern"}, Channel: "fresh", Thread: true,
		People: map[string]Person{"fern": {ID: "fern", Name: "Fern"}}})
	contained(t, "bind", d.Handle(t.Context(), again).Text, "agreed to this")
	tick()
	if len(on.slips) != began+2 || !on.slips[began+1].pinned {
		t.Fatalf("after /bind: %+v", on.slips[began:])
	}

	d.Handle(t.Context(), as("fern", Request{Kind: PressRequest, Path: path("consent", asked.ID, "end")}))
	tick()
	if !on.slips[began+1].gone {
		t.Error("consent is taken back and the message stays")
	}
	if due, err := d.db.DuePins(t.Context()); err != nil || len(due) > 0 {
		t.Errorf("%v still wait, %v", due, err)
	}
}

// TestUnpinned says what happens where the bot may not pin, or not post: the
// coach is told once of all threads, and nothing is tried over and over.
func TestUnpinned(t *testing.T) {
	for name, fault := range map[string]error{"pinning": ErrRefused, "posting": ErrNoChannel} {
		t.Run(name, func(t *testing.T) {
			d := newDesktop(t)
			d.bind(student, coach)
			d.bind(other, coach)
			on := present()
			if name == "pinning" {
				on.noPin = fault
			} else {
				on.noPost = fault
			}
			bound, err := d.db.LiveBindings(t.Context())
			if err != nil || len(bound) < 2 {
				t.Fatal(len(bound), err)
			}
			for range 3 {
				if err := d.Tick(t.Context(), on); err != nil {
					t.Fatal(err)
				}
			}
			told := slices.DeleteFunc(slices.Clone(on.sent), func(s string) bool { return !strings.Contains(s, "Pin Messages") })
			if want := map[string]int{"pinning": 1, "posting": 0}[name]; len(told) != want {
				t.Errorf("told %d times, want %d: %q", len(told), want, told)
			}
			for _, s := range on.hanging() {
				if s.pinned || s.edits > 0 || name == "posting" || !strings.Contains(told[0], "<#"+s.channel+">") || !strings.HasPrefix(told[0], coach) {
					t.Errorf("hanging %+v, told %q", s, told)
				}
			}
			// The next start tries again what could not be posted.
			on.noPost, on.noPin = nil, nil
			if err := d.db.WantMissingPins(t.Context()); err != nil {
				t.Fatal(err)
			}
			if err := d.Tick(t.Context(), on); err != nil {
				t.Fatal(err)
			}
			if n := len(on.hanging()); n != len(bound) {
				t.Errorf("%d hang after the next start, want %d", n, len(bound))
			}
		})
	}
}

// TestPinnedInQuietHours holds the message back in quiet hours, unless consent
// has just been given.
func TestPinnedInQuietHours(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	d.bind(other, coach)
	on := present()
	d.ask(manager, "clubhouse quiet", "from", "22", "until", "7")
	d.now = time.Date(2026, time.July, 1, 23, 0, 0, 0, time.UTC) // consent was given a month ago
	tick := func() {
		t.Helper()
		if err := d.Tick(t.Context(), on); err != nil {
			t.Fatal(err)
		}
	}
	tick()
	if n := len(on.hanging()); n != 0 {
		t.Errorf("%d hang in quiet hours", n)
	}
	asked, err := d.db.AskConsent(t.Context(), "saltmarsh", "fresh", "fern", coach)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := d.db.GiveConsent(t.Context(), "saltmarsh", asked.ID, "fern"); err != nil {
		t.Fatal(err)
	}
	tick()
	if all := on.hanging(); len(all) != 1 || all[0].channel != "fresh" {
		t.Errorf("hanging just after consent: %+v", all)
	}
	d.now = d.now.Add(9 * time.Hour)
	tick()
	if n := len(on.hanging()); n != 3 {
		t.Errorf("%d hang in the morning", n)
	}
}

// TestForgottenPin takes the message away of somebody who had everything
// deleted.
func TestForgottenPin(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	d.bind(other, coach)
	on := present()
	if err := d.Tick(t.Context(), on); err != nil {
		t.Fatal(err)
	}
	before := len(on.hanging())
	if err := d.db.ForgetStudent(t.Context(), "saltmarsh", student); err != nil {
		t.Fatal(err)
	}
	if err := d.Tick(t.Context(), on); err != nil {
		t.Fatal(err)
	}
	all := on.hanging()
	if len(all) != before-1 || slices.ContainsFunc(all, func(s *slip) bool { return strings.Contains(s.reply.Text, "<@"+student+">") }) {
		t.Errorf("%d hang, of %d before: %+v", len(all), before, all)
	}
}
