package standin

import (
	"errors"
	"fmt"
	"net/url"
	"strconv"
	"strings"
)

// NewServer makes a server that the bot is not on, with the role everybody has
// and nothing in it. Everybody may look and talk; all else a role has to give.
func (s *Stand) NewServer(name string) *Server {
	s.mu.Lock()
	defer s.mu.Unlock()
	srv := &Server{ID: s.newID(), Name: name, stand: s, members: map[string]*member{}}
	srv.roles = []*Role{{ID: srv.ID, Name: "@everyone", Permissions: ViewChannel | SendMessages}}
	s.servers = append(s.servers, srv)
	return srv
}

// Authorize is u following an invite link and choosing a server. The bot joins
// with a role of its name that has the permissions the link asks for (Discord
// documentation, "OAuth2: Bot Authorization Flow" [P]).
func (u *User) Authorize(link string, srv *Server) error {
	s := u.stand
	at, err := url.Parse(link)
	if err != nil {
		return fmt.Errorf("standin: %w", err)
	}
	q := at.Query()
	scopes := strings.Fields(q.Get("scope"))
	permissions, err := strconv.Atoi(q.Get("permissions"))
	s.mu.Lock()
	defer s.mu.Unlock()
	switch {
	case err != nil:
		return fmt.Errorf("standin: permissions: %w", err)
	case s.cfg.CodeGrant:
		return errors.New("standin: integration requires code grant")
	case at.Path != "/oauth2/authorize" || q.Get("client_id") != s.app:
		return errors.New("standin: that link invites no bot of ours")
	case len(scopes) == 0 || scopes[0] != "bot":
		return fmt.Errorf("standin: the scopes %q bring no bot", scopes)
	case srv.permissions(u)&ManageServer == 0:
		return errMissingPermissions
	}
	role := &Role{ID: s.newID(), Name: s.botUser.Name, Permissions: permissions}
	srv.roles = append(srv.roles, role)
	srv.members[s.botUser.ID] = &member{user: s.botUser, joined: s.cfg.Now(), roles: []string{role.ID}}
	s.announce(srv.ID, "GUILD_CREATE", s.serverJSON(srv))
	return nil
}
