package store_test

import (
	"context"
	"errors"
	"testing"
	"time"

	"github.com/google/go-cmp/cmp"

	"rangepost/store"
)

func TestIntake(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	accept := func(in store.Intake, want bool) {
		t.Helper()
		if fresh, err := db.Accept(t.Context(), in); err != nil || fresh != want {
			t.Errorf("Accept(%s) = %v, %v, want %v", in.ID, fresh, err, want)
		}
	}
	unfinished := func(want ...store.Intake) {
		t.Helper()
		got, err := db.Unfinished(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		if d := cmp.Diff(want, got); d != "" {
			t.Errorf("unfinished (-want +got):\n%s", d)
		}
	}
	unfinished()
	one := store.Intake{ID: "event-1", Server: saltmarsh, Asker: wren, Kind: "command", Body: []byte(`{"ReplyTo":"secret"}`)}
	two := store.Intake{ID: "event-0", Server: "", Asker: tamsin, Kind: "mention"}
	accept(one, true)
	one.At, one.Attempts = c.at, 0
	c.add(time.Second)
	accept(two, true)
	two.At, two.Attempts, two.Body = c.at, 0, []byte{}
	accept(store.Intake{ID: "event-1", Kind: "another"}, false)
	unfinished(one, two)

	if n, err := db.Begin(t.Context(), "event-0"); err != nil || n != 1 {
		t.Errorf("Begin = %d, %v, want 1", n, err)
	}
	two.Attempts = 1
	unfinished(one, two)
	if err := db.Answered(t.Context(), "event-1"); err != nil {
		t.Fatal(err)
	}
	unfinished(two)
	accept(one, false) // delivered again after it was answered
	if _, err := db.Begin(t.Context(), "event-1"); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("Begin of an answered one: %v, want ErrNotFound", err)
	}
	if err := db.Failed(t.Context(), "event-0", "the file could not be fetched"); err != nil {
		t.Fatal(err)
	}
	unfinished()
	if err := db.Answered(t.Context(), "event-9"); err != nil {
		t.Errorf("settling what is not there: %v", err)
	}

	// After a week nothing is known of either.
	c.add(7*24*time.Hour + time.Second)
	accept(store.Intake{ID: "event-2"}, true)
	if p, err := db.Prune(t.Context()); err != nil || p.Requests != 2 {
		t.Errorf("Prune = %+v, %v, want 2 requests", p, err)
	}
	accept(one, true)
}

// The way back to the asker is a secret: once settled it is in no file.
func TestSettledSecretsAreErased(t *testing.T) {
	db := open(t)
	secret := []byte("aW50ZXJhY3Rpb246MTIzNDU2Nzg5MDpzZWNyZXQ")
	for id, settle := range map[string]func(id string) error{
		"answered": func(id string) error { return db.Answered(t.Context(), id) },
		"failed":   func(id string) error { return db.Failed(t.Context(), id, "gone") },
	} {
		if _, err := db.Accept(t.Context(), store.Intake{ID: id, Body: secret}); err != nil {
			t.Fatal(err)
		}
		if !inFiles(t, db, secret) {
			t.Fatal("the secret was never there: the test sees nothing")
		}
		if err := settle(id); err != nil {
			t.Fatal(err)
		}
	}
	// Forgetting anybody empties the log, where older pages wait.
	if err := db.ForgetStudent(t.Context(), saltmarsh, "nobody"); err != nil {
		t.Fatal(err)
	}
	if inFiles(t, db, secret) {
		t.Error("the secret is still on disk")
	}
}

// inFiles reports whether the database or the files beside it hold some bytes.
func inFiles(t *testing.T, db *store.DB, b []byte) bool {
	t.Helper()
	return store.Holds(t, db, b)
}

func TestViews(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	v := store.View{Server: saltmarsh, Owner: wren, Student: wren, Kind: "post", Body: []byte(`{"session":"x"}`)}
	id, err := db.KeepView(t.Context(), v, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	v.ID, v.Expires = id, c.at.Add(time.Hour)
	got, err := db.View(t.Context(), saltmarsh, id)
	if err != nil {
		t.Fatal(err)
	}
	if d := cmp.Diff(v, got); d != "" {
		t.Errorf("view (-want +got):\n%s", d)
	}
	for name, find := range map[string][2]string{"another server": {elsewhere, id}, "made up": {saltmarsh, "0000000000"}, "empty": {saltmarsh, ""}} {
		if _, err := db.View(t.Context(), find[0], find[1]); !errors.Is(err, store.ErrNotFound) {
			t.Errorf("%s: %v, want ErrNotFound", name, err)
		}
	}
	c.add(time.Hour)
	if got, err := db.View(t.Context(), saltmarsh, id); !errors.Is(err, store.ErrExpired) || got.Body != nil {
		t.Errorf("after its time: %+v, %v, want ErrExpired", got, err)
	}
	c.add(29 * 24 * time.Hour)
	if p, err := db.Prune(t.Context()); err != nil || p.Views != 0 {
		t.Errorf("Prune within a month = %+v, %v", p, err)
	}
	if _, err := db.View(t.Context(), saltmarsh, id); !errors.Is(err, store.ErrExpired) {
		t.Errorf("within a month: %v, want ErrExpired", err)
	}
	c.add(2 * 24 * time.Hour)
	if p, err := db.Prune(t.Context()); err != nil || p.Views != 1 {
		t.Errorf("Prune after a month = %+v, %v", p, err)
	}
	if _, err := db.View(t.Context(), saltmarsh, id); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("after a month: %v, want ErrNotFound", err)
	}

	once, err := db.KeepView(t.Context(), v, time.Hour)
	if err != nil {
		t.Fatal(err)
	}
	if err := db.DropView(t.Context(), saltmarsh, once); err != nil {
		t.Fatal(err)
	}
	if err := db.DropView(t.Context(), saltmarsh, once); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("dropped twice: %v, want ErrNotFound", err)
	}
}

func TestRewrite(t *testing.T) {
	db := open(t)
	ctx := t.Context()
	for _, id := range []string{"open", "settled"} {
		if _, err := db.Accept(ctx, store.Intake{ID: id, Body: []byte("by the token")}); err != nil {
			t.Fatal(err)
		}
	}
	if err := db.Answered(ctx, "settled"); err != nil {
		t.Fatal(err)
	}
	for _, id := range []string{"open", "settled"} {
		if err := db.Rewrite(ctx, id, []byte("by a message")); err != nil {
			t.Fatal(err)
		}
	}
	left, err := db.Unfinished(ctx)
	if err != nil || len(left) != 1 || string(left[0].Body) != "by a message" {
		t.Errorf("%v: %+v", err, left)
	}
}

// What is earlier is another's, of the same person, and not answered.
func TestEarlier(t *testing.T) {
	db := open(t, store.Sharing())
	in := func(id, server, who string) context.Context {
		t.Helper()
		life, err := db.Join(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		ctx := store.WithLife(t.Context(), life)
		if _, err := db.Accept(ctx, store.Intake{ID: id, Server: server, Asker: who}); err != nil {
			t.Fatal(err)
		}
		return ctx
	}
	first, second := in("1", saltmarsh, wren), in("2", saltmarsh, wren)
	in("3", saltmarsh, tamsin)
	elsewhere := in("4", "", wren)
	check := func(ctx context.Context, id string, want bool) {
		t.Helper()
		if got, err := db.Earlier(ctx, id); err != nil || got != want {
			t.Errorf("before %s: %v, %v, want %v", id, got, err, want)
		}
	}
	check(second, "2", true)
	check(first, "2", false) // its own line sees to it
	check(first, "1", false)
	check(second, "3", false)
	check(elsewhere, "4", false)
	if err := db.Answered(first, "1"); err != nil {
		t.Fatal(err)
	}
	check(second, "2", false)
}
