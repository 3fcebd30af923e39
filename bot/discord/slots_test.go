package discord

import (
	"context"
	"errors"
	"slices"
	"testing"
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
