package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/store"
)

func TestLessons(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	now, err := db.AddLesson(t.Context(), store.Lesson{Server: saltmarsh, Student: wren, Coach: coach, Lesson: analysis.Lesson{Note: "handle forward"}})
	if err != nil {
		t.Fatal(err)
	}
	before, err := db.AddLesson(t.Context(), store.Lesson{Server: saltmarsh, Student: wren, Coach: coach, Lesson: analysis.Lesson{At: c.at.AddDate(0, 0, -7), Note: "aim"}})
	if err != nil {
		t.Fatal(err)
	}
	want := []store.Lesson{
		{ID: before.ID, Server: saltmarsh, Student: wren, Coach: coach, Lesson: analysis.Lesson{At: c.at.AddDate(0, 0, -7), Note: "aim"}},
		{ID: now.ID, Server: saltmarsh, Student: wren, Coach: coach, Lesson: analysis.Lesson{At: c.at, Note: "handle forward"}},
	}
	got, err := db.Lessons(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("lessons (-want +got):\n%s", d)
	}
	for _, not := range [][2]string{{elsewhere, wren}, {saltmarsh, tamsin}} {
		if err := db.DeleteLesson(t.Context(), not[0], not[1], now.ID); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("deleted as %v: %v, want ErrNotFound", not, err)
		}
	}
	if err := db.DeleteLesson(t.Context(), saltmarsh, wren, now.ID); err != nil {
		t.Fatal(err)
	}
	if got, err = db.Lessons(t.Context(), saltmarsh, wren); err != nil || len(got) != 1 {
		t.Errorf("after deleting one: %v, %v", got, err)
	}
}

func TestBriefs(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	if _, err := db.ActiveBrief(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("without a brief: %v, want ErrNotFound", err)
	}
	set := func(b store.Brief) store.Brief {
		t.Helper()
		b.Server, b.Student, b.Coach = saltmarsh, wren, coach
		got, err := db.SetBrief(t.Context(), b)
		if err != nil {
			t.Fatal(err)
		}
		c.add(time.Hour)
		return got
	}
	active := func(want store.Brief) {
		t.Helper()
		got, err := db.ActiveBrief(t.Context(), saltmarsh, wren)
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("active brief (-want +got):\n%s", d)
		}
	}
	first := set(store.Brief{Brief: analysis.Brief{Number: analysis.FaceToPath, Low: ptr(-0.02), High: ptr(0.0)}})
	active(first)
	second := set(store.Brief{Brief: analysis.Brief{Number: analysis.Attack, High: ptr(-0.05), Club: club(t, "7i"), Balls: 30, Until: c.at.AddDate(0, 0, 14)}})
	active(second)
	c.at = second.Until
	active(second) // its last moment
	c.add(time.Millisecond)
	if _, err := db.ActiveBrief(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("after its date: %v, want ErrNotFound", err)
	}
	third := set(store.Brief{Brief: analysis.Brief{Number: analysis.Path, Low: ptr(0.01)}})
	active(third)
	if err := db.EndBrief(t.Context(), saltmarsh, wren); err != nil {
		t.Fatal(err)
	}
	if _, err := db.ActiveBrief(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("after it was ended: %v, want ErrNotFound", err)
	}
	if err := db.EndBrief(t.Context(), saltmarsh, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("ended twice: %v, want ErrNotFound", err)
	}
	first.Ended, second.Ended, third.Ended = second.At, third.At, c.at
	all, err := db.Briefs(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]store.Brief{first, second, third}, all); d != "" {
		t.Errorf("history (-want +got):\n%s", d)
	}
	for name, b := range map[string]store.Brief{
		"number": {Brief: analysis.Brief{Number: analysis.Number(analysis.NumNumbers)}},
		"club":   {Brief: analysis.Brief{Club: analysis.Club{Family: analysis.Wood, Number: 99}}},
	} {
		if _, err := db.SetBrief(t.Context(), b); err == nil {
			t.Errorf("a brief on an unknown %s was set", name)
		}
	}
}

func TestRoster(t *testing.T) {
	c := newClock()
	db, r := open(t, store.WithClock(c.now)), seeded()
	b1 := bind(t, db, "thread-1", wren, coach)
	c.add(time.Second)
	b2 := bind(t, db, "thread-2", tamsin, coach)
	if _, err := db.AskConsent(t.Context(), saltmarsh, "thread-3", odell, coach); err != nil {
		t.Fatal(err)
	}
	if err := db.SetName(t.Context(), saltmarsh, wren, "Wren"); err != nil {
		t.Fatal(err)
	}
	day := func(n int) time.Time { return c.at.Truncate(24*time.Hour).AddDate(0, 0, n) }
	old := post(t, db, r, saltmarsh, wren, day(-20), 7)
	if err := db.LookedAt(t.Context(), saltmarsh, coach, old.ID); err != nil {
		t.Fatal(err)
	}
	if err := db.LookedAt(t.Context(), saltmarsh, rival, old.ID); err != nil {
		t.Fatal(err)
	}
	lesson, err := db.AddLesson(t.Context(), store.Lesson{Server: saltmarsh, Student: wren, Coach: coach, Lesson: analysis.Lesson{At: day(-10)}})
	if err != nil {
		t.Fatal(err)
	}
	// A lesson agreed for next week has not been given.
	coming, err := db.AddLesson(t.Context(), store.Lesson{Server: saltmarsh, Student: wren, Coach: coach, Lesson: analysis.Lesson{At: day(7)}})
	if err != nil {
		t.Fatal(err)
	}
	brief, err := db.SetBrief(t.Context(), store.Brief{Server: saltmarsh, Student: wren, Coach: coach, Brief: analysis.Brief{Number: analysis.Path, Club: club(t, "7i")}})
	if err != nil {
		t.Fatal(err)
	}
	c.add(time.Hour)
	second := post(t, db, r, saltmarsh, wren, day(-3), 11)
	c.add(time.Hour)
	last := post(t, db, r, saltmarsh, wren, day(-5), 13) // hit before, posted after
	post(t, db, r, elsewhere, wren, day(-1), 17)
	values, err := db.Values(t.Context(), saltmarsh, wren, store.ValuesFilter{Number: analysis.Path})
	if err != nil || len(values) != 3 || values[0].Session != old.ID {
		t.Fatalf("values: %v, %v", values, err)
	}
	student := func(id string) store.Student {
		s, err := db.Student(t.Context(), saltmarsh, id)
		if err != nil {
			t.Fatal(err)
		}
		return s
	}
	recent, err := db.Recent(t.Context(), b1, 5)
	if err != nil || len(recent) < 2 {
		t.Fatal(recent, err)
	}
	want := []store.RosterLine{
		{Binding: b1, Student: student(wren), Last: &last.SessionInfo, Lesson: &lesson, Lessons: []store.Lesson{lesson, coming}, Balls: 24, Unread: 2, Oldest: second.Posted, Recent: recent, Brief: &brief, Number: analysis.Path, Values: values},
		{Binding: b2, Student: student(tamsin), Number: analysis.FaceToPath},
	}
	got, err := db.Roster(t.Context(), saltmarsh, coach)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(want, got); d != "" {
		t.Errorf("roster (-want +got):\n%s", d)
	}
	if got, err := db.Roster(t.Context(), saltmarsh, rival); err != nil || len(got) != 0 {
		t.Errorf("another coach's roster: %v, %v", got, err)
	}
	if got, err := db.Roster(t.Context(), elsewhere, coach); err != nil || len(got) != 0 {
		t.Errorf("roster on another server: %v, %v", got, err)
	}
}
