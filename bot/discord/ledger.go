package discord

import (
	"sync"

	"rangepost/bot"
)

// ledger is which events of a shard are written down. The place where another
// process resumes the session is never ahead of that, so what was lost on the way
// to the intake is sent again. A nil ledger keeps nothing: the process serves
// alone.
type ledger struct {
	mu      sync.Mutex
	session string // the gateway's id of the session, "" for none
	address string
	last    int64          // the last event that came
	open    map[int64]bool // those that are not written down yet
	closed  bool           // nothing that comes now is acted on
}

func newLedger(p bot.Place) *ledger {
	return &ledger{session: p.Session, address: p.Address, last: p.Seq, open: map[int64]bool{}}
}

// begin takes an event in. It is to be settled when it is written down, or nothing
// is to be. ok is false when the shard is not ours any more: it must not be acted
// on.
func (l *ledger) begin(seq int64) (settle func(), ok bool) {
	if l == nil {
		return func() {}, true
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return nil, false
	}
	open := l.open // of this session; a new one has its own
	open[seq], l.last = true, seq
	return func() {
		l.mu.Lock()
		defer l.mu.Unlock()
		delete(open, seq)
	}, true
}

// passed notes an event that nothing is done about.
func (l *ledger) passed(seq int64) {
	if settle, ok := l.begin(seq); ok {
		settle()
	}
}

// opened notes a new session, whose events are counted afresh.
func (l *ledger) opened(session, address string, seq int64) {
	if l == nil {
		return
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.closed {
		return
	}
	l.session, l.address, l.last, l.open = session, address, seq, map[int64]bool{}
}

// place is where the session may be resumed.
func (l *ledger) place() bot.Place {
	l.mu.Lock()
	defer l.mu.Unlock()
	p := bot.Place{Session: l.session, Address: l.address, Seq: l.last}
	for seq := range l.open {
		p.Seq = min(p.Seq, seq-1)
	}
	return p
}

// resumes is the session that there is to resume, "" for none, and the last event
// that came of it.
func (l *ledger) resumes() (session string, last int64) {
	if l == nil {
		return "", 0
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.session, l.last
}

// left is the session that there is to resume, and where.
func (l *ledger) left() (session, address string) {
	if l == nil {
		return "", ""
	}
	l.mu.Lock()
	defer l.mu.Unlock()
	return l.session, l.address
}

// forget gives the session up.
func (l *ledger) forget() { l.opened("", "", 0) }

// close has nothing more acted on.
func (l *ledger) close() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.closed = true
}

// settled reports whether all that came is written down.
func (l *ledger) settled() bool {
	l.mu.Lock()
	defer l.mu.Unlock()
	return len(l.open) == 0
}
