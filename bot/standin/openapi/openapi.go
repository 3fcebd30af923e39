// Package openapi checks requests against the platform's own description of
// its interface, the OpenAPI document published as discord/discord-api-spec
// (MIT). It is for tests: the document is not part of the project, and is
// named by the environment variable DISCORD_OPENAPI.
//
// The description and the documentation differ in two places, where what the
// documentation allows is brought to the description's form first: permissions
// may be strings of digits, and the id of an attachment that comes with the
// request may be a number. Two limits hold across fields and cannot be written
// as a schema; they are checked here: 40 components and 6,000 characters of
// embeds a message.
package openapi

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/url"
	"os"
	"regexp"
	"strconv"
	"strings"
	"sync"
	"unicode/utf8"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// Variable names the environment variable that holds the document's path.
const Variable = "DISCORD_OPENAPI"

// ErrAbsent says that no document was named.
var ErrAbsent = errors.New("openapi: no description of the platform's interface: set " + Variable)

// A Validator checks requests. It may be used from many goroutines.
type Validator struct {
	paths map[string]map[string]any // by path template, then method

	mu       sync.Mutex
	compiler *jsonschema.Compiler
	schemas  map[string]*jsonschema.Schema // by pointer, nil if there is no body
}

// FromEnvironment loads the document that the environment names, or returns
// ErrAbsent.
func FromEnvironment() (*Validator, error) {
	path := os.Getenv(Variable)
	if path == "" {
		return nil, ErrAbsent
	}
	return Load(path)
}

const resource = "file:///openapi.json"

// Load reads the document at path.
func Load(path string) (*Validator, error) {
	f, err := os.Open(path)
	if err != nil {
		return nil, fmt.Errorf("openapi: %w", err)
	}
	defer f.Close()
	doc, err := jsonschema.UnmarshalJSON(f)
	if err != nil {
		return nil, fmt.Errorf("openapi: %s: %w", path, err)
	}
	v := &Validator{paths: map[string]map[string]any{}, compiler: jsonschema.NewCompiler(), schemas: map[string]*jsonschema.Schema{}}
	v.compiler.DefaultDraft(jsonschema.Draft2020)
	root, _ := doc.(map[string]any)
	paths, ok := root["paths"].(map[string]any)
	if !ok {
		return nil, fmt.Errorf("openapi: %s has no paths", path)
	}
	for p, ops := range paths {
		if m, ok := ops.(map[string]any); ok {
			v.paths[p] = m
		}
	}
	if err := v.compiler.AddResource(resource, doc); err != nil {
		return nil, fmt.Errorf("openapi: %s: %w", path, err)
	}
	return v, nil
}

// Check reports what is wrong with a request, nil if nothing is. The path may
// begin with /api/v10.
func (v *Validator) Check(method, path, contentType string, body []byte) error {
	method = strings.ToLower(method)
	template := v.template(method, strings.TrimPrefix(path, "/api/v10"))
	if template == "" {
		return fmt.Errorf("openapi: %s %s is no operation", method, path)
	}
	where := method + " " + template
	schema, err := v.schema(template, method)
	if err != nil {
		return fmt.Errorf("openapi: %s: %w", where, err)
	}
	if schema == nil {
		if len(body) > 0 && string(body) != "{}" {
			return fmt.Errorf("openapi: %s takes no body", where)
		}
		return nil
	}
	payload, err := payloadOf(contentType, body)
	if err != nil {
		return fmt.Errorf("openapi: %s: %w", where, err)
	}
	value, err := jsonschema.UnmarshalJSON(bytes.NewReader(payload))
	if err != nil {
		return fmt.Errorf("openapi: %s: %w", where, err)
	}
	value = documented(value, "")
	if err := schema.Validate(value); err != nil {
		return fmt.Errorf("openapi: %s: %w", where, err)
	}
	if err := totals(value); err != nil {
		return fmt.Errorf("openapi: %s: %w", where, err)
	}
	return nil
}

// template finds the path template a path belongs to, the one with the most
// fixed parts if several match.
func (v *Validator) template(method, path string) string {
	got := strings.Split(path, "/")
	best, most := "", -1
	for t, ops := range v.paths {
		want := strings.Split(t, "/")
		if len(want) != len(got) || ops[method] == nil {
			continue
		}
		fixed := 0
		for i, w := range want {
			switch {
			case w == got[i]:
				fixed++
			case !strings.HasPrefix(w, "{"):
				fixed = -len(want)
			}
		}
		if fixed > most && fixed >= 0 {
			best, most = t, fixed
		}
	}
	return best
}

func (v *Validator) schema(template, method string) (*jsonschema.Schema, error) {
	v.mu.Lock()
	defer v.mu.Unlock()
	key := method + template
	if s, ok := v.schemas[key]; ok {
		return s, nil
	}
	op := v.paths[template][method].(map[string]any)
	request, ok := op["requestBody"].(map[string]any)
	if !ok {
		v.schemas[key] = nil
		return nil, nil
	}
	content, _ := request["content"].(map[string]any)
	if content["application/json"] == nil {
		return nil, errors.New("the description has no JSON body")
	}
	pointer := "/paths/" + escape(template) + "/" + method + "/requestBody/content/application~1json/schema"
	s, err := v.compiler.Compile(resource + "#" + (&url.URL{Path: pointer}).EscapedPath())
	if err != nil {
		return nil, err
	}
	v.schemas[key] = s
	return s, nil
}

func escape(part string) string {
	return strings.ReplaceAll(strings.ReplaceAll(part, "~", "~0"), "/", "~1")
}

var filePart = regexp.MustCompile(`^files\[\d+\]$`)

// payloadOf is the JSON of a request, also of one with files.
func payloadOf(contentType string, body []byte) ([]byte, error) {
	kind, params, err := mime.ParseMediaType(contentType)
	if err != nil {
		return nil, fmt.Errorf("content type: %w", err)
	}
	if kind == "application/json" {
		return body, nil
	}
	if kind != "multipart/form-data" {
		return nil, fmt.Errorf("content type %q", kind)
	}
	var payload []byte
	mr := multipart.NewReader(bytes.NewReader(body), params["boundary"])
	for {
		p, err := mr.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, err
		}
		switch name := p.FormName(); {
		case name == "payload_json":
			if payload, err = io.ReadAll(p); err != nil {
				return nil, err
			}
		case !filePart.MatchString(name):
			return nil, fmt.Errorf("part %q is neither payload_json nor a file", name)
		case p.FileName() == "":
			return nil, fmt.Errorf("part %q has no file name", name)
		}
	}
	if payload == nil {
		return nil, errors.New("no payload_json")
	}
	return payload, nil
}

// documented brings what the documentation allows to the description's form.
func documented(v any, key string) any {
	switch v := v.(type) {
	case map[string]any:
		for k, inner := range v {
			if k == "default_member_permissions" {
				if s, ok := inner.(string); ok {
					if _, err := strconv.ParseInt(s, 10, 64); err == nil {
						v[k] = json.Number(s)
					}
				}
				continue
			}
			if n, ok := inner.(json.Number); ok && k == "id" && key == "attachments" {
				v[k] = n.String()
				continue
			}
			v[k] = documented(inner, k)
		}
	case []any:
		for i := range v {
			v[i] = documented(v[i], key)
		}
	}
	return v
}

// totals checks the limits that hold across fields.
func totals(v any) error {
	m, ok := v.(map[string]any)
	if !ok {
		return nil
	}
	if data, ok := m["data"].(map[string]any); ok {
		m = data
	}
	if n := components(m["components"]); n > 40 {
		return fmt.Errorf("%d components, more than 40", n)
	}
	if n := characters(m["embeds"]); n > 6000 {
		return fmt.Errorf("%d characters of embeds, more than 6,000", n)
	}
	return nil
}

func components(v any) int {
	n := 0
	list, _ := v.([]any)
	for _, c := range list {
		n++
		if m, ok := c.(map[string]any); ok {
			n += components(m["components"])
			if m["component"] != nil {
				n++
			}
		}
	}
	return n
}

func characters(v any) int {
	n := 0
	switch v := v.(type) {
	case []any:
		for _, inner := range v {
			n += characters(inner)
		}
	case map[string]any:
		for k, inner := range v {
			switch k {
			case "title", "description", "name", "value", "text":
				s, _ := inner.(string)
				n += utf8.RuneCountInString(s)
			default:
				n += characters(inner)
			}
		}
	}
	return n
}
