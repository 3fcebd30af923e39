package discord

import (
	"sync"
	"time"
)

// budget bounds how many requests are refused, whatever the reason. The
// platform blocks an address after 10,000 refused requests in ten minutes
// (Discord documentation, "Rate Limits: Invalid Request Limit" [M]); here it
// is 1,200 at most. A request that is refused spends one; one that is not
// spends nothing, so that what works is never slowed down and what stops being
// refused is back at full speed within seconds.
type budget struct {
	mu     sync.Mutex
	most   float64
	rate   float64 // a second
	left   float64
	at     time.Time // when left was so
	flying int       // requests under way, each of which may be refused
}

const (
	budgetMost      = 600
	budgetPerSecond = 1.0
)

func newBudget() *budget {
	return &budget{most: budgetMost, rate: budgetPerSecond, left: budgetMost, at: time.Now()}
}

// shareOut makes it the part of one of so many processes.
func (b *budget) shareOut(processes int) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.refill()
	b.most, b.rate = budgetMost/float64(processes), budgetPerSecond/float64(processes)
	b.left = min(b.left, b.most)
}

// begin lets a request out, or says after how long to ask again.
func (b *budget) begin() time.Duration {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.refill()
	if short := float64(b.flying+1) - b.left; short > 0 {
		// One that comes back unharmed may make room before that.
		return min(time.Duration(short/b.rate*float64(time.Second))+time.Millisecond, time.Second)
	}
	b.flying++
	return 0
}

// end takes a request back.
func (b *budget) end(refused bool) {
	b.mu.Lock()
	defer b.mu.Unlock()
	b.refill()
	b.flying--
	if refused {
		b.left--
	}
}

func (b *budget) refill() {
	now := time.Now()
	b.left = min(b.most, b.left+now.Sub(b.at).Seconds()*b.rate)
	b.at = now
}
