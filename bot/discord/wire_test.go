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

func (c fakeConn) Read(p []byte) (int, error) { return c.Reader.Read(p) }

const opening = "HTTP/1.1 101 Switching Protocols\r\nUpgrade: websocket\r\n\r\n"

// However the bytes arrive, and in however many frames, what is handed on is
// every message that makes sense, up to an operation that ends the connection.
func TestWireHandsOnWhatMakesSense(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		sent, want := []byte(opening), []byte(opening)
		beats, odd := 0, 0
		for range rapid.IntRange(0, 8).Draw(t, "frames") {
			size := rapid.SampledFrom([]int{0, 3, 125, 126, 1000, 65535, 65536, 70000}).Draw(t, "size")
			long := strings.Repeat("x", size)
			switch rapid.IntRange(0, 4).Draw(t, "kind") {
			case 0: // makes no sense
				sent = append(sent, frame(1, []byte(long))...)
				odd++
			case 1: // not text
				sent = append(sent, frame(2, []byte(long))...)
				want = append(want, frame(2, []byte(long))...)
			case 2:
				sent = append(sent, frame(1, []byte(`{"t":null,"op":11,"d":null}`))...)
				want = append(want, frame(1, []byte(`{"op":11,"d":null}`))...)
				beats++
			case 3:
				sent = append(sent, frame(1, fmt.Appendf(nil, `{"t":"EVENT","s":3,"op":0,"d":"%s"}`, long))...)
				want = append(want, frame(1, fmt.Appendf(nil, `{"op":0,"s":3,"t":"~EVENT","d":"%s"}`, long))...)
			case 4: // in three frames, with another between them
				text := fmt.Appendf(nil, `{"t":"EVENT","s":4,"op":0,"d":"%s"}`, long)
				first := frame(1, text[:5])
				first[0] &^= 0x80
				second := frame(0, text[5:9])
				second[0] &^= 0x80
				ping := frame(9, []byte("ping"))
				sent = slices.Concat(sent, first, ping, second, frame(0, text[9:]))
				want = slices.Concat(want, ping, frame(1, fmt.Appendf(nil, `{"op":0,"s":4,"t":"~EVENT","d":"%s"}`, long)))
			}
		}
		ends := rapid.SampledFrom([]string{"", `{"op":7,"d":null}`, `{"op":9,"d":false}`, `{"op":10,"d":{"heartbeat_interval":0}}`, `{"op":0,"s":1,"t":"READY","d":null}`}).Draw(t, "end")
		if ends != "" {
			sent = append(sent, frame(1, []byte(ends))...)
			sent = append(sent, frame(1, []byte(`{"op":11}`))...)
		}
		heard, dropped := 0, 0
		r := io.Reader(bytes.NewReader(sent))
		if rapid.Bool().Draw(t, "byte by byte") {
			r = iotest.OneByteReader(r)
		}
		w := newWire(fakeConn{Reader: r}, func(op int, _ json.RawMessage) bool {
			if op == opHeard {
				heard++
			}
			return op == opHeard
		}, func(int) {}, func(why error) {
			if errors.Is(why, errOdd) {
				dropped++
			}
		})
		got, err := io.ReadAll(w)
		if err != nil {
			t.Fatalf("read: %v", err)
		}
		if !bytes.Equal(got, want) {
			t.Fatalf("handed on %d bytes, want %d:\n%.300q\n%.300q", len(got), len(want), got, want)
		}
		if heard != beats || dropped != odd {
			t.Fatalf("heard %d heartbeats of %d, dropped %d messages of %d", heard, beats, dropped, odd)
		}
		if ends != "" {
			if _, err := w.Write([]byte("x")); !errors.Is(err, net.ErrClosed) {
				t.Fatalf("a write after the end: %v", err)
			}
		}
	})
}

func TestWireClose(t *testing.T) {
	sent := append([]byte(opening), frame(8, append(binary.BigEndian.AppendUint16(nil, 4004), "Authentication failed."...))...)
	code := 0
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, func(int, json.RawMessage) bool { return true }, func(c int) { code = c }, nil)
	got, err := io.ReadAll(w)
	if err != nil || !bytes.Equal(got, sent) || code != 4004 {
		t.Errorf("code %d, %d bytes, %v", code, len(got), err)
	}
}

// A refused opening is handed on as it is.
func TestWireRefused(t *testing.T) {
	const sent = "HTTP/1.1 503 Service Unavailable\r\nContent-Length: 4\r\n\r\nbusy"
	w := newWire(fakeConn{Reader: bytes.NewReader([]byte(sent))}, nil, nil, nil)
	if got, err := io.ReadAll(w); err != nil || string(got) != sent {
		t.Errorf("%q, %v", got, err)
	}
}

// A frame that claims to be larger than any is refused before it is read.
func TestWireHugeFrame(t *testing.T) {
	sent := append([]byte(opening), 0x81, 127, 0, 0, 1, 0, 0, 0, 0, 0)
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, nil, nil, nil)
	if _, err := io.ReadAll(w); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("got %v", err)
	}
}
