package standin

import (
	"encoding/gob"
	"encoding/json"
	"fmt"
	"io"
	"maps"
	"slices"
	"time"
)

// kept is a conversation as it is written down: what people and the bot added to
// a world that is made the same at every start, by the ids of who and where.
type kept struct {
	LastID   uint64
	Channels []keptChannel
	Messages []keptMessage // oldest first
}

type keptChannel struct {
	ID, Name, Server, Parent, Owner, Recipient string
	Kind                                       int
	Archived                                   bool
	Invited                                    map[string]bool
}

type keptMessage struct {
	ID, Channel, Author, Viewer, Content, ReplyTo string
	At, Edited                                    time.Time
	Files                                         []keptFile
	Components                                    json.RawMessage
	Mentions                                      []string
	Everyone, Pinned                              bool
	Asker, Asked                                  string // of its origin, if it answers something
	OriginID                                      string
	OriginKind                                    int
}

type keptFile struct {
	ID, Name, Description, ContentType, Sign string
	Bytes                                    []byte
}

// Save writes the conversation down. What is still being answered is left out.
func (s *Stand) Save(w io.Writer) error {
	s.mu.Lock()
	k := kept{LastID: s.lastID}
	for _, c := range s.channels {
		k.Channels = append(k.Channels, c.kept())
		for _, m := range c.order {
			if !m.deleted && !m.loading {
				k.Messages = append(k.Messages, m.kept())
			}
		}
	}
	s.mu.Unlock()
	slices.SortFunc(k.Channels, func(a, b keptChannel) int { return byAge(a.ID, b.ID) })
	slices.SortFunc(k.Messages, func(a, b keptMessage) int { return byAge(a.ID, b.ID) })
	if err := gob.NewEncoder(w).Encode(k); err != nil {
		return fmt.Errorf("standin: write the conversation down: %w", err)
	}
	return nil
}

// Load puts a conversation that was written down into a world that has its people
// and places, and nothing said in it yet.
func (s *Stand) Load(r io.Reader) error {
	var k kept
	if err := gob.NewDecoder(r).Decode(&k); err != nil {
		return fmt.Errorf("standin: read a conversation: %w", err)
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	s.lastID = max(s.lastID, k.LastID)
	for id, c := range s.channels { // deleted, or never there
		if c.parent != nil && !slices.ContainsFunc(k.Channels, func(k keptChannel) bool { return k.ID == id }) {
			delete(s.channels, id)
		}
	}
	for _, c := range k.Channels { // a parent is older than its threads
		if err := s.loadChannel(c); err != nil {
			return err
		}
	}
	for _, m := range k.Messages { // and what is answered than its answer
		if err := s.loadMessage(m); err != nil {
			return err
		}
	}
	s.touch()
	return nil
}

func (c *Channel) kept() keptChannel {
	k := keptChannel{ID: c.ID, Name: c.Name, Kind: c.kind, Archived: c.archived, Invited: maps.Clone(c.invited), Owner: userID(c.owner), Recipient: userID(c.recipient)}
	if c.server != nil {
		k.Server = c.server.ID
	}
	if c.parent != nil {
		k.Parent = c.parent.ID
	}
	return k
}

func (s *Stand) loadChannel(k keptChannel) error {
	c := s.channels[k.ID]
	if c == nil {
		c = &Channel{ID: k.ID, Name: k.Name, stand: s, kind: k.Kind, parent: s.channels[k.Parent], owner: s.users[k.Owner], recipient: s.users[k.Recipient]}
		if i := slices.IndexFunc(s.servers, func(srv *Server) bool { return srv.ID == k.Server }); i >= 0 {
			c.server = s.servers[i]
			c.server.channels = append(c.server.channels, c)
		}
		if c.server == nil && c.recipient == nil {
			return fmt.Errorf("standin: a conversation of another world: nobody and nothing has the place %q", k.Name)
		}
		s.channels[c.ID] = c
	}
	c.archived, c.invited = k.Archived, k.Invited
	return nil
}

func (m *message) kept() keptMessage {
	k := keptMessage{
		ID: m.id, Channel: m.channel.ID, Author: m.author.ID, Viewer: userID(m.viewer), Content: m.content, At: m.at, Edited: m.edited,
		Components: m.components, Everyone: m.everyone, Pinned: m.pinned,
	}
	for _, f := range m.files {
		k.Files = append(k.Files, keptFile{f.id, f.name, f.description, f.contentType, f.sign, f.bytes})
	}
	for _, u := range m.mentions {
		k.Mentions = append(k.Mentions, u.ID)
	}
	if m.replyTo != nil {
		k.ReplyTo = m.replyTo.id
	}
	if o := m.origin; o != nil {
		k.Asker, k.Asked, k.OriginID, k.OriginKind = o.user.ID, o.words, o.id, o.kind
	}
	return k
}

func (s *Stand) loadMessage(k keptMessage) error {
	m := &message{
		id: k.ID, channel: s.channels[k.Channel], author: s.users[k.Author], viewer: s.users[k.Viewer], content: k.Content, at: k.At, edited: k.Edited,
		components: k.Components, everyone: k.Everyone, pinned: k.Pinned, replyTo: s.messages[k.ReplyTo],
	}
	if m.channel == nil || m.author == nil || k.Viewer != "" && m.viewer == nil {
		return fmt.Errorf("standin: a conversation of another world: nobody here wrote message %s", k.ID)
	}
	for _, f := range k.Files {
		u := &upload{id: f.ID, channel: k.Channel, name: f.Name, description: f.Description, contentType: f.ContentType, sign: f.Sign, bytes: f.Bytes, declared: int64(len(f.Bytes))}
		s.files[u.id] = u
		m.files = append(m.files, u)
	}
	for _, id := range k.Mentions {
		if u := s.users[id]; u != nil {
			m.mentions = append(m.mentions, u)
		}
	}
	if asker := s.users[k.Asker]; asker != nil {
		m.origin = &interaction{id: k.OriginID, kind: k.OriginKind, user: asker, channel: m.channel, words: k.Asked, dead: true}
	}
	s.messages[m.id] = m
	m.channel.order = append(m.channel.order, m)
	return nil
}

func userID(u *User) string {
	if u == nil {
		return ""
	}
	return u.ID
}

// byAge orders ids, which grow.
func byAge(a, b string) int {
	switch {
	case a == b:
		return 0
	case newer(a, b):
		return 1
	}
	return -1
}
