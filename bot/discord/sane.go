package discord

import (
	"encoding/json"
	"errors"
	"fmt"
	"time"
)

// A signal is one message of the gateway (Discord documentation, "Gateway:
// Payload Structure").
type signal struct {
	Op   *int            `json:"op"`
	Seq  *int64          `json:"s,omitempty"`
	Name string          `json:"t,omitempty"`
	Data json.RawMessage `json:"d"`
}

// unknownTo marks the name of an event so that discordgo does not know it, and
// hands it on raw. What it knows it decodes, in a goroutine of its own, where a
// null or a list in the wrong place ends the process.
const unknownTo = "~"

// The intervals of heartbeats that are believed; the gateway asks for some 41
// seconds.
const (
	leastBeat = 100 * time.Millisecond
	mostBeat  = time.Hour
)

// errOdd is a message that nothing can be done with: it is dropped. errFaulty is
// one after which the connection is of no use.
var (
	errOdd    = errors.New("a message of the gateway that makes no sense")
	errFaulty = errors.New("a connection to the gateway that makes no sense")
)

// sane reads a message of the gateway and writes it down for discordgo as
// something that it survives: the operations it knows, with the data it needs.
// What was sent is in p, whole.
func sane(message []byte) (p signal, forDiscordgo []byte, err error) {
	if err := json.Unmarshal(message, &p); err != nil {
		return p, nil, fmt.Errorf("%w: %w", errOdd, err)
	}
	if p.Op == nil {
		return p, nil, fmt.Errorf("%w: it has no operation", errOdd)
	}
	told := signal{Op: p.Op}
	switch *p.Op {
	case opEvent:
		if p.Seq == nil || *p.Seq < 0 || p.Name == "" {
			return p, nil, fmt.Errorf("%w: an event without number or name", errOdd)
		}
		told.Seq = p.Seq
		switch p.Name {
		case "READY":
			var d struct {
				Session string `json:"session_id"`
			}
			if err := json.Unmarshal(p.Data, &d); err != nil || d.Session == "" {
				return p, nil, fmt.Errorf("%w: ready without a session", errFaulty)
			}
			told.Name = p.Name
			told.Data, err = json.Marshal(d)
		case "RESUMED":
			told.Name, told.Data = p.Name, json.RawMessage("{}")
		default:
			told.Name, told.Data = unknownTo+p.Name, p.Data
		}
	case opHello:
		var d struct {
			Interval float64 `json:"heartbeat_interval"`
		}
		err := json.Unmarshal(p.Data, &d)
		if every := d.Interval / 1000; err != nil || !(every >= leastBeat.Seconds() && every <= mostBeat.Seconds()) {
			return p, nil, fmt.Errorf("%w: hello without an interval to believe", errFaulty)
		}
		told.Data = fmt.Appendf(nil, `{"heartbeat_interval":%d}`, int64(d.Interval))
	case opHeartbeat, opReconnect, opInvalid, opHeard:
		told.Data = p.Data
	default:
		return p, nil, fmt.Errorf("%w: operation %d", errOdd, *p.Op)
	}
	if len(told.Data) == 0 {
		told.Data = json.RawMessage("null")
	}
	if err == nil {
		forDiscordgo, err = json.Marshal(told)
	}
	return p, forDiscordgo, err
}
