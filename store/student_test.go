package store_test

import (
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

func TestStudent(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	since := c.at
	want := store.Student{Server: saltmarsh, ID: wren, Since: since}
	check := func(what string, err error) {
		t.Helper()
		if err != nil {
			t.Fatalf("%s: %v", what, err)
		}
		got, err := db.Student(t.Context(), saltmarsh, wren)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", what, d)
		}
		c.add(time.Hour)
	}
	check("new", nil)
	want.Name = "Wren @everyone"
	check("SetName", db.SetName(t.Context(), saltmarsh, wren, want.Name))
	want.Hand = ptr(analysis.LeftHanded)
	check("SetHand left", db.SetHand(t.Context(), saltmarsh, wren, analysis.LeftHanded))
	want.Hand = ptr(analysis.RightHanded) // said to be right is not the same as not said
	check("SetHand right", db.SetHand(t.Context(), saltmarsh, wren, analysis.RightHanded))
	want.Units = analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}
	check("SetUnits", db.SetUnits(t.Context(), saltmarsh, wren, want.Units))
	want.Units.Speed = ""
	check("SetUnits back", db.SetUnits(t.Context(), saltmarsh, wren, analysis.Units{Distance: analysis.Metres}))
	want.Units.Distance = ""
	check("SetUnits all back", db.SetUnits(t.Context(), saltmarsh, wren, analysis.Units{}))
	want.Junior = true
	check("SetJunior", db.SetJunior(t.Context(), saltmarsh, wren, true))

	if err := db.SetUnits(t.Context(), saltmarsh, wren, analysis.Units{Distance: "furlong"}); err == nil {
		t.Error("a furlong was kept")
	}
	other, err := db.Student(t.Context(), elsewhere, wren)
	if err != nil || other.Hand != nil || other.Name != "" {
		t.Errorf("the same person on another server: %+v, %v", other, err)
	}
}

func TestClubhouse(t *testing.T) {
	db := open(t)
	got, err := db.Clubhouse(t.Context(), saltmarsh)
	if err != nil {
		t.Fatal(err)
	}
	want := store.Clubhouse{Server: saltmarsh, Units: analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}, JuniorsPrivate: true}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("never set up (-want +got):\n%s", d)
	}
	want = store.Clubhouse{
		Server: saltmarsh, CoachRole: "role-1", ChallengeChannels: []string{"channel-1", "channel-2"},
		Units: analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}, TimeZone: "Europe/Stockholm",
		QuietFrom: 22 * 60, QuietUntil: 7 * 60, RetentionDays: 365,
	}
	for range 2 { // the second time over the first
		if err := db.SetClubhouse(t.Context(), want); err != nil {
			t.Fatal(err)
		}
	}
	if got, err = db.Clubhouse(t.Context(), saltmarsh); err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("set up (-want +got):\n%s", d)
	}
	all, err := db.Clubhouses(t.Context())
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]store.Clubhouse{want}, all); d != "" {
		t.Errorf("all (-want +got):\n%s", d)
	}
}

func TestServersOf(t *testing.T) {
	db := open(t)
	for _, where := range []string{saltmarsh, elsewhere, ""} { // direct messages are no server
		if _, err := db.Student(t.Context(), where, wren); err != nil {
			t.Fatal(err)
		}
	}
	if _, err := db.Student(t.Context(), "server-third", tamsin); err != nil {
		t.Fatal(err)
	}
	got, err := db.ServersOf(t.Context(), wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]string{elsewhere, saltmarsh}, got); d != "" {
		t.Errorf("servers (-want +got):\n%s", d)
	}
}
