package stranger

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"
)

// kinds are the kinds of break so far.
func kinds(p *Platform) []string {
	breaks, _ := p.judge.all()
	var all []string
	for _, b := range breaks {
		all = append(all, b.Kind)
	}
	slices.Sort(all)
	return slices.Compact(all)
}

// What is told of the bot's own accord is told once: a second copy, a second
// pinned message and a challenge nobody reads of are seen, and one of each is
// well.
func TestOwnAccord(t *testing.T) {
	const pinned = `{"content":"here","components":[{"type":1,"components":[{"type":2,"style":1,"label":"Post a session","custom_id":"x"}]}]}`
	for _, c := range []struct {
		name    string
		say     []string // in #range
		stand   int      // pinned messages in a lesson thread
		minutes time.Duration
		want    []string
	}{
		{"each once", []string{"saga 1 is open", "saga 1 is over"}, 1, 3, nil},
		{"not yet", nil, 0, 0, nil},
		{"a copy", []string{"saga 1 is open", "saga 1 is open"}, 1, 3, []string{"told twice"}},
		{"two pinned", []string{"saga 1 is open"}, 2, 3, []string{"not one pinned message"}},
		{"never", []string{"saga 10 is open"}, 1, 3, []string{"never told"}},
	} {
		t.Run(c.name, func(t *testing.T) {
			r := connect(t, NewDrawer(0))
			f := &fleet{p: r.p, FleetOptions: FleetOptions{Lease: time.Second}, names: map[int]string{}}
			r.call("PUT", "/applications/"+r.p.App+"/commands", obj{}, `[{"name":"challenge","description":"x","options":[{"name":"open","description":"x","type":1,"options":[{"name":"name","description":"x","type":3}]}]}]`)
			a := r.p.Slash(r.p.Coach, r.p.Range, "challenge open", option{"name", "saga 1"})
			r.call("POST", "/interactions/"+a.ID+"/"+a.Token+"/callback", obj{}, `{"type":4,"data":{"content":"It is posted in a minute","flags":64}}`)
			r.p.mu.Lock()
			a.toldAt = a.toldAt.Add(-c.minutes * time.Minute)
			r.p.mu.Unlock()
			for _, s := range c.say {
				r.say(r.p.Range, s)
			}
			for range c.stand {
				r.call("POST", "/channels/"+r.p.Threads[r.p.Students[0].ID].ID+"/messages", obj{}, pinned)
			}
			f.own()
			if got := kinds(r.p); !slices.Equal(got, c.want) {
				t.Errorf("broken are %v, want %v", got, c.want)
			}
		})
	}
}

// Shards of one group are five seconds apart, those of others are not held up,
// and a day has a thousand starts, whichever process makes them.
func TestSessionStarts(t *testing.T) {
	r := connect(t, NewDrawer(0))
	p := r.p
	p.pids = func() []int { return nil }
	p.world.Concurrency, p.drawer.identifyGap = 2, 5*time.Second
	p.mu.Lock()
	defer p.mu.Unlock()
	p.gate.groups = map[int]time.Time{}
	now := time.Now()
	for i, c := range []struct {
		shard   int
		after   time.Duration
		refused bool
		want    string
	}{
		{0, 0, false, ""},
		{1, 0, false, ""},
		{2, 4800 * time.Millisecond, true, ""}, // refused, and perhaps the way's fault
		{4, 5 * time.Second, false, ""},
		{6, time.Second, true, "identified too fast"},
	} {
		now = now.Add(c.after)
		if got := p.startsTooSoon(&connection{}, c.shard, now); got != c.refused || strings.Join(kinds(p), ",") != c.want {
			t.Errorf("start %d of shard %d: refused %v, want %v; broken are %v, want %q", i, c.shard, got, c.refused, kinds(p), c.want)
		}
	}
	for range 1000 - len(p.gate.identifies) {
		now = now.Add(5 * time.Second)
		p.startsTooSoon(&connection{}, 0, now)
	}
	if got := fmt.Sprint(kinds(p)); got != "[identified too fast]" {
		t.Errorf("after a thousand broken are %v", got)
	}
	p.startsTooSoon(&connection{}, 0, now.Add(5*time.Second))
	if got := fmt.Sprint(kinds(p)); got != "[identified too fast identified too often]" {
		t.Errorf("after one more broken are %v", got)
	}
}
