package stranger

import (
	"fmt"
	"net/http"
	"slices"
	"strconv"
	"strings"
	"time"
)

// routes are the operations offered: method and template. What is described
// by the platform and missing here is a gap of the stand-in's and is reported
// as one, never as a fault of the bot's.
var routes map[string]map[string]func(*Platform, *call, []string) answer

func init() {
	routes = map[string]map[string]func(*Platform, *call, []string) answer{
		"/gateway":     {"GET": (*Platform).getGateway},
		"/gateway/bot": {"GET": (*Platform).getGatewayBot},
		"/users/@me": {"GET": func(p *Platform, _ *call, _ []string) answer {
			u := p.Bot.user()
			u["bot"], u["mfa_enabled"], u["locale"], u["verified"], u["email"] = true, false, "en-GB", true, nil
			return ok(u)
		}},
		"/users/@me/guilds": {"GET": func(p *Platform, _ *call, _ []string) answer {
			var all []obj
			for _, s := range p.servers {
				all = append(all, obj{"id": s.Guild, "name": s.Name, "icon": nil, "banner": nil, "owner": false, "permissions": fmt.Sprint(botPermissions), "features": []string{}})
			}
			return ok(all)
		}},
		"/users/@me/channels":          {"POST": (*Platform).openDirect},
		"/users/{user}":                {"GET": (*Platform).getUser},
		"/applications/@me":            {"GET": (*Platform).getApplication},
		"/oauth2/applications/@me":     {"GET": (*Platform).getApplication},
		"/applications/{app}/commands": {"GET": (*Platform).getCommands, "PUT": (*Platform).putCommands},
		"/applications/{app}/guilds/{guild}/commands": {
			"GET": func(*Platform, *call, []string) answer { return ok([]obj{}) },
			"PUT": func(*Platform, *call, []string) answer { return ok([]obj{}) },
		},
		"/interactions/{id}/{token}/callback":         {"POST": (*Platform).callback},
		"/webhooks/{app}/{token}":                     {"POST": (*Platform).followUp},
		"/webhooks/{app}/{token}/messages/@original":  {"GET": (*Platform).original, "PATCH": (*Platform).original, "DELETE": (*Platform).original},
		"/webhooks/{app}/{token}/messages/{message}":  {"GET": (*Platform).original, "PATCH": (*Platform).original, "DELETE": (*Platform).original},
		"/channels/{channel}":                         {"GET": (*Platform).getChannel, "PATCH": (*Platform).patchChannel},
		"/channels/{channel}/messages":                {"POST": (*Platform).createMessage, "GET": (*Platform).getMessages},
		"/channels/{channel}/messages/{message}":      {"GET": (*Platform).message, "PATCH": (*Platform).message, "DELETE": (*Platform).message},
		"/channels/{channel}/messages/pins/{message}": {"PUT": (*Platform).pin, "DELETE": (*Platform).pin},
		"/channels/{channel}/typing":                  {"POST": (*Platform).typing},
		"/channels/{channel}/thread-members/@me":      {"PUT": (*Platform).typing},
		"/channels/{channel}/thread-members/{user}":   {"GET": (*Platform).threadMember},
		"/guilds/{guild}":                             {"GET": (*Platform).getGuild},
		"/guilds/{guild}/roles":                       {"GET": (*Platform).getGuild},
		"/guilds/{guild}/channels":                    {"GET": (*Platform).getGuild},
		"/guilds/{guild}/threads/active":              {"GET": (*Platform).getGuild},
		"/guilds/{guild}/members/{user}":              {"GET": (*Platform).getMember},
	}
}

// carryOut does what a call asks for.
func (p *Platform) carryOut(c *call, arrived time.Time) answer {
	p.mu.Lock()
	defer p.mu.Unlock()
	p.arrived = arrived
	p.calls = append(p.calls, arrived)
	if p.pids != nil && c.method != http.MethodGet {
		p.writes = append(p.writes, act{pid: c.pid, at: arrived, what: c.method + " " + c.route})
	}
	if !c.webhook && !c.bot {
		return refuse(401, 0, "401: Unauthorized")
	}
	offered := routes[c.route]
	if offered == nil {
		if p.desc != nil && follow(c.path, p.desc.paths) != "" {
			p.judge.gap("%s %s", c.method, p.redact(c.path))
		}
		return refuse(404, 0, "404: Not Found")
	}
	do := offered[c.method]
	if do == nil {
		p.judge.gap("%s %s", c.method, c.route)
		return refuse(405, 0, "405: Method Not Allowed")
	}
	if a := p.limit(c); a != nil {
		return *a
	}
	var args []string
	parts := strings.Split(c.path, "/")
	for i, w := range strings.Split(c.route, "/") {
		if strings.HasPrefix(w, "{") {
			args = append(args, parts[i])
		}
	}
	a := do(p, c, args)
	p.acted(c, args, a)
	if b := p.buckets[bucketOf(c)]; b != nil {
		a.header = b.headers()
	}
	return a
}

// A bucket is one rate limit: so many calls in so long
// (topics/rate-limits.mdx [P]; the figures are ours, since the documentation
// says not to know any).
type bucket struct {
	name        string
	limit, used int
	resets      time.Time
}

func (b *bucket) headers() http.Header {
	left := time.Until(b.resets).Seconds()
	return http.Header{
		"X-Ratelimit-Limit":       {strconv.Itoa(b.limit)},
		"X-Ratelimit-Remaining":   {strconv.Itoa(max(0, b.limit-b.used))},
		"X-Ratelimit-Reset":       {strconv.FormatFloat(float64(b.resets.UnixMilli())/1000, 'f', 3, 64)},
		"X-Ratelimit-Reset-After": {strconv.FormatFloat(max(0.001, left), 'f', 3, 64)},
		"X-Ratelimit-Bucket":      {b.name},
	}
}

func bucketOf(c *call) string {
	parts := strings.Split(c.path, "/")
	top := ""
	if len(parts) > 2 {
		top = parts[2]
	}
	if strings.HasPrefix(c.route, "/webhooks/") {
		top = parts[3]
	}
	return c.method + " " + c.route + " " + top
}

// limit counts a call, and refuses it when its bucket is empty.
func (p *Platform) limit(c *call) *answer {
	if a := p.limitAll(c); a != nil {
		return a
	}
	size, window := 0, time.Second
	switch {
	case c.method == "POST" && c.route == "/channels/{channel}/messages":
		size, window = 5, 2*time.Second
	case strings.HasPrefix(c.route, "/webhooks/"):
		size, window = 5, 2*time.Second
	case strings.HasPrefix(c.route, "/guilds/"):
		size, window = 10, 2*time.Second
	default:
		return nil
	}
	key := bucketOf(c)
	b := p.buckets[key]
	if b == nil || time.Now().After(b.resets) {
		b = &bucket{name: fmt.Sprintf("%x", len(c.route)*7919+len(c.method)), limit: size, resets: time.Now().Add(window)}
		p.buckets[key] = b
	}
	b.used++
	if b.used <= b.limit {
		return nil
	}
	after := time.Until(b.resets).Seconds()
	h := b.headers()
	h["Retry-After"] = []string{strconv.Itoa(int(after) + 1)}
	h["X-Ratelimit-Scope"] = []string{"user"}
	return &answer{status: 429, header: h, body: obj{"message": "You are being rate limited.", "retry_after": after, "global": false}}
}

func (p *Platform) getApplication(*call, []string) answer {
	return ok(obj{
		"id": p.App, "name": p.Bot.Name, "icon": nil, "description": "", "type": nil, "verify_key": strings.Repeat("0", 64),
		"flags": 0, "flags_new": "0", "redirect_uris": []string{}, "interactions_endpoint_url": nil,
		"role_connections_verification_url": nil, "owner": p.Manager.user(), "approximate_guild_count": 1,
		"approximate_user_install_count": 0, "approximate_user_authorization_count": 0, "explicit_content_filter": 0,
		"team": nil, "eligible_oauth2_scopes": []string{}, "bot": p.Bot.user(), "bot_public": true, "bot_require_code_grant": false,
		"summary": "", "integration_types_config": obj{}, "hook": false,
	})
}

func (p *Platform) getCommands(*call, []string) answer { return ok(p.commands) }

func (p *Platform) putCommands(c *call, args []string) answer {
	if args[0] != p.App {
		return refuse(403, 50001, "Missing Access")
	}
	l, isList := any(nil), false
	if v, err := decodeList(c.body); err == nil {
		l, isList = v, true
	}
	if !isList {
		return badForm("Only iterables may be used in a SequenceType")
	}
	var kept []obj
	for _, v := range l.([]any) {
		m, isObj := v.(obj)
		if !isObj {
			return badForm("Only dictionaries may be used in a DictType")
		}
		m = clone(m)
		m["id"], m["application_id"], m["version"] = p.ids.next(), p.App, p.ids.next()
		for _, old := range p.commands { // an update keeps the id
			if str(old, "name") == str(m, "name") && num(old, "type") == max(1, num(m, "type")) {
				m["id"] = old["id"]
			}
		}
		if m["type"] == nil {
			m["type"] = 1
		}
		if m["description"] == nil {
			m["description"] = ""
		}
		if _, given := m["default_member_permissions"]; !given {
			m["default_member_permissions"] = nil
		}
		if m["integration_types"] == nil {
			m["integration_types"] = []int{0}
		}
		if _, given := m["contexts"]; !given {
			m["contexts"] = nil
		}
		m["nsfw"] = m["nsfw"] == true
		kept = append(kept, m)
	}
	p.commands = kept
	return ok(kept)
}

func (p *Platform) getUser(_ *call, args []string) answer {
	if m := p.people[args[0]]; m != nil {
		return ok(m.user())
	}
	return refuse(404, 10013, "Unknown User")
}

func (p *Platform) getGuild(c *call, args []string) answer {
	s := p.server(args[0])
	if s == nil {
		return refuse(403, 50001, "Missing Access")
	}
	switch {
	case strings.HasSuffix(c.route, "/roles"):
		return ok(p.roles(s))
	case strings.HasSuffix(c.route, "/channels"):
		return ok(p.guildCreate(s)["channels"])
	case strings.HasSuffix(c.route, "/active"):
		return ok(obj{"threads": p.guildCreate(s)["threads"], "members": []obj{}})
	}
	return ok(p.guild(s))
}

func (p *Platform) getMember(_ *call, args []string) answer {
	s := p.server(args[0])
	if s == nil {
		return refuse(403, 50001, "Missing Access")
	}
	id := args[1]
	if id == "@me" {
		id = p.Bot.ID
	}
	if m := p.people[id]; m != nil && (m == p.Bot || m.in == s) {
		return ok(m.member(true))
	}
	return refuse(404, 10007, "Unknown Member")
}

func (p *Platform) threadMember(_ *call, args []string) answer {
	c := p.channels[args[0]]
	if c == nil || !slices.Contains(c.Members, args[1]) {
		return refuse(404, 10007, "Unknown Member")
	}
	return ok(obj{"id": c.ID, "user_id": args[1], "join_timestamp": stamp(time.Now()), "flags": 0})
}

// reachable is a channel that the bot can see, or the refusal.
func (p *Platform) reachable(id string) (*Channel, *answer) {
	c := p.channels[id]
	var a answer
	switch {
	case c == nil || c.Gone:
		a = refuse(404, 10003, "Unknown Channel")
	case c.Type == privateThread || c.Type == directMessage:
		if !slices.Contains(c.Members, p.Bot.ID) {
			a = refuse(403, 50001, "Missing Access")
		}
	}
	if a.status != 0 {
		return nil, &a
	}
	return c, nil
}

func (p *Platform) getChannel(_ *call, args []string) answer {
	c, a := p.reachable(args[0])
	if a != nil {
		return *a
	}
	return ok(p.object(c))
}

func (p *Platform) patchChannel(c *call, args []string) answer {
	ch, a := p.reachable(args[0])
	if a != nil {
		return *a
	}
	if v, given := c.data["archived"].(bool); given && ch.thread() {
		ch.Archived = v
		return ok(p.object(ch))
	}
	return refuse(403, 50013, "Missing Permissions")
}

func (p *Platform) typing(_ *call, args []string) answer {
	if _, a := p.reachable(args[0]); a != nil {
		return *a
	}
	return done
}

// openDirect opens the conversation with one person (resources/user.mdx,
// "Create DM" [P]); it is the same one however often it is asked for.
func (p *Platform) openDirect(c *call, _ []string) answer {
	who := p.people[str(c.data, "recipient_id")]
	if who == nil {
		return refuse(400, 50033, "Invalid Recipient(s)")
	}
	return ok(p.object(p.direct(who)))
}

func (p *Platform) direct(who *Person) *Channel {
	for _, ch := range p.channels {
		if ch.Type == directMessage && slices.Contains(ch.Members, who.ID) {
			return ch
		}
	}
	return p.channel(nil, "", directMessage, "", who.ID, p.Bot.ID)
}
