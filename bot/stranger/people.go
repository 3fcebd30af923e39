package stranger

import (
	"fmt"
	"slices"
	"time"
)

// Permissions used (topics/permissions.mdx [P]): bits of the permission set.
const (
	manageGuild    = 1 << 5
	viewChannel    = 1 << 10
	sendMessages   = 1 << 11
	attachFiles    = 1 << 15
	readHistory    = 1 << 16
	useCommands    = 1 << 31
	sendInThreads  = 1 << 38
	pinMessages    = 1 << 51 // [S]: named in the documentation's own changes of 2025-08
	everyday       = viewChannel | sendMessages | attachFiles | readHistory | useCommands | sendInThreads
	botPermissions = viewChannel | sendMessages | attachFiles | readHistory | sendInThreads | pinMessages
)

// Channel types (resources/channel.mdx, "Channel Types" [P]).
const (
	guildText     = 0
	directMessage = 1
	publicThread  = 11
	privateThread = 12
)

// A Person is a member of the invented server. All names are invented.
type Person struct {
	ID, Name string
	Roles    []string
	Manager  bool  // holds MANAGE_GUILD, and reads every thread
	style    style // of their files
	in       *Server
}

func (p *Person) user() obj {
	return obj{
		"id": p.ID, "username": p.Name, "global_name": p.Name, "discriminator": "0", "avatar": nil,
		"public_flags": 0, "flags": 0, "primary_guild": nil,
	}
}

func (p *Person) permissions() string {
	bits := uint64(everyday)
	if p.Manager {
		bits |= manageGuild | 1<<34 // MANAGE_THREADS
	}
	return fmt.Sprint(bits)
}

// member is the guild member object; user is left out where the platform
// leaves it out (in messages).
func (p *Person) member(withUser bool) obj {
	m := obj{
		"avatar": nil, "banner": nil, "communication_disabled_until": nil, "flags": 0,
		"joined_at": "2025-03-13T19:19:14.040000+00:00", "nick": nil, "pending": false, "premium_since": nil,
		"roles": p.Roles, "mute": false, "deaf": false,
	}
	if m["roles"] == nil || p.Roles == nil {
		m["roles"] = []string{}
	}
	if withUser {
		m["user"] = p.user()
	}
	return m
}

// A Channel is a channel, a thread or a direct conversation.
type Channel struct {
	ID, Name, Parent string
	Type             int
	Members          []string // of a private thread or a direct conversation
	Archived, Gone   bool
	in               *Server // nil of a direct conversation
}

func (c *Channel) thread() bool { return c.Type == publicThread || c.Type == privateThread }

// object is the channel as the platform describes it.
func (p *Platform) object(c *Channel) obj {
	if c.Type == directMessage {
		var who []obj
		for _, id := range c.Members {
			if m := p.people[id]; m != nil {
				who = append(who, m.user())
			}
		}
		return obj{"id": c.ID, "type": c.Type, "flags": 0, "recipients": who, "last_message_id": nil}
	}
	o := obj{"id": c.ID, "type": c.Type, "flags": 0, "guild_id": c.in.Guild, "name": c.Name, "last_message_id": nil}
	if c.thread() {
		o["parent_id"] = c.Parent
		o["owner_id"] = c.in.Coach.ID
		o["message_count"], o["member_count"], o["total_message_sent"] = 0, len(c.Members), 0
		o["rate_limit_per_user"] = 0
		o["thread_metadata"] = obj{
			"archived": c.Archived, "archive_timestamp": "2026-01-01T00:00:00+00:00",
			"auto_archive_duration": 10080, "locked": false, "create_timestamp": "2026-01-01T00:00:00+00:00",
		}
		return o
	}
	o["position"], o["permission_overwrites"], o["nsfw"] = 0, []obj{}, false
	o["parent_id"], o["topic"], o["rate_limit_per_user"] = nil, nil, 0
	return o
}

// readers are the people who can read a channel.
func (p *Platform) readers(c *Channel) []string {
	if c == nil {
		return nil
	}
	switch c.Type {
	case directMessage:
		return without(c.Members, p.Bot.ID)
	case privateThread:
		who := without(c.Members, p.Bot.ID)
		for _, m := range p.people {
			if m.in == c.in && m.Manager && !slices.Contains(who, m.ID) {
				who = append(who, m.ID)
			}
		}
		return who
	}
	var who []string
	for id, m := range p.people {
		if m.in == c.in {
			who = append(who, id)
		}
	}
	return without(who, p.Bot.ID)
}

func without(ids []string, id string) []string {
	return slices.DeleteFunc(slices.Clone(ids), func(x string) bool { return x == id })
}

func (p *Platform) role(id, name string, bits uint64) obj {
	return obj{
		"id": id, "name": name, "permissions": fmt.Sprint(bits), "position": 0, "color": 0,
		"colors": obj{"primary_color": 0, "secondary_color": nil, "tertiary_color": nil},
		"hoist":  false, "managed": false, "mentionable": false, "icon": nil, "unicode_emoji": nil, "flags": 0,
	}
}

func (p *Platform) roles(s *Server) []obj {
	return []obj{
		p.role(s.Guild, "@everyone", everyday),
		p.role(s.CoachRole, "teaching staff", everyday),
		p.role(s.botRole, "the bot's own", botPermissions),
	}
}

// guild is the server as REST describes it.
func (p *Platform) guild(s *Server) obj {
	return obj{
		"id": s.Guild, "name": s.Name, "icon": nil, "description": nil, "home_header": nil, "splash": nil,
		"discovery_splash": nil, "features": []string{}, "banner": nil, "owner_id": s.Manager.ID, "application_id": nil,
		"region": "", "afk_channel_id": nil, "afk_timeout": 300, "system_channel_id": nil, "system_channel_flags": 0,
		"widget_enabled": false, "widget_channel_id": nil, "verification_level": 0, "roles": p.roles(s),
		"default_message_notifications": 1, "mfa_level": 0, "explicit_content_filter": 0, "max_presences": nil,
		"max_members": 500000, "max_stage_video_channel_users": 50, "max_video_channel_users": 25,
		"vanity_url_code": nil, "premium_tier": 0, "premium_subscription_count": 0, "preferred_locale": "en-GB",
		"rules_channel_id": nil, "safety_alerts_channel_id": nil, "public_updates_channel_id": nil,
		"premium_progress_bar_enabled": false, "nsfw": false, "nsfw_level": 0, "emojis": []obj{}, "stickers": []obj{},
		"incidents_data": nil,
	}
}

// guildCreate is the server as the gateway announces it
// (gateway-events.mdx, "Guild Create Extra Fields" [P]).
func (p *Platform) guildCreate(s *Server) obj {
	g := p.guild(s)
	var channels, threads []obj
	for _, c := range p.channels {
		switch {
		case c.Gone || c.in != s:
		case c.thread() && !c.Archived:
			threads = append(threads, p.object(c))
		case !c.thread():
			channels = append(channels, p.object(c))
		}
	}
	g["joined_at"], g["large"], g["unavailable"] = "2025-03-13T19:19:14.040000+00:00", false, false
	g["member_count"], g["voice_states"], g["presences"] = len(s.Students)+4, []obj{}, []obj{}
	g["members"] = []obj{p.Bot.member(true)}
	g["channels"], g["threads"] = channels, threads
	g["stage_instances"], g["guild_scheduled_events"], g["soundboard_sounds"] = []obj{}, []obj{}, []obj{}
	return g
}

func stamp(t time.Time) string { return t.UTC().Format("2006-01-02T15:04:05.000000+00:00") }
