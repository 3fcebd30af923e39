package bot

import (
	"errors"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/store"
)

// Each page of setting up is done by a bot that has just been started, and what
// it set is there for the next one.
func TestSetupOutlivesRestarts(t *testing.T) {
	now := time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)
	b, _ := alone(t, func() time.Time { return now })
	do := func(r Request) Reply {
		t.Helper()
		fresh, err := New(t.Context(), Config{DB: b.db, Now: b.now, Log: b.log, Fetch: b.fetch})
		if err != nil {
			t.Fatal(err)
		}
		return fresh.Handle(t.Context(), as(manager, r))
	}
	people := map[string]Person{"fern": {ID: "fern", Name: "Fern"}}
	choices := map[string][]Request{
		"coach":   {{Kind: ChooseRequest, Path: path("setting", "coach", "-"), Values: []string{"coaches"}}},
		"zone":    {{Kind: SubmitRequest, Path: path("setting", "zone", "-"), Fields: map[string]string{"text": "Europe/Lisbon"}}},
		"units":   {{Kind: PressRequest, Path: path("setting", "units", "m mph")}},
		"quiet":   {{Kind: ChooseRequest, Path: path("setting", "quiet", "-"), Values: []string{"21 8"}}},
		"juniors": {{Kind: PressRequest, Path: path("setting", "juniors", "show")}, {Kind: ChooseRequest, Path: path("setting", "juniors", "-"), Values: []string{"fern"}, People: people}},
		"keep":    {{Kind: ChooseRequest, Path: path("setting", "keep", "-"), Values: []string{"90"}}, {Kind: PressRequest, Path: path("setting", "keep", "90")}},
		"channel": {{Kind: ChooseRequest, Path: path("setting", "channel", "-"), Values: []string{"contests", "more"}}},
	}
	at := do(Request{Kind: CommandRequest, Command: "clubhouse setup"})
	for _, s := range steps() {
		contained(t, s.name, at.Text, s.title)
		for _, r := range choices[s.name] {
			at = do(r)
			contained(t, s.name, at.Text, s.title)
		}
		turn := at.Rows[len(at.Rows)-1].Buttons
		at = do(Request{Kind: PressRequest, Path: turn[len(turn)-1].Path})
	}
	contained(t, "the last page", at.Text, "Set up.")
	house, err := b.db.Clubhouse(t.Context(), "saltmarsh")
	if err != nil {
		t.Fatal(err)
	}
	got := houseText(house)
	for _, want := range []string{"<@&coaches>", "metres and mph", "<#contests>, <#more>", "Europe/Lisbon", "21:00 to 08:00", "90 days", "named in standings, and"} {
		contained(t, "the settings", got, want)
	}
	if fern, err := b.db.Student(t.Context(), "saltmarsh", "fern"); err != nil || !fern.Junior {
		t.Errorf("Fern is a junior: %v, %v", fern.Junior, err)
	}
	// Skipping all of it changes nothing.
	for at = do(Request{Kind: CommandRequest, Command: "clubhouse setup"}); !strings.HasPrefix(at.Text, "Set up."); {
		turn := at.Rows[len(at.Rows)-1].Buttons
		if label := turn[len(turn)-1].Label; label != "Skip" {
			t.Fatalf("%s on %q", label, at.Text)
		}
		at = do(Request{Kind: PressRequest, Path: turn[len(turn)-1].Path})
	}
	if after, err := b.db.Clubhouse(t.Context(), "saltmarsh"); err != nil || houseText(after) != got {
		t.Errorf("after skipping: %s, %v", houseText(after), err)
	}
}

// Nothing of what the menus do not offer is set.
func TestSetupRefuses(t *testing.T) {
	d := newDesktop(t)
	before, err := d.db.Clubhouse(t.Context(), "saltmarsh")
	if err != nil {
		t.Fatal(err)
	}
	for _, r := range []Request{
		{Kind: ChooseRequest, Path: path("setting", "coach", "-"), Values: []string{"saltmarsh"}}, // everybody's role
		{Kind: ChooseRequest, Path: path("setting", "coach", "-"), Values: nil},                   // a role of somewhere else
		{Kind: ChooseRequest, Path: path("setting", "zone", "0"), Values: []string{"Local"}},
		{Kind: PressRequest, Path: path("setting", "units", "ells mph")},
		{Kind: ChooseRequest, Path: path("setting", "quiet", "-"), Values: []string{"25 7"}},
		{Kind: ChooseRequest, Path: path("setting", "quiet", "-"), Values: []string{"7"}},
		{Kind: ChooseRequest, Path: path("setting", "juniors", "-"), Values: []string{"nobody"}},
		{Kind: PressRequest, Path: path("setting", "keep", "1")},
		{Kind: ChooseRequest, Path: path("setting", "keep", "-"), Values: []string{"365"}}, // asked first
		{Kind: PressRequest, Path: path("setting", "thread", "x")},
		{Kind: PressRequest, Path: path("setup", "nothing")},
		{Kind: PressRequest, Path: path("thread", "never-heard-of")},
	} {
		who := manager
		if strings.Contains(r.Path, "v1/thread") {
			who = coach
		}
		reply := d.Handle(t.Context(), as(who, r))
		if strings.Contains(reply.Text, "Noted") || strings.Contains(reply.Text, "I open") || strings.Contains(reply.Text, "went wrong") {
			t.Errorf("%s %v: %q", r.Path, r.Values, reply.Text)
		}
	}
	if after, err := d.db.Clubhouse(t.Context(), "saltmarsh"); err != nil || houseText(after) != houseText(before) {
		t.Errorf("the settings changed to %s, %v", houseText(after), err)
	}
	if wanted, err := d.db.Openings(t.Context()); err != nil || len(wanted) > 0 {
		t.Errorf("threads are wanted: %+v, %v", wanted, err)
	}
}

// Wherever opening a lesson thread breaks off, there is one thread in the end
// and one question in it.
func TestThreadIsOpenedOnce(t *testing.T) {
	broken := errors.New("the link is down")
	for _, c := range []struct {
		name  string
		spoil func(*crowd)
	}{
		{"nothing fails", func(*crowd) {}},
		{"it cannot be opened", func(on *crowd) { on.noOpen = broken }},
		{"nothing can be posted in it", func(on *crowd) { on.noPost = broken }},
	} {
		t.Run(c.name, func(t *testing.T) {
			d := newDesktop(t)
			offered := d.Handle(t.Context(), as(coach, Request{
				Kind: CommandRequest, Command: "bind", Options: map[string]string{"student": "fern"}, People: map[string]Person{"fern": {ID: "fern", Name: "Fern"}},
			}))
			if !offered.Private || len(offered.Rows) != 1 {
				t.Fatalf("outside of a thread: %+v", offered)
			}
			contained(t, "pressed", d.press(coach, "thread", "fern").Text, "I open a private thread for <@fern>")
			contained(t, "pressed again", d.press(coach, "thread", "fern").Text, "I open a private thread for <@fern>")
			on := present()
			c.spoil(on)
			for range 2 {
				if err := d.Tick(t.Context(), on); err != nil != (c.name != "nothing fails") {
					t.Fatal(err)
				}
			}
			on.noOpen, on.noPost = nil, nil
			for range 2 {
				if err := d.Tick(t.Context(), on); err != nil {
					t.Fatal(err)
				}
			}
			if !slices.Equal(on.open, []string{"thread-of-Fern"}) || len(on.slips) != 1 || on.slips[0].channel != "thread-of-Fern" {
				t.Fatalf("threads %v, messages %+v", on.open, on.slips)
			}
			if left, err := d.db.Openings(t.Context()); err != nil || len(left) > 0 {
				t.Errorf("still wanted: %+v, %v", left, err)
			}
			asked := on.slips[0].reply
			contained(t, "the question", asked.Text, "<@fern>: <@coach> asks to be your coach")
			agree := as("fern", Request{Kind: PressRequest, Path: asked.Rows[0].Buttons[0].Path, Channel: "thread-of-Fern", Thread: true})
			contained(t, "consent", d.Handle(t.Context(), agree).Text, "Agreed")
		})
	}
}

// Of a student who is forgotten no thread is opened any more, and none of the
// coach's who is.
func TestWantedThreadIsForgotten(t *testing.T) {
	for _, gone := range []string{"fern", coach} {
		d := newDesktop(t)
		if err := d.db.SetName(t.Context(), "saltmarsh", "fern", "Fern"); err != nil {
			t.Fatal(err)
		}
		d.press(coach, "thread", "fern")
		d.Handle(t.Context(), as(coach, Request{Kind: PressRequest, Path: path("thread", "fern"), Channel: "lessons"})) // rather here
		if wanted, err := d.db.Openings(t.Context()); err != nil || len(wanted) != 1 || wanted[0].Channel != "lessons" {
			t.Fatalf("wanted: %+v, %v", wanted, err)
		}
		if err := d.db.ForgetStudent(t.Context(), "saltmarsh", gone); err != nil && !errors.Is(err, store.ErrNotFound) {
			t.Fatal(err)
		}
		on := present()
		if err := d.Tick(t.Context(), on); err != nil || len(on.open) > 0 {
			t.Errorf("%s is forgotten: opened %v, %v", gone, on.open, err)
		}
	}
}

// Who opens a challenge where nobody set the time zone is told by which clock it
// ends.
func TestChallengeWithoutZone(t *testing.T) {
	d := newDesktop(t)
	d.ask(manager, "clubhouse channel")
	open := func() string {
		return d.ask(coach, "challenge open", "name", "Straightest", "rule", "narrow", "club", "7i", "balls", "10", "until", "2026-06-14 19:00").Text
	}
	contained(t, "without a zone", open(), "Nobody has set this server's time zone, so I take UTC, where it is 09:0")
	d.ask(manager, "clubhouse zone", "zone", "UTC")
	if said := open(); strings.Contains(said, "Nobody has set") {
		t.Errorf("with a zone: %q", said)
	}
}
