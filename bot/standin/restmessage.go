package standin

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
)

// readMessage reads and checks a message body.
func readMessage(r *http.Request, body []byte) (*messageBody, error) {
	b := &messageBody{}
	parts, err := readBody(r, body, b)
	if err != nil {
		return nil, err
	}
	b.parts = parts
	return b, b.check()
}

// fill applies b to m. On an edit, fields that are absent stay as they are,
// except the files not listed, which go (the documentation of Edit Message).
func (s *Stand) fill(m *message, b *messageBody, edit bool) error {
	if b.Embeds != nil && string(*b.Embeds) != "null" && string(*b.Embeds) != "[]" {
		return invalid("embeds: the stand-in shows none")
	}
	if b.Content != nil {
		m.content = *b.Content
	}
	if b.Components != nil {
		m.components = *b.Components
	}
	if err := s.attach(m, b, edit); err != nil {
		return err
	}
	if strings.TrimSpace(m.content) == "" && len(m.files) == 0 && len(m.components) < 3 {
		return errEmpty
	}
	if !edit || m.loading {
		allowed := b.Allowed
		m.mentions, m.everyone = s.mentioned(m.content, allowed)
	}
	return nil
}

// attach stores the files that came with b and keeps the old ones it lists.
func (s *Stand) attach(m *message, b *messageBody, edit bool) error {
	described := map[string]attachmentBody{}
	keep := map[string]bool{}
	if b.Attachments != nil {
		if len(*b.Attachments) > 10 {
			return invalid("attachments: more than 10")
		}
		for i, a := range *b.Attachments {
			id := strings.Trim(string(a.ID), `"`)
			if badLength(a.Description, 0, 1024) {
				return invalid("attachments[%d].description: Must be 1024 or fewer in length", i)
			}
			described[id] = a
			keep[id] = true
		}
	}
	if edit && b.Attachments != nil {
		var kept []*upload
		for _, f := range m.files {
			if keep[f.id] {
				kept = append(kept, f)
			}
		}
		m.files = kept
	}
	for n := 0; n < 10; n++ {
		p, ok := b.parts[n]
		if !ok {
			continue
		}
		a, listed := described[fmt.Sprint(n)]
		if b.Attachments != nil && !listed {
			return invalid("files[%d]: not among the attachments", n)
		}
		u := s.store(m.channel, File{Name: or(a.Filename, p.name), Bytes: p.bytes, ContentType: p.contentType})
		u.description = a.Description
		m.files = append(m.files, u)
		delete(described, fmt.Sprint(n))
	}
	for id := range described {
		if len(id) < 3 {
			return invalid("attachments: %s has no files[%s] (ATTACHMENT_NOT_FOUND)", id, id)
		}
	}
	return nil
}

func (s *Stand) postMessage(r *http.Request, body []byte) (any, error) {
	b, err := readMessage(r, body)
	if err != nil {
		return nil, err
	}
	if b.Flags != nil && *b.Flags&flagEphemeral != 0 {
		return nil, invalid("flags: only answers to interactions can be ephemeral")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.channel(r)
	if err != nil {
		return nil, err
	}
	need := SendMessages
	if c.parent != nil {
		need = SendInThreads
	}
	if len(b.parts) > 0 {
		need |= AttachFiles
	}
	switch {
	case c.refuses:
		return nil, errRefusesDirect
	case c.permissions(s.botUser)&need != need:
		return nil, errMissingPermissions
	}
	nonce := ""
	if b.Nonce != nil {
		nonce = fmt.Sprint(b.Nonce)
	}
	if nonce != "" && b.Enforce {
		for _, m := range c.order {
			if m.nonce == nonce && m.author.bot {
				return s.messageJSON(m, false), nil
			}
		}
	}
	m := &message{channel: c, author: s.botUser, nonce: nonce}
	if b.Reference != nil {
		m.replyTo = s.messages[b.Reference.MessageID]
		if m.replyTo == nil && (b.Reference.FailIfNotExists == nil || *b.Reference.FailIfNotExists) {
			return nil, invalid("message_reference: Unknown message (REPLIES_UNKNOWN_MESSAGE)")
		}
	}
	if err := s.fill(m, b, false); err != nil {
		return nil, err
	}
	if m.replyTo != nil && (b.Allowed == nil || b.Allowed.RepliedUser) {
		m.mentions = append(m.mentions, m.replyTo.author)
	}
	c.archived = false
	s.add(m)
	s.late(m)
	return s.messageJSON(m, false), nil
}

func (s *Stand) message(r *http.Request) (*message, error) {
	c, err := s.channel(r)
	if err != nil {
		return nil, err
	}
	m := s.messages[r.PathValue("message")]
	if m == nil || m.deleted || m.channel != c || m.viewer != nil {
		return nil, errUnknownMessage
	}
	return m, nil
}

// getMessages lists a channel's newest messages, the newest first: 50, or as
// many as asked for, to 100.
func (s *Stand) getMessages(r *http.Request, _ []byte) (any, error) {
	limit := 50
	if text := r.URL.Query().Get("limit"); text != "" {
		var err error
		if limit, err = strconv.Atoi(text); err != nil || limit < 1 || limit > 100 {
			return nil, invalid("limit: not between 1 and 100")
		}
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.channel(r)
	if err != nil {
		return nil, err
	}
	all := []any{}
	if c.server != nil && c.permissions(s.botUser)&ReadHistory == 0 {
		return all, nil // as the platform does: no messages, and no word of it
	}
	for _, m := range slices.Backward(c.order) {
		if len(all) < limit && !m.deleted && m.viewer == nil {
			all = append(all, s.messageJSON(m, false))
		}
	}
	return all, nil
}

func (s *Stand) getMessage(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	m, err := s.message(r)
	if err != nil {
		return nil, err
	}
	return s.messageJSON(m, false), nil
}

func (s *Stand) patchMessage(r *http.Request, body []byte) (any, error) {
	b, err := readMessage(r, body)
	if err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	m, err := s.message(r)
	if err != nil {
		return nil, err
	}
	if m.author != s.botUser {
		return nil, &refusal{403, 50005, "Cannot edit a message authored by another user", ""}
	}
	if err := s.fill(m, b, true); err != nil {
		return nil, err
	}
	s.change(m)
	return s.messageJSON(m, false), nil
}

func (s *Stand) deleteMessage(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	m, err := s.message(r)
	if err != nil {
		return nil, err
	}
	if m.author != s.botUser {
		return nil, errMissingPermissions
	}
	s.remove(m)
	return nil, nil
}

// putPin pins a message, whoever wrote it. Pinned once more it stays so.
func (s *Stand) putPin(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	m, err := s.message(r)
	if err != nil {
		return nil, err
	}
	if m.channel.permissions(s.botUser)&PinMessages == 0 {
		return nil, errMissingPermissions
	}
	m.pinned = true
	s.touch()
	return nil, nil
}
