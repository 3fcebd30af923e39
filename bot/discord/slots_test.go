package discord

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"sync/atomic"
	"testing"
	"testing/synctest"
	"time"

	"pgregory.net/rapid"
)

// People take turns, whoever asked how often; nobody holds more than their
// part; what is given back or given up is never lost.
func TestSlotsTakeTurns(t *testing.T) {
	s := newSlots(1, 1)
	ctx := t.Context()
	if err := s.take(ctx, "first"); err != nil {
		t.Fatal(err)
	}
	order := make(chan string)
	ask := func(who string) {
		waiting := func() (n int) {
			s.mu.Lock()
			defer s.mu.Unlock()
			for _, l := range s.lines {
				n += len(l)
			}
			return n
		}
		before := waiting()
		go func() {
			if err := s.take(ctx, who); err != nil {
				t.Error(err)
			}
			order <- who
		}()
		for waiting() == before {
			time.Sleep(time.Millisecond)
		}
	}
	for _, who := range []string{"a", "a", "a", "b", "b", "c"} {
		ask(who)
	}
	var got []string
	holder := "first"
	for range 6 {
		s.give(holder)
		holder = <-order
		got = append(got, holder)
	}
	if want := []string{"a", "b", "c", "a", "b", "a"}; !slices.Equal(got, want) {
		t.Errorf("took turns as %v, want %v", got, want)
	}
}

func TestSlotsBounds(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		n, each := rapid.IntRange(1, 5).Draw(t, "n"), rapid.IntRange(1, 5).Draw(t, "each")
		s := newSlots(n, each)
		held := map[string]int{}
		total := 0
		t.Repeat(map[string]func(*rapid.T){
			"take": func(t *rapid.T) {
				who := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "who")
				ctx, cancel := context.WithTimeout(context.Background(), time.Millisecond)
				defer cancel()
				err := s.take(ctx, who)
				if able := total < n && held[who] < each; able && err != nil && !errors.Is(err, context.DeadlineExceeded) || !able && err == nil {
					t.Fatalf("%d of %d held, %d by %s of %d: %v", total, n, held[who], who, each, err)
				}
				if err == nil {
					held[who]++
					total++
				}
			},
			"give": func(t *rapid.T) {
				who := rapid.SampledFrom([]string{"a", "b", "c"}).Draw(t, "who")
				if held[who] == 0 {
					t.Skip()
				}
				s.give(who)
				held[who]--
				total--
			},
			"": func(t *rapid.T) {
				if s.free != n-total || len(s.lines) != 0 || len(s.turns) != 0 {
					t.Fatalf("%d free of %d with %d held; %d lines, %d turns", s.free, n, total, len(s.lines), len(s.turns))
				}
			},
		})
	})
}

// Four people whose files hang do not keep a fifth from theirs; their own
// further ones wait.
func TestSlotsLent(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := newSlots(8, 2)
		hang := make(chan struct{})
		var begun atomic.Int32
		for i := range 12 { // three each
			go s.during(t.Context(), string(rune('a'+i%4)), func() error { begun.Add(1); <-hang; return nil })
		}
		fifth := make(chan time.Duration, 1)
		asked := time.Now()
		go s.during(t.Context(), "e", func() error { fifth <- time.Since(asked); return nil })
		synctest.Wait()
		if begun.Load() != 8 || len(fifth) != 0 {
			t.Fatalf("%d files are waited for at once, want 8; the fifth has begun: %v", begun.Load(), len(fifth) != 0)
		}
		if waited := <-fifth; waited > hangs {
			t.Errorf("the fifth waited %v, want %v at most", waited, hangs)
		}
		if begun.Load() != 8 {
			t.Errorf("%d files of four people are waited for, want 8", begun.Load())
		}
		close(hang)
		synctest.Wait()
		if begun.Load() != 12 || s.free != 8 || s.lent != 0 || len(s.held) != 0 {
			t.Errorf("%d begun, %d free, %d lent, %v held at the end", begun.Load(), s.free, s.lent, s.held)
		}
	})
}

// However many hang, no more than so many are lent: memory is bounded.
func TestSlotsLentBounded(t *testing.T) {
	synctest.Test(t, func(t *testing.T) {
		s := newSlots(8, 2)
		hang := make(chan struct{})
		var begun atomic.Int32
		for i := range 100 {
			go s.during(t.Context(), fmt.Sprint(i), func() error { begun.Add(1); <-hang; return nil })
		}
		time.Sleep(time.Hour)
		if got := begun.Load(); got != 8+maxLent {
			t.Errorf("%d files are waited for at once, want %d", got, 8+maxLent)
		}
		close(hang)
		synctest.Wait()
		if begun.Load() != 100 || s.free != 8 || s.lent != 0 {
			t.Errorf("%d begun, %d free, %d lent at the end", begun.Load(), s.free, s.lent)
		}
	})
}

// What waits aside leaves its slot to others, and has one again when it is back.
func TestAsideLeavesItsSlot(t *testing.T) {
	work := newSlots(1, 1)
	p := &seat{work: work, who: "wren"}
	if err := work.take(t.Context(), p.who); err != nil {
		t.Fatal(err)
	}
	err := p.aside(t.Context(), func() error {
		if err := work.take(t.Context(), "odell"); err != nil {
			return err
		}
		work.give("odell")
		return nil
	})
	if err != nil || p.away || work.free != 0 {
		t.Errorf("%v, away %v, %d free", err, p.away, work.free)
	}
	p.over()
	if work.free != 1 {
		t.Errorf("%d free at the end", work.free)
	}
}
