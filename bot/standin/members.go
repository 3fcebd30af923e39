package standin

import "net/http"

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
