package discord_test

import (
	"context"
	"errors"
	"fmt"
	"net/http"
	"strings"
	"sync/atomic"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/bot/standin"
)

const page = "<html><body>Sorry, you have been blocked</body></html>"

// Whatever stands between, an answer is delivered without a restart once it is
// gone: the platform is the only one that is believed.
func TestDeliveryIsOwed(t *testing.T) {
	t.Parallel()
	rules := map[string]standin.Rule{
		"a passing 401":              {Status: 401},
		"a page with 403":            {Status: 403, Page: page},
		"a page with 404":            {Status: 404, Page: page},
		"a page with 400":            {Status: 400, Page: page},
		"a page with 200":            {Status: 200, Page: page},
		"a redirect":                 {Status: 302, Page: page},
		"a short page with 429":      {Status: 429, Page: page},
		"a page with 403, cut short": {Status: 403, Page: `{"code":`},
	}
	for _, status := range []int{408, 500, 507, 520, 522, 524, 530, 599} {
		rules[fmt.Sprint("a page with ", status)] = standin.Rule{Status: status, Page: page}
	}
	for name, rule := range rules {
		for _, ack := range []bot.Ack{bot.AckPrivate, bot.AckPublic} {
			t.Run(name+", "+string(ack), func(t *testing.T) {
				tk := &talk{handle: say("Read."), ack: func(bot.Request) bot.Ack { return ack }}
				s := stage(t, tk, standin.Config{}, discord.Config{})
				broken := rule // beside another that breaks the same way
				broken.Path, broken.Times = "/messages/@original", 3
				r := s.Break(broken)
				out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
				if err != nil || out.Text != "Read." {
					t.Errorf("%v: %+v\n%s", err, out, s.log)
				}
				if n := s.Hits(r); n < 3 {
					t.Errorf("the fault happened %d times, want 3", n)
				}
				s.settled()
				if ms := s.place.Messages(s.wren); len(ms) != 1 {
					t.Errorf("%d answers: %+v", len(ms), ms)
				}
			})
		}
	}
}

// While an answer cannot get through by its token until the token is dead, it
// comes by the channel, without a restart.
func TestOwedPastTheToken(t *testing.T) {
	tk := &talk{handle: say("Read."), ack: func(bot.Request) bot.Ack { return bot.AckPublic }}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.Break(standin.Rule{Path: "/messages/@original", Status: 522, Page: page, Times: 4})
	time.AfterFunc(600*time.Millisecond, s.ExpireTokens)
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || out.Channel != s.place || !strings.HasSuffix(out.Text, "Read.") {
		t.Errorf("%v: %+v\n%s", err, out, s.log)
	}
	s.settled()
}

// What may be shown is asked before every attempt: a reply that was openly
// shown when it was made, and is overtaken on its way, is worked out anew.
func TestOvertaken(t *testing.T) {
	var agreed atomic.Bool
	agreed.Store(true)
	tk := &talk{ack: func(bot.Request) bot.Ack { return bot.AckPublic }}
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		if !agreed.Load() {
			return bot.Reply{Text: "For you alone.", Private: true}
		}
		return bot.Reply{Text: "12 yards right.", Still: func(context.Context) bool { return agreed.Load() }}
	}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.Break(standin.Rule{Method: "PATCH", Path: "/messages/@original", Status: 429, Retry: time.Second, Times: 1})
	time.AfterFunc(300*time.Millisecond, func() { agreed.Store(false) })
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || out.Text != "For you alone." || !out.Ephemeral {
		t.Errorf("%v: %+v\n%s", err, out, s.log)
	}
	s.settled()
	for _, m := range s.place.Messages(s.odell) {
		if strings.Contains(m.Text, "12 yards") || strings.Contains(m.Text, "alone") {
			t.Errorf("somebody else reads %q", m.Text)
		}
	}
}

// An answer that went another way than its placeholder goes the same way again
// when the bot was stopped before it knew that it had arrived: seen once.
func TestRestartOnAnotherWay(t *testing.T) {
	t.Parallel()
	for _, ack := range []bot.Ack{bot.AckPublic, bot.AckPrivate} {
		t.Run(string(ack), func(t *testing.T) {
			tk := &talk{handle: say("Read."), ack: func(bot.Request) bot.Ack { return ack }}
			s := stage(t, tk, standin.Config{}, discord.Config{Grace: time.Nanosecond})
			s.AllowHaste(true)
			where := s.place
			if ack == bot.AckPrivate {
				where = s.wren.Direct()
			}
			s.Break(standin.Rule{Path: "/messages/@original", Status: 429, Retry: 2 * time.Hour})
			s.Break(standin.Rule{Method: "POST", Path: "/channels/" + where.ID + "/messages", Cut: true, Done: true})
			go s.wren.Slash(s.ctx, s.place, "mine export", nil)
			arrived := func(m *standin.Message) bool { return strings.HasSuffix(m.Text, "Read.") }
			if _, err := where.Await(s.ctx, s.wren, arrived); err != nil {
				t.Fatalf("%v\n%s", err, s.log)
			}
			if err := s.stop(); err != nil {
				t.Fatal(err)
			}
			if tk.open() != 1 {
				t.Fatal("the answer was marked as delivered, which nobody could know")
			}
			s.Heal()
			s.run()
			s.settled()
			n := 0
			for _, m := range append(s.place.Messages(s.wren), s.wren.Direct().Messages(s.wren)...) {
				if arrived(&m) {
					n++
				}
			}
			if n != 1 {
				t.Errorf("the answer is seen %d times", n)
			}
		})
	}
}

// A private follow-up whose answer is lost is not sent again and again: it
// comes once more at the most, and says that it may be the second.
func TestFollowUpCut(t *testing.T) {
	t.Parallel()
	for name, rule := range map[string]standin.Rule{
		"cut, carried out":         {Cut: true, Done: true},
		"cut, not carried out":     {Cut: true},
		"bad gateway, carried out": {Status: 502, Done: true},
	} {
		t.Run(name, func(t *testing.T) {
			tk := &talk{ack: func(bot.Request) bot.Ack { return bot.AckPublic }}
			tk.handle = func(context.Context, bot.Request) bot.Reply { return bot.Reply{Text: "No.", Private: true} }
			s := stage(t, tk, standin.Config{}, discord.Config{})
			rule.Method, rule.Path, rule.Times = "POST", "/webhooks/", 3 // this iteration's own
			r := s.Break(rule)
			go s.wren.Slash(s.ctx, s.place, "mine export", nil)
			if _, err := s.wren.Direct().Await(s.ctx, s.wren, func(m *standin.Message) bool {
				return answers(m.Text, "No.") && strings.Contains(m.Text, "in case my answer did not reach you there")
			}); err != nil {
				t.Fatalf("%v\n%s", err, s.log)
			}
			s.settled()
			if n := s.Hits(r); n != 1 {
				t.Errorf("the follow-up was sent %d times, want once", n)
			}
			if n := len(s.wren.Direct().Messages(s.wren)); n != 1 {
				t.Errorf("%d direct messages, want one", n)
			}
		})
	}
}

// An answer of success without what was asked for is none, and it is asked for
// again: no request is made of what was not said.
func TestStartAsksAgainForWhatWasNotSaid(t *testing.T) {
	for _, path := range []string{"/users/@me", "/applications/@me", "/gateway/bot"} {
		for _, garbled := range []string{"null", "{}", `{"id":""}`} {
			t.Run(path+" "+garbled, func(t *testing.T) {
				tk := &talk{handle: say("Read.")}
				s := stage(t, tk, standin.Config{}, discord.Config{})
				s.AllowHaste(true)
				if err := s.stop(); err != nil {
					t.Fatal(err)
				}
				r := s.Break(standin.Rule{Path: path, Status: 200, Page: garbled, Times: 2})
				s.run()
				s.healthy()
				if n := s.Hits(r); n < 2 {
					t.Errorf("the fault happened %d times, want 2", n)
				}
				s.settled()
			})
		}
	}
}

// A member's roles that were not said are not none: a coach would lose students.
func TestRolesNotSaidAreNotNone(t *testing.T) {
	s := stage(t, &talk{handle: say("Read.")}, standin.Config{}, discord.Config{})
	for _, garbled := range []string{"null", "{}", `{"roles":null}`} {
		s.Break(standin.Rule{Path: "/members/", Status: 200, Page: garbled, Times: 1})
		if roles, err := s.adapter.Roles(s.ctx, s.server.ID, s.wren.ID); err == nil || errors.Is(err, bot.ErrGone) {
			t.Errorf("%s: %v, %v", garbled, roles, err)
		}
	}
}

// Where somebody is written to directly is asked for until it is said: an answer
// without it is none.
func TestDirectChannelIsAskedAgain(t *testing.T) {
	for _, garbled := range []string{"{}", `[{"id":"1"}]`, `{"id":`} {
		t.Run(garbled, func(t *testing.T) { directChannelIsAskedAgain(t, garbled) })
	}
}

func directChannelIsAskedAgain(t *testing.T, garbled string) {
	tk := &talk{}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	tk.handle = func(context.Context, bot.Request) bot.Reply {
		s.ExpireTokens()
		return bot.Reply{Text: "No."}
	}
	r := s.Break(standin.Rule{Method: "POST", Path: "/users/@me/channels", Status: 200, Page: garbled, Times: 2})
	out, err := s.wren.Slash(s.ctx, s.place, "mine export", nil)
	if err != nil || !answers(out.Text, "No.") || out.Channel != s.wren.Direct() {
		t.Errorf("%v: %+v\n%s", err, out, s.log)
	}
	if n := s.Hits(r); n < 2 {
		t.Errorf("the fault happened %d times, want 2", n)
	}
	s.settled()
}

// A private follow-up is not sent again as it was when the bot was stopped before
// it knew.
func TestRestartAfterFollowUp(t *testing.T) {
	tk := &talk{ack: func(bot.Request) bot.Ack { return bot.AckPublic }}
	tk.handle = func(context.Context, bot.Request) bot.Reply { return bot.Reply{Text: "No.", Private: true} }
	s := stage(t, tk, standin.Config{}, discord.Config{Grace: time.Nanosecond})
	s.AllowHaste(true)
	r := s.Break(standin.Rule{Method: "POST", Path: "/webhooks/", Done: true, Cut: true})
	s.Break(standin.Rule{Method: "POST", Path: "/users/@me/channels", Status: 522, Page: page})
	go s.wren.Slash(s.ctx, s.place, "mine export", nil)
	for s.Hits(r) == 0 {
		time.Sleep(time.Millisecond)
	}
	if err := s.stop(); err != nil {
		t.Fatal(err)
	}
	s.Heal()
	s.run()
	s.settled()
	if ms := s.wren.Direct().Messages(s.wren); len(ms) != 1 || !answers(ms[0].Text, "No.") || !strings.Contains(ms[0].Text, "in case my answer did not reach you there") {
		t.Errorf("directly: %+v", ms)
	}
	seen := 0
	for _, m := range s.place.Messages(s.wren) {
		if m.Text == "No." {
			seen++
		}
	}
	if seen != 1 {
		t.Errorf("the follow-up is seen %d times", seen)
	}
}

// A message's answer was shown in the channel and its own answer lost; by the next
// start it is its asker's alone, goes to them directly, and says that they may have
// seen it.
func TestMessageShownThenPrivate(t *testing.T) {
	var private atomic.Bool
	tk := &talk{
		ack:    func(bot.Request) bot.Ack { return bot.AckPublic },
		handle: func(context.Context, bot.Request) bot.Reply { return bot.Reply{Text: "Read.", Private: private.Load()} },
	}
	s := stage(t, tk, standin.Config{}, discord.Config{})
	s.AllowHaste(true)
	r := s.Break(standin.Rule{Method: "POST", Path: "/channels/" + s.place.ID + "/messages", Status: 520, Page: page, Done: true})
	s.wren.Say(s.place, "@Rangepost", session)
	for end := time.Now().Add(10 * time.Second); s.Hits(r) == 0; time.Sleep(10 * time.Millisecond) {
		if time.Now().After(end) {
			t.Fatalf("nothing was posted\n%s", s.log)
		}
	}
	if err := s.stop(); err != nil {
		t.Fatal(err)
	}
	private.Store(true)
	s.Heal()
	s.run()
	m, err := s.wren.Direct().Await(s.ctx, s.wren, func(m *standin.Message) bool { return answers(m.Text, "Read.") })
	if err != nil || !strings.Contains(m.Text, "in case my answer did not reach you there") {
		t.Errorf("%v: %+v\n%s", err, m, s.log)
	}
	s.settled()
}

// At the start nobody but the platform is believed, either; the platform is, at
// once.
func TestRefusedAtStart(t *testing.T) {
	t.Parallel()
	for name, c := range map[string]struct {
		rule standin.Rule
		ends string // what Run ends with, "" if it connects
	}{
		"a proxy's 403":      {standin.Rule{Status: 403, Page: page, Times: 3}, ""},
		"a proxy's 401":      {standin.Rule{Status: 401, Page: page, Times: 3}, ""},
		"the platform's 401": {standin.Rule{Status: http.StatusUnauthorized}, "refuses the bot token"},
		"the platform's 403": {standin.Rule{Status: http.StatusForbidden, Code: 50001}, "code 50001"},
	} {
		t.Run(name, func(t *testing.T) {
			tk := &talk{handle: say("Read.")}
			s := stage(t, tk, standin.Config{}, discord.Config{})
			s.AllowHaste(true)
			if err := s.stop(); err != nil {
				t.Fatal(err)
			}
			c.rule.Path = "/users/@me"
			s.Break(c.rule)
			s.run()
			if c.ends != "" {
				if err := s.wait(); err == nil || !strings.Contains(err.Error(), c.ends) {
					t.Errorf("ended with %v, want %q", err, c.ends)
				}
				return
			}
			s.healthy()
		})
	}
}
