package standin

import (
	"maps"
	"slices"
	"strconv"
	"time"
)

// Permission bits the stand-in knows.
const (
	Administrator      = 1 << 3
	ManageServer       = 1 << 5
	ViewChannel        = 1 << 10
	SendMessages       = 1 << 11
	AttachFiles        = 1 << 15
	ReadHistory        = 1 << 16
	ManageThreads      = 1 << 34
	PrivateThreads     = 1 << 36
	SendInThreads      = 1 << 38
	PinMessages        = 1 << 51 // apart from managing messages since 2026 (Discord documentation, "Permissions")
	everyday           = ViewChannel | SendMessages | AttachFiles | ReadHistory | PrivateThreads | SendInThreads | PinMessages
	textChannel        = 0
	directChannel      = 1
	publicThread       = 11
	privateThread      = 12
	autoArchiveMinutes = 4320
)

// A Server is one community on the platform.
type Server struct {
	ID, Name string

	stand    *Stand
	channels []*Channel
	roles    []*Role
	members  map[string]*member
}

// A Role of a server.
type Role struct {
	ID, Name    string
	Permissions int
}

type member struct {
	user   *User
	roles  []string
	joined time.Time
}

// A Channel is where people write: a text channel, a thread or a direct
// conversation with the bot.
type Channel struct {
	ID, Name string

	stand     *Stand
	server    *Server // nil for a direct conversation
	kind      int
	parent    *Channel
	recipient *User // of a direct conversation
	refuses   bool  // the recipient takes no direct messages
	archived  bool
	denied    int // permissions the bot lacks here
	order     []*message

	owner   *User           // who opened a thread, nil for somebody
	invited map[string]bool // who knows of it by id, nil for everybody
}

// A User is somebody on the platform.
type User struct {
	ID, Name string

	stand  *Stand
	bot    bool
	forger bool
}

// Server makes a server with the bot as its member.
func (s *Stand) Server(name string) *Server {
	s.mu.Lock()
	defer s.mu.Unlock()
	srv := &Server{ID: s.newID(), Name: name, stand: s, members: map[string]*member{}}
	srv.roles = []*Role{{ID: srv.ID, Name: "@everyone", Permissions: everyday}}
	srv.members[s.botUser.ID] = &member{user: s.botUser, joined: s.cfg.Now()}
	s.servers = append(s.servers, srv)
	s.announce(srv.ID, "GUILD_CREATE", s.serverJSON(srv))
	return srv
}

// User makes a user.
func (s *Stand) User(name string) *User {
	s.mu.Lock()
	defer s.mu.Unlock()
	u := &User{ID: s.newID(), Name: name, stand: s}
	s.users[u.ID] = u
	return u
}

// Channel makes a text channel.
func (srv *Server) Channel(name string) *Channel {
	s := srv.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	return srv.add(&Channel{Name: name, kind: textChannel})
}

// Thread makes a thread in c.
func (c *Channel) Thread(name string) *Channel {
	s := c.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	return c.server.add(&Channel{Name: name, kind: publicThread, parent: c})
}

// Channels are the channels and threads of all servers.
func (s *Stand) Channels() (all []*Channel) {
	s.mu.Lock()
	defer s.mu.Unlock()
	for _, srv := range s.servers {
		all = append(all, srv.channels...)
	}
	return all
}

func (srv *Server) add(c *Channel) *Channel {
	c.ID, c.stand, c.server = srv.stand.newID(), srv.stand, srv
	srv.channels = append(srv.channels, c)
	srv.stand.channels[c.ID] = c
	return c
}

// Role makes a role with permissions beyond everybody's.
func (srv *Server) Role(name string, permissions int) *Role {
	s := srv.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	r := &Role{ID: s.newID(), Name: name, Permissions: permissions}
	srv.roles = append(srv.roles, r)
	return r
}

// Join makes u a member with the roles, and returns u.
func (srv *Server) Join(u *User, roles ...*Role) *User {
	s := srv.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	m := &member{user: u, joined: s.cfg.Now()}
	for _, r := range roles {
		m.roles = append(m.roles, r.ID)
	}
	srv.members[u.ID] = m
	return u
}

// Direct is the direct conversation of u with the bot.
func (u *User) Direct() *Channel {
	s := u.stand
	s.mu.Lock()
	defer s.mu.Unlock()
	return s.direct(u)
}

func (s *Stand) direct(u *User) *Channel {
	for _, c := range s.channels {
		if c.kind == directChannel && c.recipient.ID == u.ID {
			return c
		}
	}
	c := &Channel{ID: s.newID(), Name: u.Name, stand: s, kind: directChannel, recipient: u}
	s.channels[c.ID] = c
	return c
}

// RefuseDirect makes u refuse direct messages from the bot.
func (u *User) RefuseDirect() {
	c := u.Direct()
	u.stand.mu.Lock()
	defer u.stand.mu.Unlock()
	c.refuses = true
}

// Deny takes permissions from the bot in c.
func (c *Channel) Deny(permissions int) {
	c.stand.mu.Lock()
	defer c.stand.mu.Unlock()
	c.denied |= permissions
}

// Withhold takes permissions from everybody on the server, the bot included.
func (srv *Server) Withhold(permissions int) {
	srv.stand.mu.Lock()
	defer srv.stand.mu.Unlock()
	srv.roles[0].Permissions &^= permissions
}

// Archive puts a thread away; nobody can use commands there.
func (c *Channel) Archive() {
	c.stand.mu.Lock()
	defer c.stand.mu.Unlock()
	c.archived = true
}

// permissions of u on the server.
func (srv *Server) permissions(u *User) int {
	p := 0
	m := srv.members[u.ID]
	for _, r := range srv.roles {
		if r.ID == srv.ID || (m != nil && slices.Contains(m.roles, r.ID)) {
			p |= r.Permissions
		}
	}
	if p&Administrator != 0 {
		p = 1<<52 - 1
	}
	return p
}

// permissions of u in c.
func (c *Channel) permissions(u *User) int {
	if c.server == nil {
		return everyday
	}
	p := c.server.permissions(u)
	if u.bot {
		p &^= c.denied
		if c.parent != nil {
			p &^= c.parent.denied
		}
	}
	return p
}

func (u *User) json() map[string]any {
	return map[string]any{
		"id": u.ID, "username": u.Name, "global_name": u.Name, "discriminator": "0",
		"avatar": nil, "bot": u.bot, "system": false, "public_flags": 0,
	}
}

func (m *member) json(permissions int) map[string]any {
	j := map[string]any{
		"user": m.user.json(), "nick": nil, "avatar": nil, "roles": orEmpty(m.roles),
		"joined_at": stamp(m.joined), "deaf": false, "mute": false, "flags": 0, "pending": false,
	}
	if permissions != 0 {
		j["permissions"] = strconv.Itoa(permissions)
	}
	return j
}

func (r *Role) json() map[string]any {
	return map[string]any{
		"id": r.ID, "name": r.Name, "permissions": strconv.Itoa(r.Permissions), "color": 0,
		"hoist": false, "position": 0, "managed": false, "mentionable": false, "flags": 0,
	}
}

func (c *Channel) json() map[string]any {
	j := map[string]any{"id": c.ID, "type": c.kind, "flags": 0, "last_message_id": nil}
	if c.kind == directChannel {
		j["recipients"] = []any{c.recipient.json()}
		return j
	}
	j["guild_id"], j["name"], j["position"], j["nsfw"] = c.server.ID, c.Name, 0, false
	j["permission_overwrites"] = []any{}
	j["parent_id"] = nil
	if c.parent != nil {
		j["parent_id"], j["owner_id"] = c.parent.ID, c.server.ID // somebody's
		if c.owner != nil {
			j["owner_id"] = c.owner.ID
		}
		j["message_count"], j["member_count"] = len(c.order), 2
		j["thread_metadata"] = map[string]any{
			"archived": c.archived, "auto_archive_duration": autoArchiveMinutes,
			"archive_timestamp": stamp(c.stand.cfg.Now()), "locked": false,
		}
	}
	return j
}

func (s *Stand) serverJSON(srv *Server) map[string]any {
	channels, threads, roles, members := []any{}, []any{}, []any{}, []any{}
	for _, c := range srv.channels {
		switch {
		case srv.stand.channels[c.ID] == nil: // deleted
		case c.parent != nil:
			threads = append(threads, c.json())
		default:
			channels = append(channels, c.json())
		}
	}
	for _, r := range srv.roles {
		roles = append(roles, r.json())
	}
	for _, id := range slices.Sorted(maps.Keys(srv.members)) {
		members = append(members, srv.members[id].json(0))
	}
	return map[string]any{
		"id": srv.ID, "name": srv.Name, "owner_id": s.botUser.ID, "unavailable": false,
		"joined_at": stamp(s.cfg.Now()), "large": false, "member_count": len(members),
		"channels": channels, "threads": threads, "roles": roles, "members": members,
		"emojis": []any{}, "stickers": []any{}, "features": []string{}, "presences": []any{},
		"voice_states": []any{}, "stage_instances": []any{}, "guild_scheduled_events": []any{},
		"soundboard_sounds": []any{}, "preferred_locale": "en-GB", "afk_timeout": 300,
		"verification_level": 0, "default_message_notifications": 0, "explicit_content_filter": 0,
		"mfa_level": 0, "nsfw_level": 0, "premium_tier": 0, "system_channel_flags": 0,
		"premium_progress_bar_enabled": false,
	}
}

func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000000+00:00") }

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
