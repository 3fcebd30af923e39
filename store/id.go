package store

import (
	"crypto/rand"
	"encoding/binary"
	mathrand "math/rand/v2"
	"sync"
)

// crockford is Crockford's base 32 in lower case: no i, l, o or u to misread.
const crockford = "0123456789abcdefghjkmnpqrstvwxyz"

// newID is 50 random bits in ten characters. Among a hundred million of one
// kind the next collides with odds of one in eleven million, and then its
// insert fails; nothing is overwritten.
func (db *DB) newID() string { return idOf(db.bits()) }

// hiddenID is one that nobody is shown and that settles nothing, drawn as often as
// an engine or somebody who looks in has need of it.
func hiddenID() string { return idOf(secretBits()) }

func idOf(bits uint64) string {
	var id [10]byte
	for i := range id {
		id[i] = crockford[bits&31]
		bits >>= 5
	}
	return string(id[:])
}

// secretBits nobody can guess.
func secretBits() uint64 {
	var b [8]byte
	rand.Read(b[:])
	return binary.LittleEndian.Uint64(b[:])
}

// WithIDs makes the database draw its ids from a source instead of crypto/rand,
// for plays that are to be the same every time. A database that has ids from a
// source would get them again from one that begins likewise.
func WithIDs(from mathrand.Source) Option {
	var one sync.Mutex
	return func(db *DB) {
		db.bits = func() uint64 {
			one.Lock()
			defer one.Unlock()
			return from.Uint64()
		}
	}
}
