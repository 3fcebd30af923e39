package openapi

import (
	"bytes"
	"mime/multipart"
	"strings"
	"testing"
)

func load(t *testing.T) *Validator {
	t.Helper()
	v, err := FromEnvironment()
	if err == ErrAbsent {
		t.Skip(err)
	}
	if err != nil {
		t.Fatal(err)
	}
	return v
}

// The description accepts what the documentation shows and refuses what it
// forbids; each row names the rule it breaks.
func TestCheck(t *testing.T) {
	v := load(t)
	long := strings.Repeat("x", 2001)
	options := strings.Repeat(`{"label":"a","value":"a"},`, 26)
	for _, c := range []struct {
		name, method, path, body string
		want                     bool
	}{
		{"message", "POST", "/api/v10/channels/123456789012345678/messages", `{"content":"hello","nonce":"1","enforce_nonce":true}`, true},
		{"numeric attachment id", "POST", "/channels/123456789012345678/messages", `{"content":"","attachments":[{"id":0,"filename":"a.png","description":"alt"}]}`, true},
		{"attachment without id", "POST", "/channels/123456789012345678/messages", `{"attachments":[{"filename":"a.png"}]}`, false},
		{"alt text over 1,024", "PATCH", "/webhooks/1/t/messages/@original", `{"attachments":[{"id":0,"description":"` + long + `"}]}`, false},
		{"edit over 2,000", "PATCH", "/webhooks/1/t/messages/@original", `{"content":"` + long + `"}`, false},
		{"deferred", "POST", "/interactions/1/t/callback", `{"type":5,"data":{"flags":64}}`, true},
		{"unknown callback type", "POST", "/interactions/1/t/callback", `{"type":99}`, false},
		{"26 menu options", "POST", "/webhooks/1/t", `{"components":[{"type":1,"components":[{"type":3,"custom_id":"m","options":[` + options[:len(options)-1] + `]}]}]}`, false},
		{"permissions as text", "PUT", "/applications/1/commands", `[{"name":"club","description":"d","default_member_permissions":"32"}]`, true},
		{"description over 100", "PUT", "/applications/1/commands", `[{"name":"club","description":"` + long + `"}]`, false},
		{"no such operation", "POST", "/nowhere", `{}`, false},
		{"body where none belongs", "GET", "/gateway/bot", `{"a":1}`, false},
	} {
		err := v.Check(c.method, c.path, "application/json", []byte(c.body))
		if (err == nil) != c.want {
			t.Errorf("%s: %v", c.name, err)
		}
	}
}

func TestCheckMultipart(t *testing.T) {
	v := load(t)
	for name, want := range map[string]bool{"files[0]": true, "file": false} {
		var b bytes.Buffer
		w := multipart.NewWriter(&b)
		w.WriteField("payload_json", `{"content":"x","attachments":[{"id":0,"filename":"a.png"}]}`)
		p, err := w.CreateFormFile(name, "a.png")
		if err != nil {
			t.Fatal(err)
		}
		p.Write([]byte("png"))
		w.Close()
		if err := v.Check("POST", "/webhooks/1/t", w.FormDataContentType(), b.Bytes()); (err == nil) != want {
			t.Errorf("part %q: %v", name, err)
		}
	}
}

// The limits across fields hold where no schema can say them. Fails without a
// document too.
func TestTotals(t *testing.T) {
	many := []any{}
	for range 41 {
		many = append(many, map[string]any{"type": 10})
	}
	if totals(map[string]any{"components": many}) == nil {
		t.Error("41 components pass")
	}
	embeds := []any{map[string]any{"description": strings.Repeat("x", 4000)}, map[string]any{"description": strings.Repeat("x", 2001)}}
	if totals(map[string]any{"data": map[string]any{"embeds": embeds}}) == nil {
		t.Error("6,001 characters of embeds pass")
	}
}
