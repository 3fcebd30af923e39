package standin

import (
	"encoding/json"
	"net/url"
	"regexp"
	"slices"
	"strings"
	"time"
)

const (
	flagEphemeral = 1 << 6
	flagLoading   = 1 << 7
)

// message is a message as the platform keeps it.
type message struct {
	id         string
	channel    *Channel
	author     *User
	viewer     *User // only this person sees it; nil for everybody who sees the channel
	at, edited time.Time
	content    string
	files      []*upload
	components json.RawMessage
	mentions   []*User // told of it
	everyone   bool
	nonce      string
	replyTo    *message
	origin     *interaction // answered by this message
	loading    bool         // "Rangepost is thinking..."
	deleted    bool
	pinned     bool
}

// upload is a stored file.
type upload struct {
	id, channel, name, description, contentType, sign string
	bytes                                             []byte
	declared                                          int64
	url                                               string // a forged address, instead of the real one
}

func (s *Stand) fileURL(u *upload) string {
	if u.url != "" {
		return u.url
	}
	return "http://" + s.cdnAddr + "/attachments/" + u.channel + "/" + u.id + "/" + url.PathEscape(u.name) + "?ex=" + u.sign[:8] + "&is=" + u.sign[8:16] + "&hm=" + u.sign[16:]
}

func (s *Stand) uploadJSON(u *upload) map[string]any {
	j := map[string]any{
		"id": u.id, "filename": u.name, "size": u.declared,
		"url": s.fileURL(u), "proxy_url": s.fileURL(u), "content_type": u.contentType,
	}
	if u.description != "" {
		j["description"] = u.description
	}
	return j
}

// store keeps a file posted in c. The caller holds s.mu.
func (s *Stand) store(c *Channel, f File) *upload {
	u := &upload{id: s.newID(), channel: c.ID, name: f.Name, bytes: f.Bytes, declared: int64(len(f.Bytes)), url: f.URL, sign: secret(24)}
	if f.Declared != 0 {
		u.declared = f.Declared
	}
	u.contentType = or(f.ContentType, "application/octet-stream")
	s.files[u.id] = u
	return u
}

// json is the message as wire JSON for an event or an answer. bare leaves out
// what an application without the message content intent may not see.
func (s *Stand) messageJSON(m *message, bare bool) map[string]any {
	j := map[string]any{
		"id": m.id, "channel_id": m.channel.ID, "author": m.author.json(), "content": m.content,
		"timestamp": stamp(m.at), "edited_timestamp": nil, "tts": false, "mention_everyone": m.everyone,
		"mentions": []any{}, "mention_roles": []string{}, "attachments": []any{}, "embeds": []any{},
		"components": json.RawMessage("[]"), "pinned": m.pinned, "type": 0, "flags": 0,
	}
	if !m.edited.IsZero() {
		j["edited_timestamp"] = stamp(m.edited)
	}
	flags := 0
	if m.viewer != nil {
		flags |= flagEphemeral
	}
	if m.loading {
		flags |= flagLoading
	}
	j["flags"] = flags
	mentions := []any{}
	for _, u := range m.mentions {
		mentions = append(mentions, u.json())
	}
	j["mentions"] = mentions
	if m.nonce != "" {
		j["nonce"] = m.nonce
	}
	if m.author.bot {
		j["application_id"] = s.app
	}
	if m.replyTo != nil {
		j["type"] = 19
		j["message_reference"] = map[string]any{"type": 0, "message_id": m.replyTo.id, "channel_id": m.channel.ID}
	}
	if m.origin != nil {
		j["type"] = 20
		j["webhook_id"] = s.app
		j["interaction_metadata"] = map[string]any{
			"id": m.origin.id, "type": m.origin.kind, "user": m.origin.user.json(),
			"authorizing_integration_owners": map[string]string{},
		}
	}
	if bare {
		j["content"] = ""
		return j
	}
	files := []any{}
	for _, f := range m.files {
		files = append(files, s.uploadJSON(f))
	}
	j["attachments"] = files
	if m.components != nil {
		j["components"] = m.components
	}
	return j
}

// announceMessage sends MESSAGE_CREATE or MESSAGE_UPDATE to the gateway.
// Ephemeral messages are announced to nobody.
func (s *Stand) announceMessage(event string, m *message) {
	if m.viewer != nil {
		return
	}
	server := ""
	if m.channel.server != nil {
		server = m.channel.server.ID
	}
	s.gateway.each(server, func(ses *session) {
		direct := server == ""
		if direct && ses.intents&intentDirectMessages == 0 || !direct && ses.intents&intentServerMessages == 0 {
			return
		}
		mine := m.author.bot || direct || slices.Contains(m.mentions, s.botUser)
		j := s.messageJSON(m, !mine && ses.intents&intentMessageContent == 0)
		if !direct {
			j["guild_id"] = server
			if mem := m.channel.server.members[m.author.ID]; mem != nil {
				mj := mem.json(0)
				delete(mj, "user")
				j["member"] = mj
			}
		}
		s.dispatch(ses, event, j)
	})
}

// add puts m in its channel and into the transcript.
func (s *Stand) add(m *message) {
	m.id, m.at = s.newID(), s.cfg.Now()
	s.messages[m.id] = m
	m.channel.order = append(m.channel.order, m)
	if !m.loading {
		s.record(m, Posted)
		s.announceMessage("MESSAGE_CREATE", m)
	}
	s.touch()
}

// change notes that m has changed.
func (s *Stand) change(m *message) {
	wasLoading := m.loading
	m.loading = false
	if wasLoading {
		s.record(m, Posted)
	} else {
		m.edited = s.cfg.Now()
		s.record(m, Edited)
	}
	s.announceMessage("MESSAGE_UPDATE", m)
	s.touch()
}

// remove deletes m.
func (s *Stand) remove(m *message) {
	m.deleted = true
	if !m.loading {
		s.record(m, Deleted)
	}
	s.touch()
}

var mentionPattern = regexp.MustCompile(`<@!?(\d+)>`)

// mentioned are the people the text names who are told of it. A nil allowed
// is the platform's default for a message: everybody is.
func (s *Stand) mentioned(text string, allowed *allowedMentions) (users []*User, everyone bool) {
	parse := func(what string) bool { return allowed == nil || slices.Contains(allowed.Parse, what) }
	for _, m := range mentionPattern.FindAllStringSubmatch(text, -1) {
		u := s.users[m[1]]
		if u != nil && !slices.Contains(users, u) && (parse("users") || slices.Contains(allowed.Users, u.ID)) {
			users = append(users, u)
		}
	}
	loud := strings.Contains(text, "@everyone") || strings.Contains(text, "@here")
	return users, loud && parse("everyone")
}
