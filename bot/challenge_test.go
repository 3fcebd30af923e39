package bot

import (
	"strings"
	"testing"
	"time"

	"rangepost/bot/record"
)

// The clock of London: forward at 01:00 GMT on 29 March 2026, back at 02:00 BST
// on 25 October (the Summer Time Order 2002 [M]).
func TestDeadlines(t *testing.T) {
	london, err := time.LoadLocation("Europe/London")
	if err != nil {
		t.Fatal(err)
	}
	lordHowe, err := time.LoadLocation("Australia/Lord_Howe") // half an hour back and forth
	if err != nil {
		t.Fatal(err)
	}
	now := time.Date(2026, time.March, 1, 0, 0, 0, 0, time.UTC)
	for _, c := range []struct {
		text string
		zone *time.Location
		want string // UTC
	}{
		{"2026-06-10 18:00", london, "2026-06-10 17:00"},
		{"2026-06-10", london, "2026-06-10 23:00"},
		{"2026-12-10 18:00", london, "2026-12-10 18:00"},
		{"2026-03-29 00:59", london, "2026-03-29 00:59"},
		{"2026-03-29 01:30", london, "2026-03-29 01:30"}, // never shown; 02:30 BST
		{"2026-03-29 02:00", london, "2026-03-29 01:00"},
		{"2026-03-28", london, "2026-03-29 00:00"},
		{"2026-03-29", london, "2026-03-29 23:00"}, // 23 hours later
		{"2026-10-25 00:59", london, "2026-10-24 23:59"},
		{"2026-10-25 01:30", london, "2026-10-25 00:30"}, // shown twice; the first
		{"2026-10-25 02:00", london, "2026-10-25 02:00"},
		{"2026-10-25", london, "2026-10-26 00:00"},
		{"2026-04-05 01:45", lordHowe, "2026-04-04 14:45"}, // shown twice
		{"2026-10-04 02:15", lordHowe, "2026-10-03 15:45"}, // never shown
		{" 2026-06-10 ", time.UTC, "2026-06-11 00:00"},
	} {
		got, err := deadline(c.text, c.zone, now)
		if err != nil || got.UTC().Format(deadlineForm) != c.want {
			t.Errorf("%q on the clock of %v is %v, %v, want %s", c.text, c.zone, got.UTC(), err, c.want)
		}
	}
	if none, err := deadline("", london, now); err != nil || !none.IsZero() {
		t.Errorf("nothing said: %v, %v", none, err)
	}
	for _, text := range []string{"2026-02-28", "2027-06-01", "Sunday", "18:00", "2026-13-01"} {
		if got, err := deadline(text, london, now); err == nil {
			t.Errorf("%q is %v", text, got)
		}
	}
}

// A junior is in the standings and not named there; nor is anybody who took
// their data back.
func TestPlayerNames(t *testing.T) {
	for _, c := range []struct {
		p    record.Player
		want string
	}{
		{record.Player{ID: "wren", Name: "Wren"}, "Wren"},
		{record.Player{}, "A former member"},
		{record.Player{ID: "nameless"}, "A member"},
		{record.Player{ID: "wren", Name: "Wren", Junior: true}, "A junior"},
	} {
		if got := playerName(c.p); got != c.want {
			t.Errorf("%+v is called %q, want %q", c.p, got, c.want)
		}
	}
}

// Two of one name could not be told apart in a list, or where one is called off.
func TestOneNameOnce(t *testing.T) {
	d := newDesktop(t)
	d.ask(manager, "clubhouse channel", "channel", "contests")
	for _, c := range []struct {
		command []string
		second  string
	}{
		{[]string{"challenge open", "name", "Straightest", "rule", "narrow", "club", "7i", "balls", "10"}, "A challenge called straightest is open."},
		{[]string{"season open", "name", "Winter", "clubname", "Saltmarsh Links", "until", "2026-09-30"}, "There is a season called winter."},
	} {
		if said := d.ask(manager, c.command[0], c.command[1:]...).Text; strings.Contains(said, "another name") {
			t.Fatal(said)
		}
		c.command[2] = strings.ToLower(c.command[2])
		contained(t, c.command[0], d.ask(manager, c.command[0], c.command[1:]...).Text, c.second)
	}
}
