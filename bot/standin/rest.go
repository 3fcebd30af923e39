package standin

import (
	"encoding/json"
	"errors"
	"io"
	"net/http"
	"strconv"
	"strings"
	"time"
)

// apiHandler is the REST interface and the gateway.
func (s *Stand) apiHandler() http.Handler {
	mux := http.NewServeMux()
	mux.HandleFunc("/gateway", s.serveGateway)
	mux.HandleFunc("/gateway/{$}", s.serveGateway)
	rest := func(pattern string, f func(r *http.Request, body []byte) (any, error)) {
		method, path, _ := strings.Cut(pattern, " ")
		mux.Handle(method+" /api/v10"+path, s.endpoint(pattern, f))
	}
	rest("GET /gateway", s.getGateway)
	rest("GET /gateway/bot", s.getGatewayBot)
	rest("GET /users/@me", s.getMe)
	rest("GET /users/@me/guilds", s.getServers)
	rest("GET /guilds/{guild}/members/{user}", s.getMember)
	rest("GET /guilds/{guild}/channels", s.getChannels)
	rest("GET /guilds/{guild}/threads/active", s.getThreads)
	rest("POST /users/@me/channels", s.postDirect)
	rest("GET /applications/@me", s.getApplication)
	rest("GET /applications/{app}/commands", s.getCommands)
	rest("PUT /applications/{app}/commands", s.putCommands)
	rest("GET /channels/{channel}", s.getChannel)
	rest("GET /channels/{channel}/messages", s.getMessages)
	rest("GET /channels/{channel}/messages/{message}", s.getMessage)
	rest("POST /channels/{channel}/messages", s.postMessage)
	rest("PATCH /channels/{channel}/messages/{message}", s.patchMessage)
	rest("DELETE /channels/{channel}/messages/{message}", s.deleteMessage)
	rest("PUT /channels/{channel}/messages/pins/{message}", s.putPin)
	rest("POST /channels/{channel}/typing", s.postTyping)
	rest("POST /channels/{channel}/threads", s.postThread)
	rest("PATCH /channels/{channel}", s.patchThread)
	rest("PUT /channels/{channel}/thread-members/{user}", s.putThreadMember)
	rest("POST /interactions/{id}/{token}/callback", s.postCallback)
	rest("POST /webhooks/{app}/{token}", s.postFollowUp)
	rest("GET /webhooks/{app}/{token}/messages/{message}", s.getAnswer)
	rest("PATCH /webhooks/{app}/{token}/messages/{message}", s.patchAnswer)
	rest("DELETE /webhooks/{app}/{token}/messages/{message}", s.deleteAnswer)
	mux.HandleFunc("/", func(w http.ResponseWriter, r *http.Request) {
		if !strings.HasPrefix(r.URL.Path, "/api/v10/") {
			writeRefusal(w, &refusal{400, 50041, "Invalid API version", ""})
			return
		}
		writeRefusal(w, &refusal{404, 0, "404: Not Found", ""})
	})
	return mux
}

// endpoint does for every request what the platform does before looking at it:
// writes it down, applies the faults asked for and the rate limits, checks the
// token.
func (s *Stand) endpoint(pattern string, f func(*http.Request, []byte) (any, error)) http.Handler {
	open := strings.Contains(pattern, "/{token}") || pattern == "GET /gateway"
	return http.HandlerFunc(func(w http.ResponseWriter, r *http.Request) {
		body, err := io.ReadAll(http.MaxBytesReader(w, r.Body, maxRequest+1<<20))
		if err != nil {
			writeRefusal(w, errTooLarge)
			return
		}
		s.mu.Lock()
		if !s.cfg.Lean {
			s.requests = append(s.requests, Request{time.Now(), r.Method, r.URL.Path, r.Header.Get("Content-Type"), body})
		}
		hooks := s.hooks
		s.mu.Unlock()
		for _, h := range hooks {
			h(r.Method, r.URL.Path, r.Header.Get("Content-Type"), body)
		}
		if !strings.HasPrefix(r.Header.Get("User-Agent"), "DiscordBot (") {
			writeRefusal(w, &refusal{403, 40333, "internal network error", "User-Agent"})
			return
		}
		fault := s.rule(r)
		if fault != nil && !fault.Done && fault.apply(w, r) {
			return
		}
		if !s.allow(w, r, pattern, open) {
			return
		}
		if !open && r.Header.Get("Authorization") != "Bot "+s.cfg.Token {
			writeRefusal(w, errUnauthorized)
			return
		}
		w.Header().Set("Date", time.Now().Add(s.skew()).UTC().Format(http.TimeFormat))
		answer, err := f(r, body)
		if fault != nil && fault.Done && fault.apply(w, r) {
			return
		}
		var no *refusal
		switch {
		case errors.As(err, &no):
			writeRefusal(w, no)
		case err != nil:
			writeRefusal(w, &refusal{500, 0, err.Error(), ""})
		case answer == nil:
			w.WriteHeader(http.StatusNoContent)
		default:
			writeJSON(w, http.StatusOK, answer)
		}
	})
}

func writeJSON(w http.ResponseWriter, status int, v any) {
	w.Header().Set("Content-Type", "application/json")
	w.WriteHeader(status)
	json.NewEncoder(w).Encode(v)
}

func writeRefusal(w http.ResponseWriter, r *refusal) {
	j := map[string]any{"code": r.code, "message": r.message}
	if r.field != "" {
		j["errors"] = map[string]any{"_errors": []any{map[string]any{"code": "INVALID", "message": r.field}}}
	}
	writeJSON(w, r.status, j)
}

func (s *Stand) getGateway(*http.Request, []byte) (any, error) {
	return map[string]any{"url": "ws://" + s.apiAddr + "/gateway"}, nil
}

func (s *Stand) getGatewayBot(*http.Request, []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	return map[string]any{
		"url": "ws://" + s.apiAddr + "/gateway", "shards": s.cfg.Shards,
		"session_start_limit": map[string]any{
			"total": 1000, "remaining": s.gateway.remaining, "reset_after": 14400000, "max_concurrency": s.cfg.Gate,
		},
	}, nil
}

func (s *Stand) getMe(*http.Request, []byte) (any, error) { return s.botUser.json(), nil }

func (s *Stand) getServers(*http.Request, []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	out := []any{}
	for _, srv := range s.servers {
		if srv.members[s.botUser.ID] == nil {
			continue
		}
		out = append(out, map[string]any{"id": srv.ID, "name": srv.Name, "icon": nil, "owner": false, "permissions": strconv.Itoa(srv.permissions(s.botUser)), "features": []string{}})
	}
	return out, nil
}

func (s *Stand) getApplication(*http.Request, []byte) (any, error) {
	return map[string]any{
		"id": s.app, "name": s.botUser.Name, "icon": nil, "description": "", "bot_public": true,
		"bot_require_code_grant": s.cfg.CodeGrant, "verify_key": strings.Repeat("0", 64), "flags": 0,
		"bot": s.botUser.json(), "team": nil,
	}, nil
}

var errNotYours = &refusal{403, 20012, "You are not authorized to perform this action on this application", ""}

func (s *Stand) getCommands(r *http.Request, _ []byte) (any, error) {
	if r.PathValue("app") != s.app {
		return nil, errNotYours
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	out := []any{}
	for _, c := range s.commands {
		out = append(out, s.commandJSON(c))
	}
	return out, nil
}

// commandJSON is a command as the platform gives it back, with more fields
// than were sent.
func (s *Stand) commandJSON(c command) map[string]any {
	b, _ := json.Marshal(c)
	j := map[string]any{}
	json.Unmarshal(b, &j)
	j["application_id"], j["version"] = s.app, c.ID
	j["type"] = or(c.Type, 1)
	j["dm_permission"] = true
	j["name_localizations"], j["description_localizations"] = nil, nil
	return j
}

func (s *Stand) putCommands(r *http.Request, body []byte) (any, error) {
	if r.PathValue("app") != s.app {
		return nil, errNotYours
	}
	var cs []command
	if _, err := readBody(r, body, &cs); err != nil {
		return nil, err
	}
	if err := checkCommands(cs); err != nil {
		return nil, err
	}
	s.mu.Lock()
	for i := range cs {
		cs[i].ID = s.newID()
	}
	s.commands = cs
	s.touch()
	s.mu.Unlock()
	return s.getCommands(r, nil)
}

func (s *Stand) getChannel(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	c, err := s.channel(r)
	if err != nil {
		return nil, err
	}
	return c.json(), nil
}

func (s *Stand) channel(r *http.Request) (*Channel, error) {
	c := s.channels[r.PathValue("channel")]
	if c == nil {
		return nil, errUnknownChannel
	}
	if c.permissions(s.botUser)&ViewChannel == 0 || !c.sees(s.botUser) {
		return nil, errMissingAccess
	}
	return c, nil
}

func (s *Stand) postDirect(r *http.Request, body []byte) (any, error) {
	var b struct {
		Recipient string `json:"recipient_id"`
	}
	if _, err := readBody(r, body, &b); err != nil {
		return nil, err
	}
	s.mu.Lock()
	defer s.mu.Unlock()
	u := s.users[b.Recipient]
	if u == nil {
		return nil, &refusal{400, 50033, "Invalid Recipient(s)", ""}
	}
	return s.direct(u).json(), nil
}

func (s *Stand) postTyping(r *http.Request, _ []byte) (any, error) {
	s.mu.Lock()
	defer s.mu.Unlock()
	_, err := s.channel(r)
	return nil, err
}
