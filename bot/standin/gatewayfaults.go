package standin

import (
	"context"
	"slices"
	"time"
)

// gatewayFaults are the ways the gateway misbehaves on demand.
type gatewayFaults struct {
	deaf     bool   // heartbeats stay unanswered
	hasty    bool   // identifies may follow each other at once
	refuse   int    // close code for every identify and resume
	turnAway int    // resumes answered with "reconnect"
	forget   int    // resumes answered with "invalid session"
	hello    string // said instead of hello
	repeat   int    // events are delivered this many times more
}

func (s *Stand) setFault(f func(*gatewayFaults)) {
	s.mu.Lock()
	defer s.mu.Unlock()
	f(&s.gateway.faults)
}

// Deafen leaves heartbeats unanswered while on.
func (s *Stand) Deafen(on bool) { s.setFault(func(f *gatewayFaults) { f.deaf = on }) }

// AllowHaste lifts the five seconds between identifies while on, so that a test
// that is about something else need not wait.
func (s *Stand) AllowHaste(on bool) { s.setFault(func(f *gatewayFaults) { f.hasty = on }) }

// Refuse closes every identify and resume with the code, 0 for no longer.
func (s *Stand) Refuse(code int) { s.setFault(func(f *gatewayFaults) { f.refuse = code }) }

// TurnAway answers the next n resumes with "reconnect".
func (s *Stand) TurnAway(n int) { s.setFault(func(f *gatewayFaults) { f.turnAway = n }) }

// Forget answers the next n resumes with "invalid session".
func (s *Stand) Forget(n int) { s.setFault(func(f *gatewayFaults) { f.forget = n }) }

// Repeat delivers every event n times more than once.
func (s *Stand) Repeat(n int) { s.setFault(func(f *gatewayFaults) { f.repeat = n }) }

// Hold keeps interactions back until Release.
func (s *Stand) Hold() {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gateway.holding = true
}

// Release delivers what Hold kept back, in the opposite order if reversed.
func (s *Stand) Release(reversed bool) {
	s.mu.Lock()
	defer s.mu.Unlock()
	held := s.gateway.held
	s.gateway.held, s.gateway.holding = nil, false
	if reversed {
		slices.Reverse(held)
	}
	for _, e := range held {
		s.announce(e.server, e.name, e.data)
	}
}

// Greet says hello in these words to every connection from now on; in its own
// again if they are empty.
func (s *Stand) Greet(words string) { s.setFault(func(f *gatewayFaults) { f.hello = words }) }

// Send sends every connection a text frame, whatever is in it.
func (s *Stand) Send(frame string) { s.eachLink(func(l *link) { l.send(verbatim(frame)) }) }

// Reconnect asks every connection to reconnect (operation 7).
func (s *Stand) Reconnect() { s.eachLink(func(l *link) { l.send(envelope{Op: opReconnect}) }) }

// Invalidate tells every connection its session is no good (operation 9).
func (s *Stand) Invalidate() {
	s.mu.Lock()
	links := s.links()
	s.gateway.sessions = map[string]*session{}
	s.mu.Unlock()
	for _, l := range links {
		l.send(envelope{Op: opInvalid, Data: false})
	}
}

// Drop closes every connection with the code.
func (s *Stand) Drop(code int) { s.eachLink(func(l *link) { l.send(closing(code)) }) }

// Cut cuts every gateway connection without a word.
func (s *Stand) Cut() { s.eachLink((*link).cut) }

func (s *Stand) eachLink(f func(*link)) {
	s.mu.Lock()
	links := s.links()
	s.mu.Unlock()
	for _, l := range links {
		f(l)
	}
}

func (s *Stand) links() []*link {
	var ls []*link
	for _, ses := range s.gateway.sessions {
		if ses.link != nil {
			ls = append(ls, ses.link)
		}
	}
	return ls
}

// Connected waits until n sessions are connected.
func (s *Stand) Connected(ctx context.Context, n int) error {
	return s.wait(ctx, func() bool { return len(s.links()) >= n })
}

// Identifies is how many identifies were accepted so far.
func (s *Stand) Identifies() int {
	s.mu.Lock()
	defer s.mu.Unlock()
	return 1000 - s.gateway.remaining
}

// SetIdentifies sets how many identifies are left today.
func (s *Stand) SetIdentifies(remaining int) {
	s.mu.Lock()
	defer s.mu.Unlock()
	s.gateway.remaining = remaining
}

// ExpireTokens kills the tokens of all interactions so far, as fifteen minutes
// do.
func (s *Stand) ExpireTokens() {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, in := range s.interactions {
		in.dead = true
	}
	s.touch()
}

// SetSkew sets the server's clock off by d.
func (s *Stand) SetSkew(d time.Duration) { s.setFault(func(*gatewayFaults) { s.cfg.skew = d }) }

func (s *Stand) skew() time.Duration {
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.cfg.skew
}
