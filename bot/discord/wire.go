package discord

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"errors"
	"io"
	"net"
	"strings"
	"sync/atomic"
)

// Gateway operations that we look at.
const (
	opEvent     = 0
	opHeartbeat = 1
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
	opHeard     = 11 // a heartbeat was answered
)

// wire is a connection to the gateway that looks at what comes in before
// discordgo does. discordgo keeps close codes to itself, answers "reconnect"
// during a resume by locking itself out for good, answers "invalid session" by
// identifying at once and again, and does not tell when heartbeats are
// answered. So those are seen here, and where discordgo would do the wrong
// thing the connection ends instead; link.go decides what comes next.
//
// It reads whole frames (RFC 6455, section 5.2). Those with text it hands on as
// discordgo survives them, see sane.go, and drops what makes no sense.
type wire struct {
	net.Conn
	in  *bufio.Reader
	out []byte // read, and not yet handed on
	end error

	upgraded bool // the HTTP answer that opens a websocket is over
	opaque   bool // it was refused; what follows are no frames

	over atomic.Bool // nothing more is to be sent

	text []byte // of a message in several frames, so far

	heard  func(op int, data json.RawMessage) (goOn bool)
	closed func(code int)
	odd    func(why error) // a message was dropped, or is the last
}

// Write implements io.Writer. Once the connection is over it sends nothing:
// discordgo would say goodbye with code 1000, which ends the session as well
// (Discord documentation, "Gateway: Disconnecting"), when it might be resumed.
func (w *wire) Write(p []byte) (int, error) {
	if w.over.Load() {
		return 0, net.ErrClosed
	}
	return w.Conn.Write(p)
}

// maxFrame is far above any frame of the gateway.
const maxFrame = 32 << 20

func newWire(c net.Conn, heard func(int, json.RawMessage) bool, closed func(int), odd func(error)) *wire {
	return &wire{Conn: c, in: bufio.NewReaderSize(c, 64<<10), heard: heard, closed: closed, odd: odd}
}

// Read implements io.Reader. Only one goroutine may read.
func (w *wire) Read(p []byte) (int, error) {
	for len(w.out) == 0 {
		if w.end != nil {
			return 0, w.end
		}
		switch {
		case w.opaque:
			return w.in.Read(p)
		case w.upgraded:
			w.out, w.end = w.frame()
		default:
			w.out, w.end = w.opening()
		}
	}
	n := copy(p, w.out)
	w.out = w.out[n:]
	return n, nil
}

// opening reads the HTTP answer up to its empty line.
func (w *wire) opening() ([]byte, error) {
	var b []byte
	for {
		line, err := w.in.ReadSlice('\n')
		b = append(b, line...)
		if err != nil {
			return b, err
		}
		if len(line) <= 2 {
			w.upgraded = true
			w.opaque = !strings.HasPrefix(string(b), "HTTP/1.1 101 ")
			return b, nil
		}
	}
}

// frame reads one frame. It returns none, with io.EOF, if the connection
// should end at it.
func (w *wire) frame() ([]byte, error) {
	head := make([]byte, 2, 10)
	if _, err := io.ReadFull(w.in, head); err != nil {
		return nil, err
	}
	size := uint64(head[1] & 0x7f)
	if more := map[uint64]int{126: 2, 127: 8}[size]; more > 0 {
		head = head[:2+more]
		if _, err := io.ReadFull(w.in, head[2:]); err != nil {
			return nil, err
		}
		var wide [8]byte
		copy(wide[8-more:], head[2:])
		size = binary.BigEndian.Uint64(wide[:])
	}
	if size > maxFrame {
		return nil, io.ErrUnexpectedEOF
	}
	whole := make([]byte, len(head)+int(size))
	copy(whole, head)
	payload := whole[len(head):]
	if _, err := io.ReadFull(w.in, payload); err != nil {
		return nil, err
	}
	const more, text, closing, last = 0, 1, 8, 0x80
	switch kind := head[0] & 0x0f; kind {
	case closing:
		w.over.Store(true)
		if len(payload) >= 2 {
			w.closed(int(binary.BigEndian.Uint16(payload)))
		}
	case more, text:
		if kind == text {
			w.text = w.text[:0]
		}
		if len(w.text)+len(payload) > maxFrame {
			return nil, io.ErrUnexpectedEOF
		}
		w.text = append(w.text, payload...)
		if head[0]&last == 0 {
			return nil, nil
		}
		return w.message(w.text)
	}
	return whole, nil
}

// message is a message as it is handed on, in a frame of its own: none if it is
// dropped, and io.EOF if the connection should end at it.
func (w *wire) message(message []byte) ([]byte, error) {
	p, handedOn, err := sane(message)
	if err != nil {
		w.odd(err)
	}
	switch {
	case errors.Is(err, errOdd):
		return nil, nil
	case err != nil, *p.Op != opEvent && !w.heard(*p.Op, p.Data):
		w.over.Store(true)
		return nil, io.EOF
	}
	return textFrame(handedOn), nil
}

// textFrame is a text in one frame as a server sends it.
func textFrame(text []byte) []byte {
	b := make([]byte, 0, len(text)+10)
	switch n := len(text); {
	case n < 126:
		b = append(b, 0x81, byte(n))
	case n < 1<<16:
		b = binary.BigEndian.AppendUint16(append(b, 0x81, 126), uint16(n))
	default:
		b = binary.BigEndian.AppendUint64(append(b, 0x81, 127), uint64(n))
	}
	return append(b, text...)
}
