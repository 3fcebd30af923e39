package bot

import (
	"context"
	"strings"
	"testing"
	"time"
)

// A request that was never begun is answered after any number of restarts; one
// that brings the process down each time is set aside and its asker told.
func TestAttemptsCountWhenWorkBegins(t *testing.T) {
	b, log := alone(t, time.Now)
	accept := func(id string) Request {
		t.Helper()
		r := Request{ID: id, Kind: CommandRequest, Command: "help", Server: "saltmarsh", Asker: Person{ID: "wren"}, Options: map[string]string{}}
		if fresh, err := b.Accept(t.Context(), r); err != nil || !fresh {
			t.Fatal(fresh, err)
		}
		return r
	}
	accept("bad")
	accept("good")
	open := func() map[string]Request {
		t.Helper()
		requests, err := b.Unfinished(t.Context())
		if err != nil {
			t.Fatal(err)
		}
		by := map[string]Request{}
		for _, r := range requests {
			by[r.ID] = r
		}
		return by
	}
	for restart := range 3 * maxAttempts {
		by := open()
		if len(by) != 2 {
			t.Fatalf("restart %d: %d requests are open, want both", restart, len(by))
		}
		if restart >= maxAttempts {
			continue // starts that begin nothing count nothing
		}
		// The process goes down in the middle: begun, and never ended.
		if _, err := b.begin(t.Context(), by["bad"]); err != nil {
			t.Fatalf("beginning %d: %v", restart+1, err)
		}
		b.working.Release(roomOf(by["bad"])) // the next process has room again
	}
	by := open()
	if reply := b.Handle(t.Context(), by["good"]); !strings.Contains(reply.Text, "/post") {
		t.Errorf("the one that was never begun: %q", reply.Text)
	}
	reply := b.Handle(t.Context(), by["bad"])
	if !reply.Private || !strings.Contains(reply.Text, "set this aside") || !strings.Contains(log.String(), "request set aside") {
		t.Errorf("the one that brings it down: %q", reply.Text)
	}
}

// Being stopped says nothing against a request.
func TestStoppingCountsNothing(t *testing.T) {
	b, _ := alone(t, time.Now)
	r := Request{ID: "stopped", Kind: CommandRequest, Command: "help", Server: "saltmarsh", Asker: Person{ID: "wren"}, Options: map[string]string{}}
	if _, err := b.Accept(t.Context(), r); err != nil {
		t.Fatal(err)
	}
	for range 3 * maxAttempts {
		ctx, stop := context.WithCancel(t.Context())
		end, err := b.begin(ctx, r)
		if err != nil {
			t.Fatal(err)
		}
		stop()
		end()
	}
	requests, err := b.Unfinished(t.Context())
	if err != nil || len(requests) != 1 || requests[0].begun != 0 {
		t.Errorf("%+v, %v; want one, never begun", requests, err)
	}
}

// What was under way when the process went down is worked on alone.
func TestSuspectsAreAlone(t *testing.T) {
	b, _ := alone(t, time.Now)
	ordinary := Request{ID: "1", Kind: CommandRequest, Command: "help"}
	suspect := Request{ID: "2", Kind: CommandRequest, Command: "help", begun: 1}
	end, err := b.begin(t.Context(), suspect)
	if err != nil {
		t.Fatal(err)
	}
	soon, cancel := context.WithTimeout(t.Context(), 50*time.Millisecond)
	defer cancel()
	if _, err := b.begin(soon, ordinary); err == nil {
		t.Error("another began beside a suspect")
	}
	end()
	end, err = b.begin(t.Context(), ordinary)
	if err != nil {
		t.Fatal(err)
	}
	again, err := b.begin(t.Context(), Request{ID: "3", Kind: CommandRequest})
	if err != nil {
		t.Errorf("two ordinary ones do not go together: %v", err)
	}
	again()
	end()
}

// One that waits to be alone does not hold the place of another: who has room
// may need that place to end (a download that comes back to its place).
func TestWaitingForRoomTakesNoPlace(t *testing.T) {
	b, _ := alone(t, time.Now)
	place := make(chan struct{}, 1) // there is one
	ctx := WithAside(t.Context(), func(ctx context.Context, wait func() error) error {
		<-place
		err := wait()
		place <- struct{}{}
		return err
	})
	request := func(id string) Request {
		r := Request{ID: id, Kind: CommandRequest, Command: "help", Server: "saltmarsh", Asker: Person{ID: "wren"}, Options: map[string]string{}}
		if _, err := b.Accept(ctx, r); err != nil {
			t.Fatal(err)
		}
		return r
	}
	place <- struct{}{}
	end, err := b.begin(ctx, request("downloads"))
	if err != nil {
		t.Fatal(err)
	}
	<-place // its file is on the way
	suspected := request("suspected")
	suspected.begun = 1
	began := make(chan error, 1)
	place <- struct{}{}
	go func() {
		end, err := b.begin(ctx, suspected)
		end()
		began <- err
	}()
	place <- struct{}{} // back from the download, as soon as the other has given its place away
	end()
	<-place
	if err := <-began; err != nil {
		t.Error(err)
	}
}
