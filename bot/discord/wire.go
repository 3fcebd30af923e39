package discord

import (
	"bufio"
	"encoding/binary"
	"encoding/json"
	"io"
	"net"
	"slices"
	"strings"
	"sync/atomic"
	"time"
)

// Gateway operations that we look at.
const (
	opEvent     = 0
	opBeat      = 1 // a heartbeat is wanted now
	opIdentify  = 2
	opResume    = 6
	opReconnect = 7
	opInvalid   = 9
	opHello     = 10
	opHeard     = 11 // a heartbeat was answered
)

// wire is a connection to the gateway that looks at what comes in before
// discordgo does. discordgo keeps close codes to itself, answers "reconnect"
// during a resume by locking itself out for good, answers "invalid session" by
// identifying at once and again, and does not tell when heartbeats are
// answered. It also ends the process at a frame that is null, at events without
// data and at a heartbeat interval of nothing. So operations are heard here,
// events are taken out here, and discordgo is given frames of our own making
// with nothing in them but what it needs: the interval, the session, and how
// far we have read. What is no frame of the gateway is dropped.
//
// It reads whole frames (RFC 6455, section 5.2).
type wire struct {
	net.Conn
	in  *bufio.Reader
	out []byte // read, and not yet handed on
	end error

	upgraded bool // the HTTP answer that opens a websocket is over
	opaque   bool // it was refused; what follows are no frames

	over atomic.Bool // nothing more is to be sent

	greeted  bool // the gateway said hello
	disowned bool // the gateway does not know the session any more
	begun    bool // discordgo was given an event

	message []byte // the part of a text message that has come
	partial bool   // the rest of it is to come

	ears
}

// ears is who listens to a wire.
type ears struct {
	heard   func(op int, data json.RawMessage)
	event   func(name string, data json.RawMessage, settle func())
	closed  func(code int)
	dropped func(why string)
	ledger  *ledger // nil for none
}

// Write implements io.Writer. Once the connection is over it sends nothing:
// discordgo would say goodbye with code 1000, which ends the session as well
// (Discord documentation, "Gateway: Disconnecting"), when it might be resumed.
//
// It never fails. Of a connection that cannot be written to what has come is
// still read, a close code perhaps, and who reads learns of its end: were
// discordgo told twice that one connection ended, by its heartbeat and by its
// reader, the second time would end the next one.
func (w *wire) Write(p []byte) (int, error) {
	if w.over.Load() {
		return len(p), nil
	}
	if _, err := w.Conn.Write(w.resuming(p)); err != nil {
		w.over.Store(true)
		w.Conn.SetReadDeadline(time.Now().Add(lastWords))
	}
	return len(p), nil
}

// lastWords is how long a connection that is not written to any more is listened
// to.
const lastWords = 2 * time.Second

// hangUp ends this side of the connection. What the gateway sent before it
// noticed is still read: events that a session which it then no longer knows
// would not bring again, or a close code that forbids coming back.
func (w *wire) hangUp() {
	w.over.Store(true)
	w.Conn.SetReadDeadline(time.Now().Add(lastWords))
	if half, ok := w.Conn.(interface{ CloseWrite() error }); ok && half.CloseWrite() == nil {
		return
	}
	w.Conn.Close()
}

// maxFrame is far above any frame of the gateway.
const maxFrame = 32 << 20

func newWire(c net.Conn, e ears) *wire {
	return &wire{Conn: c, in: bufio.NewReaderSize(c, 64<<10), ears: e}
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

// Opcodes of frames (RFC 6455, section 5.2).
const (
	frameMore   = 0
	frameText   = 1
	frameBinary = 2
	frameClose  = 8
	framePing   = 9
	framePong   = 10
)

// frame reads one frame and returns what is to be handed on, which may be
// nothing.
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
	last, kind := head[0]&0x80 != 0, head[0]&0x0f
	control := kind >= frameClose
	broken := head[0]&0x70 != 0 || head[1]&0x80 != 0 || kind > framePong || kind > frameBinary && !control ||
		control && (!last || size > 125) || (kind == frameMore) != w.partial && !control ||
		size > maxFrame || size+uint64(len(w.message)) > maxFrame
	if broken {
		w.over.Store(true)
		w.dropped("no frame at all")
		return nil, io.ErrUnexpectedEOF
	}
	whole := make([]byte, len(head)+int(size))
	copy(whole, head)
	payload := whole[len(head):]
	if _, err := io.ReadFull(w.in, payload); err != nil {
		return nil, err
	}
	switch kind {
	case frameClose:
		w.over.Store(true)
		if len(payload) >= 2 {
			w.closed(int(binary.BigEndian.Uint16(payload)))
		}
		return whole, nil
	case framePing, framePong:
		return whole, nil
	}
	// Compression was never asked for: binary is read as text, and is none.
	w.message, w.partial = append(w.message, payload...), !last
	if !last {
		return nil, nil
	}
	message := w.message
	w.message = nil
	return w.sift(message)
}

// sift looks at one message and returns what discordgo is given in its place.
func (w *wire) sift(message []byte) ([]byte, error) {
	var m struct {
		Op   *int            `json:"op"`
		Data json.RawMessage `json:"d"`
		Seq  *int64          `json:"s"`
		Type *string         `json:"t"`
	}
	switch err := json.Unmarshal(message, &m); {
	case err != nil || m.Op == nil:
		w.dropped("no message of the gateway")
		return nil, nil
	case w.disowned: // but for its last word, which is no message
		return nil, nil
	case !w.greeted && *m.Op != opHello:
		w.dropped("before hello")
		return nil, nil
	}
	switch *m.Op {
	case opEvent:
		if m.Type == nil || m.Seq == nil || *m.Seq <= 0 {
			w.dropped("an event without a name or number")
			return nil, nil
		}
		return w.take(*m.Type, *m.Seq, m.Data), nil
	case opBeat:
		return textFrame(map[string]any{"op": opBeat}), nil
	case opReconnect:
		w.heard(opReconnect, m.Data)
		w.hangUp()
	case opInvalid:
		w.heard(opInvalid, m.Data)
		w.disowned = true
		w.hangUp()
	case opHello:
		if w.greeted {
			w.dropped("hello again")
			return nil, nil
		}
		w.greeted = true
		beat, ok := interval(m.Data)
		if !ok {
			w.dropped("a heartbeat interval that makes no sense; taking the usual one")
		}
		clean := map[string]any{"heartbeat_interval": beat}
		w.heard(opHello, jsonBody(clean).bytes)
		return textFrame(map[string]any{"op": opHello, "d": clean}), nil
	case opHeard:
		w.heard(opHeard, nil)
		if !w.begun { // discordgo, which waits for an event, would lock itself out
			return nil, nil
		}
		return textFrame(map[string]any{"op": opHeard}), nil
	default:
		w.dropped("an operation that is not known")
	}
	return nil, nil
}

// take hands an event to who listens. discordgo learns that it came, and of the
// session it opens.
func (w *wire) take(name string, seq int64, data json.RawMessage) []byte {
	stub := map[string]any{"op": opEvent, "s": seq, "t": "", "d": struct{}{}}
	switch name {
	case "READY":
		var d struct {
			Session string `json:"session_id"`
			Address string `json:"resume_gateway_url"`
		}
		if json.Unmarshal(data, &d) != nil || d.Session == "" {
			w.dropped("READY without a session")
			return nil
		}
		stub["t"], stub["d"] = name, map[string]any{"v": 10, "session_id": d.Session}
		w.ledger.opened(d.Session, d.Address, seq)
	case "RESUMED":
		stub["t"] = name
		w.ledger.passed(seq)
	default:
		if len(data) == 0 || data[0] != '{' {
			w.dropped("an event without data")
			w.ledger.passed(seq)
			break
		}
		if settle, ok := w.ledger.begin(seq); ok {
			w.event(name, data, settle)
		}
	}
	w.begun = true
	return textFrame(stub)
}

// resuming is what is sent in place of what discordgo sends: where another process
// was before in a session, that is resumed where it was left, for discordgo knows
// nothing of it and would identify, or resume a session without a name.
func (w *wire) resuming(p []byte) []byte {
	session, last := w.ledger.resumes()
	if session == "" || len(p) < 6 || p[0] != 0x80|frameText || p[1]&0x80 == 0 {
		return p
	}
	key, at := p[2:6], 6
	switch p[1] & 0x7f {
	case 126:
		key, at = p[4:8], 8
	case 127: // nothing that is sent is as long
		return p
	}
	text := make([]byte, len(p)-at)
	for i := range text {
		text[i] = p[at+i] ^ key[i%4]
	}
	var m struct {
		Op   int `json:"op"`
		Data struct {
			Token string `json:"token"`
		} `json:"d"`
	}
	if json.Unmarshal(text, &m) != nil || m.Op != opIdentify && m.Op != opResume {
		return p
	}
	return masked(textFrame(map[string]any{"op": opResume, "d": map[string]any{"token": m.Data.Token, "session_id": session, "seq": last}}))
}

// masked is a frame of a server's as a client sends it, with a key of nothing (RFC
// 6455, section 5.3: a key hides nothing from who it is sent to).
func masked(f []byte) []byte {
	at := 2
	switch f[1] {
	case 126:
		at = 4
	case 127:
		at = 10
	}
	f[1] |= 0x80
	return slices.Insert(f, at, 0, 0, 0, 0)
}

// interval reads how often the gateway wants a heartbeat, in milliseconds. What
// would flood it or never reach it is not believed; the usual 41.25 s [M] are
// taken instead.
func interval(data json.RawMessage) (ms int64, ok bool) {
	var d struct {
		Interval float64 `json:"heartbeat_interval"`
	}
	const least, usual, most = 250, 41250, 600_000
	if json.Unmarshal(data, &d) != nil || !(d.Interval >= least && d.Interval <= most) {
		return usual, false
	}
	return int64(d.Interval), true
}

// textFrame is v as an unmasked frame.
func textFrame(v any) []byte {
	b := jsonBody(v).bytes
	head := []byte{0x80 | frameText}
	switch n := len(b); {
	case n < 126:
		head = append(head, byte(n))
	case n < 1<<16:
		head = binary.BigEndian.AppendUint16(append(head, 126), uint16(n))
	default:
		head = binary.BigEndian.AppendUint64(append(head, 127), uint64(n))
	}
	return append(head, b...)
}
