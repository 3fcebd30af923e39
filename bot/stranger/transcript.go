package stranger

import (
	"bufio"
	"fmt"
	"io"
	"math/rand/v2"
	"sync"
	"time"
)

// A Transcript is what happened in one seed, a line an event.
type Transcript struct {
	mu    sync.Mutex
	w     *bufio.Writer
	start time.Time
	n     int
	hush  func(string) string
}

// NewTranscript writes to w.
func NewTranscript(w io.Writer) *Transcript {
	return &Transcript{w: bufio.NewWriter(w), start: time.Now()}
}

// count numbers the requests.
func (t *Transcript) count() int {
	t.mu.Lock()
	defer t.mu.Unlock()
	t.n++
	return t.n
}

func (t *Transcript) addf(who, format string, a ...any) {
	t.mu.Lock()
	defer t.mu.Unlock()
	line := fmt.Sprintf(format, a...)
	if t.hush != nil {
		line = t.hush(line)
	}
	fmt.Fprintf(t.w, "%8.3f %-8s %s\n", time.Since(t.start).Seconds(), who, line)
	t.w.Flush()
}

const letters = "0123456789ABCDEFGHIJKLMNOPQRSTUVWXYZabcdefghijklmnopqrstuvwxyz"

// randomWord is for secrets and names; it owes nothing to the seed.
func randomWord(n int) string {
	b := make([]byte, n)
	for i := range b {
		b[i] = letters[rand.IntN(len(letters))]
	}
	return string(b)
}
