package record

import (
	"crypto/sha256"
	"encoding/json"
	"fmt"
	"slices"
	"sync"

	"rangepost/bot/report"
	"rangepost/store"
)

// Buttons ask for the same session again and again, within seconds: the answers
// of late are remembered, so that a press costs a look and not an analysis.

// mostLate is of how many balls in all answers are remembered: some twenty
// megabytes.
const mostLate = 20_000

type late struct {
	mu      sync.Mutex
	answers []lateAnswer // the oldest first
	balls   int
}

type lateAnswer struct {
	key    [sha256.Size]byte
	answer report.Report
}

// key tells apart everything an answer to a kept session rests on.
func (in inputs) key(s store.Session) [sha256.Size]byte {
	text, err := json.Marshal([]any{
		s.Server, s.ID, s.SHA256, in.said, in.zone.String(), in.golfer.Hand, in.golfer.Shown, in.own, in.lent, in.briefs, in.taught, in.pooled, in.earlierID,
	})
	if err != nil {
		panic(fmt.Sprintf("record: %v", err)) // plain data
	}
	return sha256.Sum256(text)
}

func (l *late) find(key [sha256.Size]byte) (report.Report, bool) {
	l.mu.Lock()
	defer l.mu.Unlock()
	i := l.index(key)
	if i < 0 {
		return report.Report{}, false
	}
	found := l.answers[i]
	l.answers = append(slices.Delete(l.answers, i, i+1), found)
	return found.answer, true
}

func (l *late) keep(key [sha256.Size]byte, answer report.Report) {
	l.mu.Lock()
	defer l.mu.Unlock()
	if l.index(key) >= 0 {
		return // another request was as fast
	}
	l.answers = append(l.answers, lateAnswer{key, answer})
	l.balls += len(answer.Session.Shots)
	for l.balls > mostLate {
		l.balls -= len(l.answers[0].answer.Session.Shots)
		l.answers = slices.Delete(l.answers, 0, 1)
	}
}

func (l *late) index(key [sha256.Size]byte) int {
	return slices.IndexFunc(l.answers, func(a lateAnswer) bool { return a.key == key })
}

// forget drops them all: one of them may be of somebody whose data is gone.
func (l *late) forget() {
	l.mu.Lock()
	defer l.mu.Unlock()
	l.answers, l.balls = nil, 0
}
