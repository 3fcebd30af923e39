package bot

import (
	"context"
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
	k := &known{threads: map[string]store.Binding{}, roles: map[string]string{}, juniors: map[store.Junior]bool{}}
	bindings, err := db.LiveBindings(ctx)
	if err != nil {
		return nil, err
	}
	for _, binding := range bindings {
		k.threads[binding.Thread] = binding
	}
	houses, err := db.Clubhouses(ctx)
	if err != nil {
		return nil, err
	}
	for _, house := range houses {
		k.roles[house.Server] = house.CoachRole
	}
	juniors, err := db.Juniors(ctx)
	if err != nil {
		return nil, err
	}
	for _, j := range juniors {
		k.juniors[j] = true
	}
	return k, nil
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
