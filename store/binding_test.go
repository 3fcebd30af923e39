package store_test

import (
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/store"
)

func maySee(t *testing.T, db *store.DB, server, coach, student string) bool {
	t.Helper()
	ok, err := db.MaySee(t.Context(), server, coach, student)
	if err != nil {
		t.Fatal(err)
	}
	return ok
}

// bind asks and gives consent.
func bind(tb testing.TB, db *store.DB, thread, student, coach string) store.Binding {
	tb.Helper()
	asked, err := db.AskConsent(tb.Context(), saltmarsh, thread, student, coach)
	if err != nil {
		tb.Fatal(err)
	}
	given, err := db.GiveConsent(tb.Context(), saltmarsh, asked.ID, student)
	if err != nil {
		tb.Fatal(err)
	}
	return given
}

// From asking to taking back: the coach sees exactly while consent stands.
func TestConsent(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	asked, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", wren, coach)
	if err != nil {
		t.Fatal(err)
	}
	want := store.Binding{ID: asked.ID, Server: saltmarsh, Student: wren, Coach: coach, Thread: "thread-1", Asked: c.at}
	if d := cmp.Diff(want, asked); d != "" {
		t.Errorf("asked (-want +got):\n%s", d)
	}
	if maySee(t, db, saltmarsh, coach, wren) {
		t.Error("the coach sees before consent is given")
	}
	if _, err := db.ThreadBinding(t.Context(), saltmarsh, "thread-1"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("the thread is bound before consent: %v", err)
	}
	c.add(time.Minute)
	if again, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", wren, coach); err != nil || again != asked {
		t.Errorf("asked twice: %+v, %v", again, err)
	}
	for _, by := range []string{coach, tamsin, ""} {
		if _, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, by); !errors.Is(err, store.ErrForbidden) {
			t.Errorf("consent given by %q: %v, want ErrForbidden", by, err)
		}
	}
	if _, err := db.GiveConsent(t.Context(), elsewhere, asked.ID, wren); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("consent given from another server: %v, want ErrNotFound", err)
	}
	given, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren)
	if err != nil {
		t.Fatal(err)
	}
	want.Given = c.at
	for name, find := range map[string]func() (store.Binding, error){
		"returned":   func() (store.Binding, error) { return given, nil },
		"by id":      func() (store.Binding, error) { return db.Binding(t.Context(), saltmarsh, asked.ID) },
		"by thread":  func() (store.Binding, error) { return db.ThreadBinding(t.Context(), saltmarsh, "thread-1") },
		"by student": func() (store.Binding, error) { return db.StudentBinding(t.Context(), saltmarsh, wren) },
	} {
		got, err := find()
		if err != nil {
			t.Errorf("%s: %v", name, err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
	if !maySee(t, db, saltmarsh, coach, wren) {
		t.Error("the coach does not see with consent")
	}
	for _, no := range [][3]string{{elsewhere, coach, wren}, {saltmarsh, rival, wren}, {saltmarsh, coach, tamsin}, {saltmarsh, wren, coach}} {
		if maySee(t, db, no[0], no[1], no[2]) {
			t.Errorf("on %s %s sees %s", no[0], no[1], no[2])
		}
	}
	c.add(time.Minute)
	if again, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren); err != nil || again != given {
		t.Errorf("given twice: %+v, %v", again, err)
	}
	if _, err := db.EndBinding(t.Context(), saltmarsh, asked.ID, tamsin); !errors.Is(err, store.ErrForbidden) {
		t.Errorf("ended by somebody else: %v, want ErrForbidden", err)
	}
	ended, err := db.EndBinding(t.Context(), saltmarsh, asked.ID, wren)
	if err != nil || ended.Why != store.Withdrawn || !ended.Ended.Equal(c.at) {
		t.Errorf("withdrawn: %+v, %v", ended, err)
	}
	if maySee(t, db, saltmarsh, coach, wren) {
		t.Error("the coach sees after consent was taken back")
	}
	if _, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren); !errors.Is(err, store.ErrExpired) {
		t.Errorf("an old button gave consent again: %v, want ErrExpired", err)
	}
	// Asked anew, it is another binding, and the history holds both.
	anew, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", wren, coach)
	if err != nil || anew.ID == asked.ID {
		t.Errorf("asked anew: %+v, %v", anew, err)
	}
	history, err := db.BindingHistory(t.Context(), saltmarsh, wren)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff([]store.Binding{ended, anew}, history); d != "" {
		t.Errorf("history (-want +got):\n%s", d)
	}
}

func TestEndings(t *testing.T) {
	for _, tt := range []struct {
		name  string
		given bool
		by    string
		want  store.Ending
	}{
		{"student says no", false, wren, store.Declined},
		{"student takes it back", true, wren, store.Withdrawn},
		{"coach takes the question back", false, coach, store.Unbound},
		{"coach ends it", true, coach, store.Unbound},
	} {
		t.Run(tt.name, func(t *testing.T) {
			db := open(t)
			b, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", wren, coach)
			if err != nil {
				t.Fatal(err)
			}
			if tt.given {
				if _, err := db.GiveConsent(t.Context(), saltmarsh, b.ID, wren); err != nil {
					t.Fatal(err)
				}
			}
			ended, err := db.EndBinding(t.Context(), saltmarsh, b.ID, tt.by)
			if err != nil || ended.Why != tt.want {
				t.Errorf("EndBinding = %q, %v, want %q", ended.Why, err, tt.want)
			}
			if again, err := db.EndBinding(t.Context(), saltmarsh, b.ID, coach); err != nil || again != ended {
				t.Errorf("ended twice: %+v, %v", again, err)
			}
			if live, err := db.LiveBindings(t.Context()); err != nil || len(live) != 0 {
				t.Errorf("still live: %+v, %v", live, err)
			}
		})
	}
}

// A student has one coach at a time, and a coach who only asks takes nothing
// away from the one who has consent.
func TestOneCoachAtATime(t *testing.T) {
	db := open(t)
	first := bind(t, db, "thread-1", wren, coach)
	asked, err := db.AskConsent(t.Context(), saltmarsh, "thread-2", wren, rival)
	if err != nil {
		t.Fatal(err)
	}
	if !maySee(t, db, saltmarsh, coach, wren) || maySee(t, db, saltmarsh, rival, wren) {
		t.Error("asking changed who may see")
	}
	if _, err := db.GiveConsent(t.Context(), saltmarsh, asked.ID, wren); err != nil {
		t.Fatal(err)
	}
	if maySee(t, db, saltmarsh, coach, wren) || !maySee(t, db, saltmarsh, rival, wren) {
		t.Error("after consent to another coach the first still sees, or the second does not")
	}
	if old, err := db.Binding(t.Context(), saltmarsh, first.ID); err != nil || old.Why != store.Replaced || old.Live() {
		t.Errorf("the first binding: %+v, %v", old, err)
	}
	if live, err := db.CoachBindings(t.Context(), saltmarsh, coach); err != nil || len(live) != 0 {
		t.Errorf("the first coach's bindings: %+v, %v", live, err)
	}
}

func TestOneStudentAThread(t *testing.T) {
	db := open(t)
	pending, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", tamsin, coach)
	if err != nil {
		t.Fatal(err)
	}
	bind(t, db, "thread-1", wren, coach)
	if _, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", odell, rival); !errors.Is(err, store.ErrTaken) {
		t.Errorf("asking for a taken thread: %v, want ErrTaken", err)
	}
	if _, err := db.GiveConsent(t.Context(), saltmarsh, pending.ID, tamsin); !errors.Is(err, store.ErrTaken) {
		t.Errorf("consent for a thread taken meanwhile: %v, want ErrTaken", err)
	}
	// The same thread id on another server is another thread.
	if _, err := db.AskConsent(t.Context(), elsewhere, "thread-1", odell, rival); err != nil {
		t.Errorf("the same id on another server: %v", err)
	}
}

// For a junior the coach records what a guardian decided.
func TestJuniorsGuardian(t *testing.T) {
	db := open(t)
	if err := db.SetJunior(t.Context(), saltmarsh, odell, true); err != nil {
		t.Fatal(err)
	}
	b, err := db.AskConsent(t.Context(), saltmarsh, "thread-1", odell, coach)
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.GiveConsent(t.Context(), saltmarsh, b.ID, rival); !errors.Is(err, store.ErrForbidden) {
		t.Errorf("another coach recorded it: %v, want ErrForbidden", err)
	}
	given, err := db.GiveConsent(t.Context(), saltmarsh, b.ID, coach)
	if err != nil || !given.Guardian || !given.Live() {
		t.Errorf("recorded by the coach: %+v, %v", given, err)
	}
}

func TestLiveBindings(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	one := bind(t, db, "thread-1", wren, coach)
	c.add(time.Second)
	two := bind(t, db, "thread-2", tamsin, coach)
	if _, err := db.AskConsent(t.Context(), saltmarsh, "thread-3", odell, coach); err != nil {
		t.Fatal(err)
	}
	for name, list := range map[string]func() ([]store.Binding, error){
		"LiveBindings":  func() ([]store.Binding, error) { return db.LiveBindings(t.Context()) },
		"CoachBindings": func() ([]store.Binding, error) { return db.CoachBindings(t.Context(), saltmarsh, coach) },
	} {
		got, err := list()
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff([]store.Binding{one, two}, got); d != "" {
			t.Errorf("%s (-want +got):\n%s", name, d)
		}
	}
}
