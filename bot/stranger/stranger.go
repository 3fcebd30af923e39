// Package stranger is a second stand-in for the chat platform, written from
// the platform's published documentation alone and without a look at the code
// it tests or at the other stand-in. It exists to disagree: where a bot and a
// stand-in of the same hand share an assumption, this one does not know it.
//
// It speaks REST v10, the gateway and the CDN on loopback, runs the real
// binary against itself, lets a handful of invented people use it, and opens a
// seeded drawer of trouble on every side: refused, slow, cut and garbled
// calls, gateway links that lie or die, files that never arrive, a process
// that is killed. At the end of each seed it looks only at what people saw and
// says which promises were broken.
//
// It also runs several processes as one bot (fleet.go) on a PostgreSQL of its
// own, and kills, stops, cuts off and replaces them (ordeals.go) while people use
// it. There it looks as well at which process did what (account.go).
//
// Sources, all [P], read at github.com/discord/discord-api-docs, commit
// c98d64bc (2026-08-06), under developers/:
//
//	events/gateway.mdx, events/gateway-events.mdx   hello, identify, ready, resume, heartbeats, intents
//	topics/opcodes-and-status-codes.mdx             opcodes, close codes, JSON error codes
//	topics/rate-limits.mdx                          headers, 429 bodies, scopes, invalid requests
//	interactions/receiving-and-responding.mdx       interactions, callbacks, follow-ups, tokens
//	interactions/application-commands.mdx           commands and their options
//	resources/message.mdx, resources/channel.mdx    messages, nonce, attachments, threads
//	components/reference.mdx                        components and what pressing them sends
//	reference.mdx                                   snowflakes, uploads, versions
//
// What a proxy between bot and platform does (HTML bodies, 502, 504, 520 to
// 530, cut and stuck connections) is in no document of the platform's: common
// practice, no source.
package stranger

import (
	"encoding/json"
	"fmt"
	"strings"
	"sync/atomic"
	"time"
)

// obj is a JSON object as it is sent or was received.
type obj = map[string]any

// epoch is the first millisecond of the platform's time (reference.mdx,
// "Snowflakes" [P]).
const epoch = 1420070400000

// ids hands out snowflakes: 42 bits of time, then workers and a count.
type ids struct{ n atomic.Uint64 }

func (i *ids) next() string {
	ms := uint64(time.Now().UnixMilli() - epoch)
	return fmt.Sprint(ms<<22 | i.n.Add(1)&0x3fffff)
}

// str is the string at a path of keys, or empty.
func str(o any, path ...string) string {
	for _, k := range path {
		m, ok := o.(obj)
		if !ok {
			return ""
		}
		o = m[k]
	}
	switch v := o.(type) {
	case string:
		return v
	case json.Number:
		return v.String()
	case float64:
		return strings.TrimSuffix(fmt.Sprintf("%.0f", v), ".")
	case int:
		return fmt.Sprint(v)
	}
	return ""
}

// num is the whole number at a path of keys, or zero.
func num(o any, path ...string) int {
	var n int
	fmt.Sscan(str(o, path...), &n)
	return n
}

// list is the array at a path of keys, or nil.
func list(o any, path ...string) []any {
	for _, k := range path {
		m, ok := o.(obj)
		if !ok {
			return nil
		}
		o = m[k]
	}
	l, _ := o.([]any)
	return l
}

// clone is a deep copy by way of JSON, so that what was sent cannot change.
func clone(o obj) obj {
	b, _ := json.Marshal(o)
	var c obj
	json.Unmarshal(b, &c)
	return c
}
