package standin

import (
	"net/http"
	"slices"
)

var errUnknownMember = &refusal{404, 10007, "Unknown Member", ""}

// Leave makes u leave the server.
func (srv *Server) Leave(u *User) {
	srv.stand.mu.Lock()
	defer srv.stand.mu.Unlock()
	delete(srv.members, u.ID)
}

// Take takes a role from a member.
func (srv *Server) Take(u *User, r *Role) {
	srv.stand.mu.Lock()
	defer srv.stand.mu.Unlock()
	m := srv.members[u.ID]
	if m == nil {
		return
	}
	var left []string
	for _, id := range m.roles {
		if id != r.ID {
			left = append(left, id)
		}
	}
	m.roles = left
}

// Give gives a role to a member.
func (srv *Server) Give(u *User, r *Role) {
	srv.stand.mu.Lock()
	defer srv.stand.mu.Unlock()
	srv.members[u.ID].roles = append(srv.members[u.ID].roles, r.ID)
}

// Delete deletes a thread or channel: nobody reads or writes there any more.
func (c *Channel) Delete() {
	c.stand.mu.Lock()
	defer c.stand.mu.Unlock()
	delete(c.stand.channels, c.ID)
}

func (s *Stand) getMember(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, srv := range s.servers {
		if srv.ID != r.PathValue("guild") {
			continue
		}
		if m := srv.members[r.PathValue("user")]; m != nil {
			return m.json(0), nil
		}
		return nil, errUnknownMember
	}
	return nil, &refusal{404, 10004, "Unknown Guild", ""}
}

// Server is the server of a channel, nil of a direct conversation.
func (c *Channel) Server() *Server { return c.server }

// Channels are the server's channels and threads, in the order they were made.
func (srv *Server) Channels() []*Channel {
	s := srv.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	return slices.DeleteFunc(slices.Clone(srv.channels), func(c *Channel) bool { return s.channels[c.ID] == nil })
}

// Members are the people on the server, without the bot, in the order they came
// to the platform.
func (srv *Server) Members() []*User {
	s := srv.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	var all []*User
	for _, m := range srv.members {
		if !m.user.bot {
			all = append(all, m.user)
		}
	}
	slices.SortFunc(all, func(a, b *User) int {
		if newer(a.ID, b.ID) {
			return 1
		}
		return -1
	})
	return all
}

// Roles are the server's roles but everybody's.
func (srv *Server) Roles() []*Role {
	srv.stand.mu.Lock()
	defer srv.stand.mu.Unlock()
	return slices.Clone(srv.roles[1:])
}

// Label is what people call a channel.
func (c *Channel) Label() string {
	switch {
	case c.kind == directChannel:
		return "direct messages"
	case c.parent != nil:
		return "thread " + c.Name
	}
	return "#" + c.Name
}

// Names are what the platform shows for the mentions of a text, by what stands
// for them there.
func (s *Stand) Names() map[string]string {
	s.mu.Lock()
	defer s.mu.Unlock()
	names := map[string]string{}
	for _, u := range s.users {
		names["<@"+u.ID+">"] = "@" + u.Name
	}
	for _, c := range s.channels {
		names["<#"+c.ID+">"] = "#" + c.Name
	}
	for _, srv := range s.servers {
		for _, r := range srv.roles {
			names["<@&"+r.ID+">"] = "@" + r.Name
		}
	}
	return names
}
