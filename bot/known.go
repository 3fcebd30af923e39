package bot

import (
	"context"
	"maps"
	"sync"

	"rangepost/store"
)

// known is what the bot knows by heart, because it must decide who sees a
// reply before it may touch the database: the lesson threads and each server's
// coach role.
type known struct {
	mu      sync.RWMutex
	threads map[string]store.Binding // live, by thread
	roles   map[string]string        // coach role by server
	juniors map[store.Junior]bool
}

func recall(ctx context.Context, db *store.DB) (*known, error) {
	k := &known{}
	return k, k.all(ctx, db)
}

// all reads everything.
func (k *known) all(ctx context.Context, db *store.DB) error {
	bindings, err := db.LiveBindings(ctx)
	if err != nil {
		return err
	}
	houses, err := db.Clubhouses(ctx)
	if err != nil {
		return err
	}
	juniors, err := db.Juniors(ctx)
	if err != nil {
		return err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	k.threads, k.roles, k.juniors = map[string]store.Binding{}, map[string]string{}, map[store.Junior]bool{}
	k.add(bindings, houses, juniors)
	return nil
}

// again reads anew what there is of one server.
func (k *known) again(ctx context.Context, db *store.DB, server string) error {
	bindings, err := db.LiveBindingsOf(ctx, server)
	if err != nil {
		return err
	}
	house, err := db.Clubhouse(ctx, server)
	if err != nil {
		return err
	}
	juniors, err := db.JuniorsOf(ctx, server)
	if err != nil {
		return err
	}
	k.mu.Lock()
	defer k.mu.Unlock()
	maps.DeleteFunc(k.threads, func(_ string, b store.Binding) bool { return b.Server == server })
	maps.DeleteFunc(k.juniors, func(j store.Junior, _ bool) bool { return j.Server == server })
	k.add(bindings, []store.Clubhouse{house}, juniors)
	return nil
}

func (k *known) add(bindings []store.Binding, houses []store.Clubhouse, juniors []store.Junior) {
	for _, binding := range bindings {
		k.threads[binding.Thread] = binding
	}
	for _, house := range houses {
		k.roles[house.Server] = house.CoachRole
	}
	for _, j := range juniors {
		k.juniors[j] = true
	}
}

// junior reports whether somebody is a junior, whose numbers are never for a
// whole channel.
func (k *known) junior(server, student string) bool {
	k.mu.RLock()
	defer k.mu.RUnlock()
	return k.juniors[store.Junior{Server: server, Student: student}]
}

func (k *known) setJunior(server, student string, is bool) {
	k.mu.Lock()
	defer k.mu.Unlock()
	if j := (store.Junior{Server: server, Student: student}); is {
		k.juniors[j] = true
	} else {
		delete(k.juniors, j)
	}
}

// thread is the live binding of a thread.
func (k *known) thread(channel string) (store.Binding, bool) {
	k.mu.RLock()
	defer k.mu.RUnlock()
	binding, ok := k.threads[channel]
	return binding, ok
}

// student is the student of a lesson thread, "" for any other channel.
func (k *known) student(channel string) string {
	binding, _ := k.thread(channel)
	return binding.Student
}

func (k *known) coachRole(server string) string {
	k.mu.RLock()
	defer k.mu.RUnlock()
	return k.roles[server]
}

func (k *known) setCoachRole(server, role string) {
	k.mu.Lock()
	defer k.mu.Unlock()
	k.roles[server] = role
}

// learn takes in a binding that was given or has ended. A student has one
// coach, so a new one takes the place of the old wherever that was.
func (k *known) learn(binding store.Binding) {
	k.mu.Lock()
	defer k.mu.Unlock()
	for thread, other := range k.threads {
		if other.Server == binding.Server && other.Student == binding.Student {
			delete(k.threads, thread)
		}
	}
	if binding.Live() {
		k.threads[binding.Thread] = binding
	}
}

// forget drops every thread of a student.
func (k *known) forget(server, student string) {
	k.learn(store.Binding{Server: server, Student: student})
	k.setJunior(server, student, false)
}
