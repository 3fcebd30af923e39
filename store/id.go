package store

import "crypto/rand"

// crockford is Crockford's base 32 in lower case: no i, l, o or u to misread.
const crockford = "0123456789abcdefghjkmnpqrstvwxyz"

// newID is 50 random bits in ten characters. Among a hundred million of one
// kind the next collides with odds of one in eleven million, and then its
// insert fails; nothing is overwritten.
func newID() string {
	var b [10]byte
	rand.Read(b[:])
	for i := range b {
		b[i] = crockford[b[i]&31]
	}
	return string(b[:])
}
