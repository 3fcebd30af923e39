package standin

import (
	"net/http"
	"slices"
)

// Of a private thread only those know who were invited, and whoever manages
// threads; a bot no less (Discord documentation, "Threads: Permissions" [P]). A
// mention in it invites, as the platform's own client does it [M].

// PrivateThread makes a private thread in c, opened by u with others in it.
func (c *Channel) PrivateThread(name string, u *User, others ...*User) *Channel {
	c.stand.mu.Lock()
	defer c.stand.mu.Unlock()
	t := c.server.add(&Channel{Name: name, kind: privateThread, parent: c, owner: u, invited: map[string]bool{u.ID: true}})
	for _, o := range others {
		t.invited[o.ID] = true
	}
	return t
}

// ThreadCalled is the thread of a name in c that u sees, nil if there is none.
func (c *Channel) ThreadCalled(name string, u *User) *Channel {
	c.stand.mu.Lock()
	defer c.stand.mu.Unlock()
	for _, t := range c.server.channels {
		if t.parent == c && t.Name == name && t.sees(u) {
			return t
		}
	}
	return nil
}

// Seen reports whether u knows of c.
func (c *Channel) Seen(u *User) bool {
	c.stand.mu.Lock()
	defer c.stand.mu.Unlock()
	return c.sees(u)
}

// sees reports whether u knows of c, if they have the permissions.
func (c *Channel) sees(u *User) bool {
	return c.invited == nil || c.invited[u.ID] || c.permissions(u)&ManageThreads != 0
}

// invite puts whoever is mentioned into a private thread. The caller holds s.mu.
func (c *Channel) invite(mentioned []*User) {
	for _, u := range mentioned {
		if c.invited != nil {
			c.invited[u.ID] = true
		}
	}
}

func (s *Stand) postThread(r *http.Request, body []byte) (any, error) {
	var b struct {
		Name        string `json:"name"`
		Type        int    `json:"type"`
		AutoArchive int    `json:"auto_archive_duration"`
		Invitable   *bool  `json:"invitable"`
		Slowmode    int    `json:"rate_limit_per_user"`
	}
	if _, err := readBody(r, body, &b); err != nil {
		return nil, err
	}
	switch {
	case badLength(b.Name, 1, 100):
		return nil, invalid("name: Must be between 1 and 100 in length")
	case !slices.Contains([]int{0, 60, 1440, 4320, 10080}, b.AutoArchive):
		return nil, invalid("auto_archive_duration: Value must be one of {60, 1440, 4320, 10080}")
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.channel(r)
	if err != nil {
		return nil, err
	}
	if c.server == nil || c.parent != nil {
		return nil, &refusal{400, 50024, "Cannot execute action on this channel type", ""}
	}
	t := &Channel{Name: b.Name, kind: or(b.Type, privateThread), parent: c, owner: s.botUser}
	if t.kind == privateThread {
		if c.permissions(s.botUser)&PrivateThreads == 0 {
			return nil, errMissingPermissions
		}
		t.invited = map[string]bool{s.botUser.ID: true}
	}
	s.touch()
	return c.server.add(t).json(), nil
}

// patchThread archives a thread: whoever opened it may (Discord documentation,
// "Editing & Deleting Threads" [P]).
func (s *Stand) patchThread(r *http.Request, body []byte) (any, error) {
	var b struct {
		Archived bool `json:"archived"`
	}
	if _, err := readBody(r, body, &b); err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.channel(r)
	switch {
	case err != nil:
		return nil, err
	case c.parent == nil || c.owner != s.botUser:
		return nil, errMissingPermissions
	}
	c.archived = b.Archived
	s.touch()
	return c.json(), nil
}

// putThreadMember invites somebody; it takes what sending in the thread takes.
func (s *Stand) putThreadMember(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.channel(r)
	if err != nil {
		return nil, err
	}
	u := s.users[r.PathValue("user")]
	switch {
	case c.parent == nil:
		return nil, &refusal{400, 50024, "Cannot execute action on this channel type", ""}
	case c.archived:
		return nil, errArchived
	case c.permissions(s.botUser)&SendInThreads == 0:
		return nil, errMissingPermissions
	case u == nil || c.server.members[u.ID] == nil:
		return nil, errUnknownMember
	}
	c.invite([]*User{u})
	s.touch()
	return nil, nil
}

func (s *Stand) getThreads(r *http.Request, _ []byte) (any, error) {
	return s.channelsOf(r, func(c *Channel) bool { return c.parent != nil && !c.archived }, func(all []any) any {
		return map[string]any{"threads": all, "members": []any{}}
	})
}

func (s *Stand) getChannels(r *http.Request, _ []byte) (any, error) {
	return s.channelsOf(r, func(c *Channel) bool { return c.parent == nil }, func(all []any) any { return all })
}

// channelsOf are the channels of a server that are wanted. Threads are listed
// where the bot knows of them, channels all.
func (s *Stand) channelsOf(r *http.Request, wanted func(*Channel) bool, as func([]any) any) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, srv := range s.servers {
		if srv.ID != r.PathValue("guild") || srv.members[s.botUser.ID] == nil {
			continue
		}
		all := []any{}
		for _, c := range srv.channels {
			if wanted(c) && c.sees(s.botUser) && s.channels[c.ID] == c {
				all = append(all, c.json())
			}
		}
		return as(all), nil
	}
	return nil, errMissingAccess
}
