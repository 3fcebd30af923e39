package discord

import (
	"context"
	"slices"
	"sync"
	"time"
)

// slots are so many things that may go on at once, shared fairly: people who
// wait take turns, however much each of them asks, and nobody holds more than
// a part of them.
type slots struct {
	mu    sync.Mutex
	free  int
	each  int // the most one person may hold
	held  map[string]int
	lent  int                        // held, and free to others all the same
	lines map[string][]chan struct{} // who waits, by person
	turns []string                   // the people in lines, whose turn is next first
}

func newSlots(n, each int) *slots {
	return &slots{free: n, each: max(1, each), held: map[string]int{}, lines: map[string][]chan struct{}{}}
}

// take waits for a slot. Who got one gives it back.
func (s *slots) take(ctx context.Context, who string) error {
	if err := ctx.Err(); err != nil {
		return err
	}
	granted := make(chan struct{})
	s.mu.Lock()
	if len(s.lines[who]) == 0 {
		s.turns = append(s.turns, who)
	}
	s.lines[who] = append(s.lines[who], granted)
	s.grant()
	s.mu.Unlock()
	select {
	case <-granted:
		return nil
	case <-ctx.Done():
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	if i := slices.Index(s.lines[who], granted); i >= 0 {
		s.leave(who, i)
		return ctx.Err()
	}
	s.put(who) // it came at the same moment
	return ctx.Err()
}

func (s *slots) give(who string) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.put(who)
}

const (
	// Something that is waited for longer than this may never come.
	hangs = 2 * time.Second
	// The most slots that are lent at once: each may hold a file of the largest
	// size.
	maxLent = 24
)

// during runs f in a slot of who's. Once f hangs, others may have the slot, and
// it counts as who's alone: whatever a few people wait for, the rest do not
// wait behind it.
func (s *slots) during(ctx context.Context, who string, f func() error) error {
	if err := s.take(ctx, who); err != nil {
		return err
	}
	lent := make(chan bool, 1)
	timer := time.AfterFunc(hangs, func() { lent <- s.lend() })
	err := f()
	if timer.Stop() {
		lent <- false
	}
	was := <-lent
	s.mu.Lock()
	defer s.mu.Unlock()
	if was {
		s.free--
		s.lent--
	}
	s.put(who)
	return err
}

// lend frees a slot that stays held, unless too many are.
func (s *slots) lend() bool {
	s.mu.Lock()
	defer s.mu.Unlock()
	if s.lent >= maxLent {
		return false
	}
	s.lent++
	s.free++
	s.grant()
	return true
}

func (s *slots) put(who string) {
	s.free++
	if s.held[who]--; s.held[who] == 0 {
		delete(s.held, who)
	}
	s.grant()
}

// grant hands out what is free to those whose turn it is.
func (s *slots) grant() {
	for i := 0; s.free > 0 && i < len(s.turns); {
		who := s.turns[i]
		if s.held[who] >= s.each {
			i++
			continue
		}
		s.free--
		s.held[who]++
		close(s.lines[who][0])
		s.turns = append(slices.Delete(s.turns, i, i+1), who)
		s.leave(who, 0)
		i = 0
	}
}

// leave takes one out of a person's line.
func (s *slots) leave(who string, i int) {
	s.lines[who] = slices.Delete(s.lines[who], i, i+1)
	if len(s.lines[who]) == 0 {
		delete(s.lines, who)
		s.turns = slices.DeleteFunc(s.turns, func(w string) bool { return w == who })
	}
}

// seat is where a request is being worked on. While it waits for a file it
// leaves its slot to others: a file server that hangs holds up nobody who
// needs no file.
type seat struct {
	work, fetch *slots
	who         string
	away        bool // without a slot; read and written by the conversation alone
}

type seatKey struct{}

// aside runs f, which waits for a file, beside the work rather than in its
// place.
func aside(ctx context.Context, f func() error) error {
	p, ok := ctx.Value(seatKey{}).(*seat)
	if !ok {
		return f()
	}
	return p.aside(ctx, func() error { return p.fetch.during(ctx, p.who, f) })
}

// aside runs wait with the slot given to others.
func (p *seat) aside(ctx context.Context, wait func() error) error {
	p.work.give(p.who)
	p.away = true
	err := wait()
	if back := p.work.take(ctx, p.who); back != nil {
		return back
	}
	p.away = false
	return err
}

// over gives back the slot of a request that is done with.
func (p *seat) over() {
	if !p.away {
		p.work.give(p.who)
	}
}
