package discord

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"net"
	"slices"
	"strings"
	"testing"
	"testing/iotest"
	"time"

	"pgregory.net/rapid"
)

// frame is an unmasked frame as a server sends it (RFC 6455, section 5.2).
func frame(opcode byte, payload []byte) []byte {
	b := []byte{0x80 | opcode}
	switch n := len(payload); {
	case n < 126:
		b = append(b, byte(n))
	case n < 1<<16:
		b = binary.BigEndian.AppendUint16(append(b, 126), uint16(n))
	default:
		b = binary.BigEndian.AppendUint64(append(b, 127), uint64(n))
	}
	return append(b, payload...)
}

type fakeConn struct {
	net.Conn
	io.Reader
}

func (c fakeConn) Read(p []byte) (int, error)      { return c.Reader.Read(p) }
func (c fakeConn) SetReadDeadline(time.Time) error { return nil }
func (c fakeConn) CloseWrite() error               { return nil }

const opening = "HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\n\r\n"

const hello = `{"op":10,"d":{"heartbeat_interval":41250}}`

// However the bytes arrive, in whatever pieces, events are heard once and in
// order, pings are handed on, and nothing is after the session has ended. After
// being told to connect anew it still is.
func TestWireHearsEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sent := append([]byte(opening), frame(1, []byte(hello))...)
		var want []string
		beats, pings := 0, 0
		for i := range rapid.IntRange(0, 8).Draw(t, "frames") {
			switch rapid.IntRange(0, 3).Draw(t, "kind") {
			case 0:
				size := rapid.SampledFrom([]int{0, 80, 125, 126, 1000, 65535, 70000}).Draw(t, "size")
				data := fmt.Sprintf(`{"x":%q}`, strings.Repeat("x", size))
				message := []byte(fmt.Sprintf(`{"op":0,"s":%d,"t":"E","d":%s}`, i+1, data))
				want = append(want, data)
				at := rapid.IntRange(0, len(message)).Draw(t, "cut")
				first, rest := frame(1, message[:at]), frame(0, message[at:])
				first[0] &^= 0x80 // more is to come
				sent = append(append(append(sent, first...), frame(9, []byte("between"))...), rest...)
				pings++
			case 1:
				sent = append(sent, frame(9, nil)...)
				pings++
			case 2:
				sent = append(sent, frame(1, []byte(`{"t":null,"op":11,"d":null}`))...)
				beats++
			case 3:
				sent = append(sent, frame(1, []byte("null"))...)
			}
		}
		ends := rapid.SampledFrom([]string{"", `{"op":7,"d":null}`, `{"op":9,"d":false}`}).Draw(t, "end")
		if ends != "" {
			sent = append(sent, frame(1, []byte(ends))...)
			sent = append(sent, frame(1, []byte(`{"op":0,"s":99,"t":"E","d":{}}`))...)
			if strings.Contains(ends, "7") {
				want = append(want, "{}")
			}
		}
		r := io.Reader(bytes.NewReader(sent))
		if rapid.Bool().Draw(t, "byte by byte") {
			r = iotest.OneByteReader(r)
		}
		var heard []string
		heartbeats := 0
		w := newWire(fakeConn{Reader: r}, ears{
			heard: func(op int, _ json.RawMessage) {
				if op == opHeard {
					heartbeats++
				}
			},
			event:   func(_ string, data json.RawMessage, _ func()) { heard = append(heard, string(data)) },
			dropped: func(string) {},
			closed:  func(int) {},
		})
		got, err := io.ReadAll(w)
		if err != nil {
			t.Fatalf("read: %v", err)
		}
		if !slices.Equal(heard, want) || heartbeats != beats {
			t.Fatalf("heard %d events of %d and %d heartbeats of %d", len(heard), len(want), heartbeats, beats)
		}
		if n := bytes.Count(got, []byte{0x89}); n != pings {
			t.Fatalf("%d pings handed on of %d", n, pings)
		}
		if ends != "" {
			if _, err := w.Write([]byte("x")); err != nil { // to fakeConn it would panic
				t.Fatalf("a write after the end: %v", err)
			}
		}
	})
}

// A heartbeat answered before it was sent, and before the session stands, is heard
// and not handed on: discordgo holds its own lock until its first event.
func TestWireHeardTooSoon(t *testing.T) {
	const heard = `{"op":11}`
	sent := slices.Concat([]byte(opening), frame(1, []byte(hello)), frame(1, []byte(heard)), frame(1, []byte(`{"op":0,"s":1,"t":"READY","d":{"session_id":"x"}}`)), frame(1, []byte(heard)))
	beats := 0
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, ears{heard: func(op int, _ json.RawMessage) {
		if op == opHeard {
			beats++
		}
	}})
	got, err := io.ReadAll(w)
	before, after, ok := strings.Cut(string(got), "READY")
	if err != nil || !ok || beats != 2 || strings.Contains(before, heard) || !strings.Contains(after, heard) {
		t.Errorf("%d heard, %v, handed on: %q", beats, err, got)
	}
}

func TestWireClose(t *testing.T) {
	sent := append([]byte(opening), frame(8, append(binary.BigEndian.AppendUint16(nil, 4004), "Authentication failed."...))...)
	code := 0
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, ears{closed: func(c int) { code = c }})
	got, err := io.ReadAll(w)
	if err != nil || !bytes.Equal(got, sent) || code != 4004 {
		t.Errorf("code %d, %d bytes, %v", code, len(got), err)
	}
}

// A close code that forbids coming back is heard also behind the word that the
// session is no longer known.
func TestWireCloseBehindInvalid(t *testing.T) {
	sent := slices.Concat([]byte(opening), frame(1, []byte(hello)), frame(1, []byte(`{"op":9,"d":false}`)), frame(8, binary.BigEndian.AppendUint16(nil, 4013)))
	code := 0
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, ears{heard: func(int, json.RawMessage) {}, closed: func(c int) { code = c }})
	if _, err := io.ReadAll(w); err != nil || code != 4013 {
		t.Errorf("code %d, %v", code, err)
	}
}

// A refused opening is handed on as it is.
func TestWireRefused(t *testing.T) {
	const sent = "HTTP/1.1 503 Service Unavailable\r\nContent-Length: 4\r\n\r\nbusy"
	w := newWire(fakeConn{Reader: bytes.NewReader([]byte(sent))}, ears{})
	if got, err := io.ReadAll(w); err != nil || string(got) != sent {
		t.Errorf("%q, %v", got, err)
	}
}

// A frame that claims to be larger than any is refused before it is read.
func TestWireHugeFrame(t *testing.T) {
	sent := append([]byte(opening), 0x81, 127, 0, 0, 1, 0, 0, 0, 0, 0)
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, ears{dropped: func(string) {}})
	if _, err := io.ReadAll(w); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("got %v", err)
	}
}
