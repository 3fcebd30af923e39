package discord

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"io"
	"net"
	"strings"
	"sync/atomic"
)

// Gateway operations that we look at.
const (
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
// It reads whole frames (RFC 6455, section 5.2) and hands them on unchanged.
type wire struct {
	net.Conn
	in  *bufio.Reader
	out []byte // read, and not yet handed on
	end error

	upgraded bool // the HTTP answer that opens a websocket is over
	opaque   bool // it was refused; what follows are no frames

	over atomic.Bool // nothing more is to be sent

	heard  func(op int, data json.RawMessage) (goOn bool)
	closed func(code int)
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

func newWire(c net.Conn, heard func(int, json.RawMessage) bool, closed func(int)) *wire {
	return &wire{Conn: c, in: bufio.NewReaderSize(c, 64<<10), heard: heard, closed: closed}
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
	const text, closing = 1, 8
	switch head[0] & 0x0f {
	case closing:
		w.over.Store(true)
		if len(payload) >= 2 {
			w.closed(int(binary.BigEndian.Uint16(payload)))
		}
	case text:
		// Everything but events is short.
		if len(payload) > 1024 {
			break
		}
		var m struct {
			Op   int             `json:"op"`
			Data json.RawMessage `json:"d"`
		}
		if json.Unmarshal(payload, &m) == nil && m.Op != 0 && !w.heard(m.Op, m.Data) {
			w.over.Store(true)
			return nil, io.EOF
		}
	}
	return whole, nil
}
