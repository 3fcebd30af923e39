package standin

import (
	"encoding/json"
	"net/http"
	"slices"
	"strconv"
	"time"
)

// Interaction kinds and answers.
const (
	kindCommand   = 2
	kindComponent = 3
	kindComplete  = 4
	kindModal     = 5

	answerMessage     = 4
	answerLater       = 5
	answerUpdateLater = 6
	answerUpdate      = 7
	answerChoices     = 8
	answerModal       = 9
)

// interaction is one thing somebody did, and how far the bot is with
// answering it.
type interaction struct {
	id, token string
	kind      int
	user      *User
	channel   *Channel
	source    *message // the message its button, menu or modal belongs to
	words     string   // what was typed or pressed, for the transcript

	born     time.Time
	acked    int // the answer's type, 0 before it came
	after    time.Duration
	failed   string   // what the person is told when it went wrong
	dead     bool     // the token no longer works
	original *message // the answer
	modal    *modalBody
	choices  []choiceBody
	settled  *message // what the person ends up seeing
}

// begin makes an interaction and sends it to the bot. data is the kind's own
// part of the event. The caller holds s.mu.
func (s *Stand) begin(in *interaction, data map[string]any) error {
	in.id, in.token, in.born = s.newID(), secret(40), time.Now()
	s.interactions[in.id] = in
	event := map[string]any{
		"id": in.id, "application_id": s.app, "type": in.kind, "data": data, "token": in.token, "version": 1,
		"channel_id": in.channel.ID, "channel": in.channel.json(), "locale": "en-GB", "entitlements": []any{},
		"attachment_size_limit": maxFile,
		"app_permissions":       strconv.Itoa(in.channel.permissions(s.botUser)),
	}
	server := ""
	if srv := in.channel.server; srv != nil {
		server = srv.ID
		m := srv.members[in.user.ID]
		if m == nil {
			return errMissingAccess
		}
		event["guild_id"], event["guild_locale"] = srv.ID, "en-GB"
		event["guild"] = map[string]any{"id": srv.ID, "locale": "en-GB", "features": []string{}}
		event["member"] = m.json(in.channel.permissions(in.user))
		event["context"] = 0
		event["authorizing_integration_owners"] = map[string]string{"0": srv.ID}
	} else {
		event["user"] = in.user.json()
		event["context"] = 1
		event["authorizing_integration_owners"] = map[string]string{"0": "0"}
	}
	if in.source != nil {
		event["message"] = s.messageJSON(in.source, false)
	}
	if !s.announce(server, "INTERACTION_CREATE", event) {
		in.failed = notResponding
	}
	within := s.cfg.AckWithin
	time.AfterFunc(within, func() {
		s.mu.Lock()
		defer s.mu.Unlock()
		if in.acked == 0 && in.failed == "" {
			in.failed, in.dead = notResponding, true
			s.touch()
		}
	})
	return nil
}

// What the platform's own client says when no answer came in time.
const notResponding = "The application did not respond"

func (s *Stand) postCallback(r *http.Request, body []byte) (any, error) {
	var b struct {
		Type int             `json:"type"`
		Data json.RawMessage `json:"data"`
	}
	parts, err := readBody(r, body, &b)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	in := s.interactions[r.PathValue("id")]
	switch {
	case in == nil || in.token != r.PathValue("token"):
		return nil, errUnknownInteraction
	case in.acked != 0:
		return nil, errAcknowledged
	case in.dead || time.Since(in.born) > s.cfg.AckWithin:
		return nil, errUnknownInteraction
	}
	switch b.Type {
	case answerMessage, answerUpdate:
		m := &messageBody{parts: parts}
		if err := strict(b.Data, m); err != nil {
			return nil, err
		}
		if err := m.check(); err != nil {
			return nil, err
		}
		if b.Type == answerUpdate {
			if in.source == nil {
				return nil, invalid("type: there is no message to update")
			}
			if err := s.fill(in.source, m, true); err != nil {
				return nil, err
			}
			s.change(in.source)
			in.original = in.source
		} else {
			o := s.answer(in, m.Flags != nil && *m.Flags&flagEphemeral != 0)
			if err := s.fill(o, m, false); err != nil {
				return nil, err
			}
			s.add(o)
			in.original = o
		}
		in.settled = in.original
	case answerLater:
		var d struct {
			Flags int `json:"flags"`
		}
		if len(b.Data) > 0 {
			if err := strict(b.Data, &d); err != nil {
				return nil, err
			}
		}
		if d.Flags&^flagEphemeral != 0 {
			return nil, invalid("data.flags: only EPHEMERAL can be set")
		}
		in.original = s.answer(in, d.Flags != 0)
		in.original.loading = true
		s.add(in.original)
	case answerUpdateLater:
		if in.source == nil {
			return nil, invalid("type: there is no message to update")
		}
		in.original = in.source
	case answerChoices:
		var d struct {
			Choices []choiceBody `json:"choices"`
		}
		if in.kind != kindComplete {
			return nil, invalid("type: only completions are answered with choices")
		}
		if err := strict(b.Data, &d); err != nil {
			return nil, err
		}
		if err := checkChoices(d.Choices); err != nil {
			return nil, err
		}
		in.choices = d.Choices
	case answerModal:
		if in.kind == kindModal || in.kind == kindComplete {
			return nil, invalid("type: a modal cannot answer this")
		}
		m := &modalBody{}
		if err := strict(b.Data, m); err != nil {
			return nil, err
		}
		if err := m.check(); err != nil {
			return nil, err
		}
		in.modal = m
	default:
		return nil, invalid("type: Value must be one of {1, 4, 5, 6, 7, 8, 9, 10, 12}")
	}
	if in.kind == kindComplete && b.Type != answerChoices {
		return nil, invalid("type: a completion is answered with choices")
	}
	in.acked, in.after = b.Type, time.Since(in.born)
	s.touch()
	return nil, nil
}

func (s *Stand) answer(in *interaction, private bool) *message {
	m := &message{channel: in.channel, author: s.botUser, origin: in}
	if private {
		m.viewer = in.user
	}
	return m
}

// held finds the interaction a token speaks for.
func (s *Stand) held(r *http.Request) (*interaction, error) {
	for _, in := range s.interactions {
		if in.token != r.PathValue("token") {
			continue
		}
		if r.PathValue("app") != s.app || in.acked == 0 {
			return nil, errUnknownWebhook
		}
		if in.dead || time.Since(in.born) > s.cfg.TokenLife {
			return nil, errDeadToken
		}
		return in, nil
	}
	return nil, errUnknownWebhook
}

// answered finds the message that r names among the answers to in.
func (s *Stand) answered(r *http.Request, in *interaction) (*message, error) {
	id := r.PathValue("message")
	m := s.messages[id]
	if id == "@original" {
		m = in.original
	} else if m != nil && m.origin != in {
		m = nil
	}
	if m == nil || m.deleted {
		return nil, errUnknownMessage
	}
	return m, nil
}

func (s *Stand) postFollowUp(r *http.Request, body []byte) (any, error) {
	b, err := readMessage(r, body)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	in, err := s.held(r)
	if err != nil {
		return nil, err
	}
	// The first follow-up to a deferred answer fills the placeholder, whose
	// visibility was settled when it was deferred.
	if o := in.original; o != nil && o.loading && !o.deleted {
		if err := s.fill(o, b, true); err != nil {
			return nil, err
		}
		s.change(o)
		in.settled = o
		return s.messageJSON(o, false), nil
	}
	m := s.answer(in, b.Flags != nil && *b.Flags&flagEphemeral != 0)
	if err := s.fill(m, b, false); err != nil {
		return nil, err
	}
	s.add(m)
	if in.settled == nil {
		in.settled = m
		s.touch()
	}
	return s.messageJSON(m, false), nil
}

func (s *Stand) getAnswer(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	in, err := s.held(r)
	if err != nil {
		return nil, err
	}
	m, err := s.answered(r, in)
	if err != nil {
		return nil, err
	}
	return s.messageJSON(m, false), nil
}

func (s *Stand) patchAnswer(r *http.Request, body []byte) (any, error) {
	b, err := readMessage(r, body)
	if err != nil {
		return nil, err
	}
	if b.Nonce != nil || b.Reference != nil || b.TTS {
		return nil, invalid("an edit has no nonce, reference or tts")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	in, err := s.held(r)
	if err != nil {
		return nil, err
	}
	m, err := s.answered(r, in)
	if err != nil {
		return nil, err
	}
	if err := s.fill(m, b, true); err != nil {
		return nil, err
	}
	s.change(m)
	if in.settled == nil {
		in.settled = m
		s.touch()
	}
	return s.messageJSON(m, false), nil
}

func (s *Stand) deleteAnswer(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	in, err := s.held(r)
	if err != nil {
		return nil, err
	}
	m, err := s.answered(r, in)
	if err != nil {
		return nil, err
	}
	s.remove(m)
	if in.settled == m {
		in.settled = nil
	}
	return nil, nil
}

// late settles interactions that the bot could no longer answer directly and
// answers with a message m: in the same channel and naming the person, or to
// them directly. The oldest waiting one is meant.
func (s *Stand) late(m *message) {
	var found *interaction
	for _, in := range s.interactions {
		if !in.dead || in.settled != nil || in.acked == 0 {
			continue
		}
		named := in.channel == m.channel && slices.Contains(m.mentions, in.user)
		direct := m.channel.recipient == in.user
		if (named || direct) && (found == nil || in.born.Before(found.born)) {
			found = in
		}
	}
	if found != nil {
		found.settled = m
		s.touch()
	}
}
