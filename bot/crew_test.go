package bot

import (
	"context"
	"testing"
	"time"

	"rangepost/store"
)

// What one process changes of what all know by heart, another knows with its next
// look.
func TestCrewKnows(t *testing.T) {
	ctx := t.Context()
	db, err := store.Open(ctx, "", store.Sharing())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	other, err := New(ctx, Config{DB: db})
	if err != nil {
		t.Fatal(err)
	}
	m, err := other.Join(ctx)
	if err != nil {
		t.Fatal(err)
	}
	defer m.Leave(ctx)
	house, err := db.Clubhouse(ctx, "saltmarsh")
	if err != nil {
		t.Fatal(err)
	}
	house.CoachRole = "coaches"
	if err := db.SetClubhouse(ctx, house); err != nil {
		t.Fatal(err)
	}
	if err := db.SetJunior(ctx, "saltmarsh", "odell", true); err != nil {
		t.Fatal(err)
	}
	b, err := db.AskConsent(ctx, "saltmarsh", "thread", "wren", "coach")
	if err != nil {
		t.Fatal(err)
	}
	if _, err := db.GiveConsent(ctx, "saltmarsh", b.ID, "wren"); err != nil {
		t.Fatal(err)
	}
	knows := func(bound bool) {
		t.Helper()
		if _, err := m.Look(ctx, nil); err != nil {
			t.Fatal(err)
		}
		if _, is := other.known.thread("thread"); is != bound || other.known.coachRole("saltmarsh") != "coaches" || !other.known.junior("saltmarsh", "odell") {
			t.Errorf("thread known %v, want %v; role %q, junior %v", is, bound, other.known.coachRole("saltmarsh"), other.known.junior("saltmarsh", "odell"))
		}
	}
	knows(true)
	if _, err := db.EndBinding(ctx, "saltmarsh", b.ID, "wren"); err != nil {
		t.Fatal(err)
	}
	knows(false)
}

// What somebody asked before of the process that served their shard until now is
// answered first: a question about a post does not overtake it.
func TestCrewAnswersInTurn(t *testing.T) {
	ctx := t.Context()
	db, err := store.Open(ctx, "", store.Sharing())
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	type process struct {
		*Bot
		*Member
	}
	var both []process
	for range 2 {
		b, err := New(ctx, Config{DB: db})
		if err != nil {
			t.Fatal(err)
		}
		m, err := b.Join(ctx)
		if err != nil {
			t.Fatal(err)
		}
		defer m.Leave(ctx)
		both = append(both, process{b, m})
	}
	old, next := both[0], both[1]
	ask := func(by process, id, command, asker string) Request {
		r := Request{ID: id, Kind: CommandRequest, Command: command, Server: "saltmarsh", Asker: Person{ID: asker}}
		if fresh, err := by.Accept(by.Context(), r); err != nil || !fresh {
			t.Fatal(fresh, err)
		}
		return r
	}
	ask(old, "1", "post", "wren")
	for _, r := range []Request{ask(next, "2", "mine show", "tamsin"), ask(next, "3", "mine consent", "wren")} {
		began := time.Now()
		if next.Handle(next.Context(), r); time.Since(began) > turnWithin/2 {
			t.Errorf("%s of %s waited for %v", r.Command, r.Asker.ID, time.Since(began))
		}
		if err := next.Answered(next.Context(), r.ID); err != nil {
			t.Fatal(err)
		}
	}
	r, answered := ask(next, "4", "mine show", "wren"), make(chan bool)
	go func() { next.Handle(next.Context(), r); close(answered) }()
	select {
	case <-answered:
		t.Error("answered before what was asked before")
	case <-time.After(time.Second):
	}
	if err := old.Answered(context.WithoutCancel(old.Context()), "1"); err != nil {
		t.Fatal(err)
	}
	select {
	case <-answered:
	case <-time.After(turnWithin / 2):
		t.Error("not answered after what was asked before")
	}
}
