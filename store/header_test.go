package store_test

import (
	"testing"
	"time"

	"rangepost/store"
)

// The first file of a kind is the first that this student posted.
func TestFirstWithHeader(t *testing.T) {
	c := newClock()
	db := open(t, store.WithClock(c.now))
	r := seeded()
	posted := func(student, fingerprint string) store.Session {
		n := newSession(t, r, saltmarsh, student, c.at, 3)
		n.Reading.Fingerprint = fingerprint
		s, _, err := db.PostSession(t.Context(), n)
		if err != nil {
			t.Fatal(err)
		}
		c.add(time.Minute)
		return s
	}
	for _, p := range []struct {
		student, fingerprint string
		first                bool
	}{
		{wren, "club,face", true}, {wren, "club,face", false}, {wren, "club,path", true}, {tamsin, "club,face", true}, {wren, "club,path", false},
	} {
		s := posted(p.student, p.fingerprint)
		first, err := db.FirstWithHeader(t.Context(), s)
		if err != nil || first != p.first {
			t.Errorf("%s, %s: first %v, %v", p.student, p.fingerprint, first, err)
		}
	}
}
