package discord

import (
	"bytes"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"net"
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

// However the bytes arrive, what is handed on is what came in, up to an
// operation that ends the connection.
func TestWireHandsOnEverything(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		var sent []byte
		sent = append(sent, opening...)
		var ops []int
		for range rapid.IntRange(0, 8).Draw(t, "frames") {
			size := rapid.SampledFrom([]int{0, 3, 125, 126, 1000, 65535, 65536, 70000}).Draw(t, "size")
			switch rapid.IntRange(0, 2).Draw(t, "kind") {
			case 0:
				sent = append(sent, frame(1, bytes.Repeat([]byte("x"), size))...)
			case 1:
				sent = append(sent, frame(2, bytes.Repeat([]byte{0}, size))...)
			case 2:
				sent = append(sent, frame(1, []byte(`{"t":null,"op":11,"d":null}`))...)
				ops = append(ops, opHeard)
			}
		}
		kept := len(sent)
		ends := rapid.SampledFrom([]string{"", `{"op":7,"d":null}`, `{"op":9,"d":false}`}).Draw(t, "end")
		if ends != "" {
			sent = append(sent, frame(1, []byte(ends))...)
			sent = append(sent, frame(1, []byte("never seen"))...)
		}
		var heard []int
		r := io.Reader(bytes.NewReader(sent))
		if rapid.Bool().Draw(t, "byte by byte") {
			r = iotest.OneByteReader(r)
		}
		w := newWire(fakeConn{Reader: r}, func(op int, _ json.RawMessage) bool {
			if op == opHeard {
				heard = append(heard, op)
			}
			return op == opHeard
		}, func(int) {})
		got, err := io.ReadAll(w)
		if err != nil {
			t.Fatalf("read: %v", err)
		}
		if !bytes.Equal(got, sent[:kept]) {
			t.Fatalf("handed on %d bytes of %d", len(got), kept)
		}
		if len(heard) != len(ops) {
			t.Fatalf("heard %d heartbeats of %d", len(heard), len(ops))
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
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, func(int, json.RawMessage) bool { return true }, func(c int) { code = c })
	got, err := io.ReadAll(w)
	if err != nil || !bytes.Equal(got, sent) || code != 4004 {
		t.Errorf("code %d, %d bytes, %v", code, len(got), err)
	}
}

// A refused opening is handed on as it is.
func TestWireRefused(t *testing.T) {
	const sent = "HTTP/1.1 503 Service Unavailable\r\nContent-Length: 4\r\n\r\nbusy"
	w := newWire(fakeConn{Reader: bytes.NewReader([]byte(sent))}, nil, nil)
	if got, err := io.ReadAll(w); err != nil || string(got) != sent {
		t.Errorf("%q, %v", got, err)
	}
}

// A frame that claims to be larger than any is refused before it is read.
func TestWireHugeFrame(t *testing.T) {
	sent := append([]byte(opening), 0x81, 127, 0, 0, 1, 0, 0, 0, 0, 0)
	w := newWire(fakeConn{Reader: bytes.NewReader(sent)}, nil, nil)
	if _, err := io.ReadAll(w); !errors.Is(err, io.ErrUnexpectedEOF) {
		t.Errorf("got %v", err)
	}
}
