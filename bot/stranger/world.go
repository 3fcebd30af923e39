package stranger

import (
	"fmt"
	"strconv"
	"strings"
	"time"
)

// A World is how large the platform is.
type World struct {
	Servers, Shards int
	// Concurrency is max_concurrency: as many shards may identify at a time, one
	// of each remainder (events/gateway.mdx, "Session Start Limit Object" [P]).
	Concurrency int
	// Rivals leaves the older sessions of a shard alive beside a newer one, and
	// all of them get its events: "you can establish multiple sessions with the
	// same [shard_id, num_shards]" (events/gateway.mdx, "Sharding" [M]). Without
	// it a newer one ends the older.
	Rivals bool
	// PerSecond is the limit on calls by token, 50 by the documentation
	// (topics/rate-limits.mdx, "Global Rate Limit" [P]); 0 sets none.
	PerSecond int
}

// A Server is one of the platform's servers (its interface says "guild") with
// its people.
type Server struct {
	Guild, Name, CoachRole, botRole string
	Manager, Coach, Outsider        *Person
	Students                        []*Person
	Range                           *Channel
	Threads                         map[string]*Channel // lesson threads, by student
}

// shardOf is the shard of a server's events: "(guild_id >> 22) % num_shards";
// direct messages go to shard 0 (events/gateway.mdx, "Sharding" [P]).
func (p *Platform) shardOf(s *Server) int {
	if s == nil {
		return 0
	}
	id, _ := strconv.ParseUint(s.Guild, 10, 64)
	return int((id >> 22) % uint64(p.world.Shards))
}

func (p *Platform) server(guild string) *Server {
	for _, s := range p.servers {
		if s.Guild == guild {
			return s
		}
	}
	return nil
}

// around is the server of a channel, and of a direct conversation that of its
// person.
func (p *Platform) around(c *Channel) *Server {
	if c.in != nil {
		return c.in
	}
	for _, id := range c.Members {
		if m := p.people[id]; m != nil && m.in != nil {
			return m.in
		}
	}
	return p.Server
}

// populate invents the servers, their people and their threads; the servers are
// spread over the shards.
func (p *Platform) populate() {
	p.Bot = &Person{ID: p.ids.next(), Name: "rangepost-under-test"}
	p.people[p.Bot.ID] = p.Bot
	p.App = p.Bot.ID
	for k := range p.world.Servers {
		s := p.found(k)
		p.servers = append(p.servers, s)
		p.Bot.Roles = append(p.Bot.Roles, s.botRole)
	}
	p.Server = p.servers[0]
}

// found invents the server of a number.
func (p *Platform) found(k int) *Server {
	id := p.ids.next
	s := &Server{Guild: id(), CoachRole: id(), botRole: id(), Name: "Heron Flats", Threads: map[string]*Channel{}}
	for p.shardOf(s) != k%p.world.Shards {
		time.Sleep(time.Millisecond / 4)
		s.Guild = id()
	}
	sign := ""
	if k > 0 {
		sign = fmt.Sprint(k)
		s.Name += " " + sign
	}
	person := func(name string, roles ...string) *Person {
		m := &Person{ID: id(), Name: name + sign, Roles: roles, in: s}
		p.people[m.ID] = m
		return m
	}
	s.Manager = person("Elm Garth")
	s.Manager.Manager = true
	s.Coach = person("Rowan Lea", s.CoachRole)
	s.Outsider = person("Yew Combe")
	s.Range = p.channel(s, "range", guildText, "")
	for i, name := range []string{"Ash Fallow", "Birch Meadow", "Cedar Holt"} {
		m := person(name)
		m.style = styles[i]
		m.style.word += sign
		s.Students = append(s.Students, m)
		s.Threads[m.ID] = p.channel(s, "lessons of "+strings.Fields(name)[0], privateThread, s.Range.ID, m.ID, s.Coach.ID, p.Bot.ID)
	}
	return s
}

func (p *Platform) channel(in *Server, name string, kind int, parent string, members ...string) *Channel {
	c := &Channel{ID: p.ids.next(), Name: name, Type: kind, Parent: parent, Members: members, in: in}
	p.channels[c.ID] = c
	return c
}
