package standin

import (
	"bytes"
	"encoding/json"
	"fmt"
	"mime/multipart"
	"net/http"
	"strings"
	"testing"
	"time"
)

// begun is something one person did, with no bot there to see it: the tests
// here play the bot, badly.
func begun(t *testing.T, s *Stand, kind int) *interaction {
	t.Helper()
	srv := s.Server("Saltmarsh Links")
	in := &interaction{kind: kind, channel: srv.Channel("range"), user: srv.Join(s.User("Wren"))}
	s.mu.Lock()
	defer s.mu.Unlock()
	if kind == kindComponent {
		in.source = &message{channel: in.channel, author: s.botUser, content: "press"}
		s.add(in.source)
	}
	if err := s.begin(in, map[string]any{}); err != nil {
		t.Fatal(err)
	}
	in.failed = "" // there is no bot to deliver it to
	return in
}

// send plays the bot. It returns the status and the platform's code.
func send(t *testing.T, s *Stand, method, path, contentType string, body []byte) (status, code int) {
	t.Helper()
	req, err := http.NewRequest(method, s.URL()+"/api/v10"+path, bytes.NewReader(body))
	if err != nil {
		t.Fatal(err)
	}
	req.Header.Set("Content-Type", contentType)
	req.Header.Set("User-Agent", "DiscordBot (test, 1)")
	req.Header.Set("Authorization", "Bot "+s.Token())
	resp, err := http.DefaultClient.Do(req)
	if err != nil {
		t.Fatal(err)
	}
	defer resp.Body.Close()
	var j struct{ Code int }
	json.NewDecoder(resp.Body).Decode(&j)
	return resp.StatusCode, j.Code
}

func open(t *testing.T, c Config) *Stand {
	t.Helper()
	s, err := Start(c)
	if err != nil {
		t.Fatal(err)
	}
	t.Cleanup(func() { s.Close() })
	return s
}

func button(n int) string {
	return fmt.Sprintf(`{"type":2,"style":2,"label":"b","custom_id":"b%d"}`, n)
}

func list(n int, f func(int) string) string {
	var b []string
	for i := range n {
		b = append(b, f(i))
	}
	return strings.Join(b, ",")
}

// The limits are those of the platform's documentation (Message, Component
// Reference, Receiving and Responding) [P].
func TestRefusedAnswers(t *testing.T) {
	long := func(n int) string { return strings.Repeat("x", n) }
	row := func(inner string) string { return `{"type":1,"components":[` + inner + `]}` }
	label := func(inner string) string { return `{"type":18,"label":"l","component":` + inner + `}` }
	input := `{"type":4,"custom_id":"i","style":1}`
	for _, c := range []struct {
		name string
		body string
		code int // 0 for accepted
	}{
		{"text", `{"type":4,"data":{"content":"x"}}`, 0},
		{"2,000 characters, wide ones too", `{"type":4,"data":{"content":"` + strings.Repeat("é", 2000) + `"}}`, 0},
		{"2,001 characters", `{"type":4,"data":{"content":"` + long(2001) + `"}}`, 50035},
		{"nothing", `{"type":4,"data":{"content":" "}}`, 50006},
		{"unknown field", `{"type":4,"data":{"content":"x","contents":"x"}}`, 50035},
		{"unknown type", `{"type":99}`, 50035},
		{"an update where there is no message", `{"type":6}`, 50035},
		{"choices for a command", `{"type":8,"data":{"choices":[]}}`, 50035},
		{"other flags when deferring", `{"type":5,"data":{"flags":4}}`, 50035},
		{"5 buttons", `{"type":4,"data":{"content":"x","components":[` + row(list(5, button)) + `]}}`, 0},
		{"6 buttons", `{"type":4,"data":{"content":"x","components":[` + row(list(6, button)) + `]}}`, 50035},
		{"an empty row", `{"type":4,"data":{"content":"x","components":[` + row("") + `]}}`, 50035},
		{"6 rows", `{"type":4,"data":{"content":"x","components":[` + list(6, func(i int) string { return row(button(i)) }) + `]}}`, 50035},
		{"the same button twice", `{"type":4,"data":{"content":"x","components":[` + row(button(1)+","+button(1)) + `]}}`, 50035},
		{"a label of 81", `{"type":4,"data":{"content":"x","components":[` + row(`{"type":2,"style":1,"label":"`+long(81)+`","custom_id":"a"}`) + `]}}`, 50035},
		{"a path of 101", `{"type":4,"data":{"content":"x","components":[` + row(`{"type":2,"style":1,"label":"l","custom_id":"`+long(101)+`"}`) + `]}}`, 50035},
		{"a text box outside a form", `{"type":4,"data":{"content":"x","components":[` + row(input) + `]}}`, 50035},
		{"25 choices", `{"type":4,"data":{"content":"x","components":[` + row(`{"type":3,"custom_id":"m","options":[`+list(25, func(i int) string { return fmt.Sprintf(`{"label":"l","value":"%d"}`, i) })+`]}`) + `]}}`, 0},
		{"26 choices", `{"type":4,"data":{"content":"x","components":[` + row(`{"type":3,"custom_id":"m","options":[`+list(26, func(i int) string { return fmt.Sprintf(`{"label":"l","value":"%d"}`, i) })+`]}`) + `]}}`, 50035},
		{"the same choice twice", `{"type":4,"data":{"content":"x","components":[` + row(`{"type":3,"custom_id":"m","options":[{"label":"l","value":"1"},{"label":"l","value":"1"}]}`) + `]}}`, 50035},
		{"everybody and named people", `{"type":4,"data":{"content":"x","allowed_mentions":{"parse":["users"],"users":["1"]}}}`, 50035},
		{"a form", `{"type":9,"data":{"custom_id":"f","title":"t","components":[` + label(input) + `]}}`, 0},
		{"a form in the deprecated way", `{"type":9,"data":{"custom_id":"f","title":"t","components":[` + row(input) + `]}}`, 50035},
		{"a title of 46", `{"type":9,"data":{"custom_id":"f","title":"` + long(46) + `","components":[` + label(input) + `]}}`, 50035},
		{"a form of 6", `{"type":9,"data":{"custom_id":"f","title":"t","components":[` + list(6, func(i int) string { return label(fmt.Sprintf(`{"type":4,"custom_id":"i%d","style":1}`, i)) }) + `]}}`, 50035},
		{"a file that is not there", `{"type":4,"data":{"content":"x","attachments":[{"id":0,"filename":"a"}]}}`, 50035},
	} {
		s := open(t, Config{})
		in := begun(t, s, kindCommand)
		status, code := send(t, s, "POST", "/interactions/"+in.id+"/"+in.token+"/callback", "application/json", []byte(c.body))
		if code != c.code || (status == http.StatusNoContent) != (c.code == 0) {
			t.Errorf("%s: status %d, code %d, want code %d", c.name, status, code, c.code)
		}
	}
}

// What may follow what, and until when.
func TestRefusedOrder(t *testing.T) {
	s := open(t, Config{AckWithin: 300 * time.Millisecond})
	deferred := []byte(`{"type":5,"data":{"flags":64}}`)
	text := []byte(`{"content":"x"}`)
	post := func(in *interaction, path string, body []byte) int {
		_, code := send(t, s, "POST", path, "application/json", body)
		return code
	}
	callback := func(in *interaction) string { return "/interactions/" + in.id + "/" + in.token + "/callback" }
	webhook := func(in *interaction) string { return "/webhooks/" + s.app + "/" + in.token }
	edit := func(in *interaction) int {
		_, code := send(t, s, "PATCH", webhook(in)+"/messages/@original", "application/json", text)
		return code
	}

	in := begun(t, s, kindCommand)
	if code := edit(in); code != 10015 {
		t.Errorf("an edit before the acknowledgement: code %d, want 10015", code)
	}
	if code := post(in, callback(in), deferred); code != 0 {
		t.Errorf("acknowledgement: code %d", code)
	}
	if code := post(in, callback(in), deferred); code != 40060 {
		t.Errorf("a second acknowledgement: code %d, want 40060", code)
	}
	// The first follow-up fills the placeholder, and cannot change who sees it.
	if code := post(in, webhook(in), []byte(`{"content":"x"}`)); code != 0 {
		t.Errorf("follow-up: code %d", code)
	}
	if in.settled != in.original || in.settled.viewer != in.user {
		t.Error("the first follow-up did not fill the private placeholder")
	}
	s.ExpireTokens()
	if code := edit(in); code != 50027 {
		t.Errorf("an edit with a dead token: code %d, want 50027", code)
	}

	late := begun(t, s, kindCommand)
	time.Sleep(400 * time.Millisecond)
	if code := post(late, callback(late), deferred); code != 10062 {
		t.Errorf("a late acknowledgement: code %d, want 10062", code)
	}
	if late.failed != notResponding {
		t.Errorf("the person was told %q", late.failed)
	}

	press := begun(t, s, kindComponent)
	if code := post(press, callback(press), []byte(`{"type":6}`)); code != 0 {
		t.Errorf("deferred update: code %d", code)
	}
	form := begun(t, s, kindModal)
	if code := post(form, callback(form), []byte(`{"type":9,"data":{"custom_id":"f","title":"t","components":[{"type":18,"label":"l","component":{"type":4,"custom_id":"i","style":1}}]}}`)); code != 50035 {
		t.Errorf("a form for a form: code %d, want 50035", code)
	}
}

// What a form may hold, by the platform's description (its request schemas of
// labels and of what stands in them) [P], and that what need not be filled in
// takes none by "min_values" (its documentation's own notes of 2026) [S].
func TestRefusedForms(t *testing.T) {
	input := `{"type":4,"custom_id":"t","style":1}`
	menu := func(rest string) string {
		return `{"type":3,"custom_id":"m","options":[{"label":"a","value":"a"},{"label":"b","value":"b"}]` + rest + `}`
	}
	file := func(rest string) string { return `{"type":19,"custom_id":"f"` + rest + `}` }
	label := func(c string) string { return `{"type":18,"label":"l","component":` + c + `}` }
	for name, c := range map[string]struct {
		parts string
		fails bool
	}{
		"one of each":                    {label(input) + "," + label(menu("")) + "," + label(file("")), false},
		"none needed":                    {label(menu(`,"required":false,"min_values":0`)) + "," + label(file(`,"required":false,"min_values":0`)), false},
		"needed, and none taken":         {label(menu(`,"min_values":0`)), true},
		"a needed file, and none taken":  {label(file(`,"required":true,"min_values":0`)), true},
		"ten files":                      {label(file(`,"max_values":10`)), false},
		"eleven files":                   {label(file(`,"max_values":11`)), true},
		"more least than most":           {label(file(`,"min_values":3,"max_values":2`)), true},
		"a file with a placeholder":      {label(file(`,"placeholder":"x"`)), true},
		"a file with a label of its own": {label(file(`,"label":"x"`)), true},
		"a file in a row":                {`{"type":1,"components":[` + file("") + `]}`, true},
		"a file without a label":         {file(""), true},
		"no label's text":                {`{"type":18,"component":` + input + `}`, true},
		"a long description":             {`{"type":18,"label":"l","description":"` + strings.Repeat("d", 101) + `","component":` + input + `}`, true},
		"a preset":                       {label(`{"type":3,"custom_id":"m","options":[{"label":"a","value":"a","default":true}]}`), false},
		"two presets of one":             {label(`{"type":3,"custom_id":"m","options":[{"label":"a","value":"a","default":true},{"label":"b","value":"b","default":true}]}`), true},
		"a choice twice":                 {label(`{"type":3,"custom_id":"m","options":[{"label":"a","value":"a"},{"label":"b","value":"a"}]}`), true},
		"no choices":                     {label(`{"type":3,"custom_id":"m","options":[]}`), true},
		"a disabled menu":                {label(menu(`,"disabled":true`)), true},
		"a button":                       {label(`{"type":2,"custom_id":"b","label":"x","style":1}`), true},
		"the same id twice":              {label(input) + "," + label(input), true},
		"six parts":                      {list(6, func(i int) string { return label(fmt.Sprintf(`{"type":4,"custom_id":"t%d","style":1}`, i)) }), true},
	} {
		s := open(t, Config{})
		in := begun(t, s, kindCommand)
		_, code := send(t, s, "POST", "/interactions/"+in.id+"/"+in.token+"/callback", "application/json",
			[]byte(`{"type":9,"data":{"custom_id":"f","title":"t","components":[`+c.parts+`]}}`))
		if want := map[bool]int{true: 50035}[c.fails]; code != want {
			t.Errorf("%s: code %d, want %d", name, code, want)
		}
	}
}

// Files: ten of 10 MiB at most, named, and those not listed on an edit go.
func TestFiles(t *testing.T) {
	s := open(t, Config{})
	srv := s.Server("Saltmarsh Links")
	place, wren := srv.Channel("range"), srv.Join(s.User("Wren"))
	with := func(payload string, sizes ...int) (string, []byte) {
		var b bytes.Buffer
		w := multipart.NewWriter(&b)
		w.WriteField("payload_json", payload)
		for i, n := range sizes {
			p, _ := w.CreateFormFile(fmt.Sprintf("files[%d]", i), "a.png")
			p.Write(make([]byte, n))
		}
		w.Close()
		return w.FormDataContentType(), b.Bytes()
	}
	path := "/channels/" + place.ID + "/messages"
	ct, body := with(`{"content":"x"}`, 10<<20+1)
	if _, code := send(t, s, "POST", path, ct, body); code != 40005 {
		t.Errorf("a file over 10 MiB: code %d, want 40005", code)
	}
	ct, body = with(`{"content":"x","attachments":[{"id":1,"filename":"a.png"}]}`, 5)
	if _, code := send(t, s, "POST", path, ct, body); code != 50035 {
		t.Errorf("a file not listed: code %d, want 50035", code)
	}
	ct, body = with(`{"content":"x","attachments":[{"id":0,"filename":"a.png","description":"alt"},{"id":1,"filename":"b.png"}]}`, 5, 6)
	if _, code := send(t, s, "POST", path, ct, body); code != 0 {
		t.Fatalf("two files: code %d", code)
	}
	m := place.Messages(wren)[0]
	if len(m.Files) != 2 || m.Files[0].Alt != "alt" {
		t.Fatalf("files: %+v", m.Files)
	}
	if _, code := send(t, s, "PATCH", path+"/"+m.ID, "application/json", []byte(`{"content":"y"}`)); code != 0 {
		t.Fatalf("edit: code %d", code)
	}
	if n := len(place.Messages(wren)[0].Files); n != 2 {
		t.Errorf("an edit that says nothing about files left %d", n)
	}
	id := s.messages[m.ID].files[1].id
	if _, code := send(t, s, "PATCH", path+"/"+m.ID, "application/json", []byte(`{"attachments":[{"id":"`+id+`"}]}`)); code != 0 {
		t.Fatalf("edit: code %d", code)
	}
	if fs := place.Messages(wren)[0].Files; len(fs) != 1 || fs[0].Name != "b.png" {
		t.Errorf("files after an edit that lists the second: %+v", fs)
	}
}

// The commands the platform takes (documentation, Application Commands) [P].
func TestRefusedCommands(t *testing.T) {
	cmd := func(rest string) string { return `[{"name":"post","description":"d"` + rest + `}]` }
	for _, c := range []struct {
		name, body string
		code       int
	}{
		{"plain", cmd(""), 0},
		{"capitals", `[{"name":"Post","description":"d"}]`, 50035},
		{"a space", `[{"name":"po st","description":"d"}]`, 50035},
		{"no description", `[{"name":"post"}]`, 50035},
		{"on a message", `[{"name":"Read this session","type":3}]`, 0},
		{"on a message, described", `[{"name":"Read this","type":3,"description":"d"}]`, 50035},
		{"the same twice", `[{"name":"post","description":"d"},{"name":"post","description":"d"}]`, 50035},
		{"optional before required", cmd(`,"options":[{"type":3,"name":"a","description":"d"},{"type":3,"name":"b","description":"d","required":true}]`), 50035},
		{"choices and completion", cmd(`,"options":[{"type":3,"name":"a","description":"d","autocomplete":true,"choices":[{"name":"x","value":"x"}]}]`), 50035},
		{"26 options", cmd(`,"options":[` + list(26, func(i int) string { return fmt.Sprintf(`{"type":3,"name":"a%d","description":"d"}`, i) }) + `]`), 50035},
		{"over 8,000 characters", cmd(`,"options":[` + list(25, func(i int) string {
			return fmt.Sprintf(`{"type":3,"name":"a%d","description":"%s","choices":[%s]}`, i, strings.Repeat("d", 100), list(25, func(j int) string { return fmt.Sprintf(`{"name":"%d name","value":"%d value"}`, j, j) }))
		}) + `]`), 50035},
	} {
		s := open(t, Config{})
		if _, code := send(t, s, "PUT", "/applications/"+s.app+"/commands", "application/json", []byte(c.body)); code != c.code {
			t.Errorf("%s: code %d, want %d", c.name, code, c.code)
		}
	}
}

// Rate limits are met at the numbers announced.
func TestRateLimits(t *testing.T) {
	s := open(t, Config{})
	place := s.Server("Saltmarsh Links").Channel("range")
	for i := range 6 {
		status, _ := send(t, s, "POST", "/channels/"+place.ID+"/messages", "application/json", []byte(`{"content":"x"}`))
		if want := map[bool]int{true: 200, false: 429}[i < 5]; status != want {
			t.Errorf("message %d: status %d, want %d", i+1, status, want)
		}
	}
	limited := 0
	for range 60 {
		if status, _ := send(t, s, "GET", "/users/@me", "", nil); status == 429 {
			limited++
		}
	}
	if limited == 0 {
		t.Error("60 requests at once meet no limit")
	}
}
