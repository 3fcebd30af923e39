package stranger

import (
	"encoding/json"
	"fmt"
	"os"
	"strconv"
	"strings"
	"sync"

	"github.com/santhosh-tekuri/jsonschema/v6"
)

// A Description is the platform's published OpenAPI description: which
// requests there are and what their bodies look like. Where it disagrees with
// the prose of the documentation, the prose wins (its own README says so), in
// two places: permissions may be strings, and the ids of attachments numbers.
type Description struct {
	paths    map[string]any
	schemas  map[string]any
	mu       sync.Mutex
	compiler *jsonschema.Compiler
	compiled map[string]*jsonschema.Schema
}

// ReadDescription reads the description from a file.
func ReadDescription(file string) (*Description, error) {
	f, err := os.Open(file)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	doc, err := jsonschema.UnmarshalJSON(f)
	if err != nil {
		return nil, err
	}
	root, _ := doc.(map[string]any)
	paths, _ := root["paths"].(map[string]any)
	components, _ := root["components"].(map[string]any)
	schemas, _ := components["schemas"].(map[string]any)
	if len(paths) == 0 || len(schemas) == 0 {
		return nil, fmt.Errorf("%s describes no paths", file)
	}
	d := &Description{paths: paths, schemas: schemas, compiler: jsonschema.NewCompiler(), compiled: map[string]*jsonschema.Schema{}}
	return d, d.compiler.AddResource("openapi.json", doc)
}

// follow is the template that a path follows, the one with the most literal
// parts, or empty.
func follow[V any](path string, templates map[string]V) string {
	parts := strings.Split(path, "/")
	best, most := "", -1
next:
	for template := range templates {
		want := strings.Split(template, "/")
		if len(want) != len(parts) {
			continue
		}
		literal := 0
		for i, w := range want {
			switch {
			case strings.HasPrefix(w, "{"):
				if parts[i] == "" {
					continue next
				}
			case w != parts[i]:
				continue next
			default:
				literal++
			}
		}
		if literal > most {
			best, most = template, literal
		}
	}
	return best
}

func (d *Description) operation(method, route string) map[string]any {
	item, _ := d.paths[route].(map[string]any)
	op, _ := item[strings.ToLower(method)].(map[string]any)
	return op
}

// Check says what is wrong with a request by the description, or nothing.
// The body is the JSON of it, multipart or not; nil when there was none.
func (d *Description) Check(method, path string, query map[string][]string, body []byte) error {
	route := follow(path, d.paths)
	if route == "" {
		return fmt.Errorf("no such path: %s", path)
	}
	op := d.operation(method, route)
	if op == nil {
		return fmt.Errorf("no %s on %s", method, route)
	}
	if err := d.checkParameters(route, path, op, query); err != nil {
		return err
	}
	content := dig(op, "requestBody", "content")
	if content == nil {
		if len(body) > 0 && strings.TrimSpace(string(body)) != "{}" && strings.TrimSpace(string(body)) != "null" {
			return fmt.Errorf("%s %s takes no body, got %.60s", method, route, body)
		}
		return nil
	}
	if len(body) == 0 {
		if required, _ := op["requestBody"].(map[string]any)["required"].(bool); required {
			return fmt.Errorf("%s %s wants a body", method, route)
		}
		return nil
	}
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(string(body)))
	if err != nil {
		return fmt.Errorf("%s %s: body is no JSON: %v", method, route, err)
	}
	if _, ok := content["application/json"]; !ok {
		return fmt.Errorf("%s %s takes no JSON", method, route)
	}
	schema, err := d.compile("#/paths/" + escape(route) + "/" + strings.ToLower(method) + "/requestBody/content/application~1json/schema")
	if err != nil {
		return err
	}
	if err := schema.Validate(asDescribed(v)); err != nil {
		return fmt.Errorf("%s %s: %v", method, route, err)
	}
	return nil
}

// checkParameters looks at ids in the path and names in the query.
func (d *Description) checkParameters(route, path string, op map[string]any, query map[string][]string) error {
	item, _ := d.paths[route].(map[string]any)
	var params []any
	for _, from := range []map[string]any{item, op} {
		l, _ := from["parameters"].([]any)
		params = append(params, l...)
	}
	known := map[string]bool{}
	values := map[string]string{}
	parts := strings.Split(path, "/")
	for i, w := range strings.Split(route, "/") {
		if strings.HasPrefix(w, "{") {
			values[strings.Trim(w, "{}")] = parts[i]
		}
	}
	for _, p := range params {
		m, _ := p.(map[string]any)
		name, _ := m["name"].(string)
		if m["in"] == "query" {
			known[name] = true
		}
		ref, _ := dig(m, "schema")["$ref"].(string)
		if v, ok := values[name]; ok && strings.HasSuffix(ref, "/SnowflakeType") {
			if _, err := strconv.ParseUint(v, 10, 64); err != nil {
				return fmt.Errorf("%s: %s is no id: %q", route, name, v)
			}
		}
	}
	for name := range query {
		if !known[name] {
			return fmt.Errorf("%s has no query parameter %q", route, name)
		}
	}
	return nil
}

// Describes says whether a value follows one of the description's schemas: the
// stand-in's own answers are held to it, too.
func (d *Description) Describes(schema string, value any) error {
	b, err := json.Marshal(value)
	if err != nil {
		return err
	}
	v, err := jsonschema.UnmarshalJSON(strings.NewReader(string(b)))
	if err != nil {
		return err
	}
	s, err := d.compile("#/components/schemas/" + schema)
	if err != nil {
		return err
	}
	return s.Validate(v)
}

func (d *Description) compile(at string) (*jsonschema.Schema, error) {
	d.mu.Lock()
	defer d.mu.Unlock()
	if s := d.compiled[at]; s != nil {
		return s, nil
	}
	s, err := d.compiler.Compile("openapi.json" + at)
	if err == nil {
		d.compiled[at] = s
	}
	return s, err
}

func escape(route string) string {
	return strings.NewReplacer("~", "~0", "/", "~1", "{", "%7B", "}", "%7D", "@", "%40").Replace(route)
}

func dig(m map[string]any, path ...string) map[string]any {
	for _, k := range path {
		m, _ = m[k].(map[string]any)
	}
	return m
}

// asDescribed turns what the prose allows into what the description allows.
func asDescribed(v any) any {
	switch v := v.(type) {
	case []any:
		for i := range v {
			v[i] = asDescribed(v[i])
		}
	case map[string]any:
		for k, x := range v {
			switch k {
			case "default_member_permissions":
				if s, ok := x.(string); ok {
					if _, err := strconv.ParseUint(s, 10, 64); err == nil {
						v[k] = json.Number(s)
					}
				}
			case "attachments":
				if l, ok := x.([]any); ok {
					for _, a := range l {
						if m, ok := a.(map[string]any); ok {
							if n, ok := m["id"].(json.Number); ok {
								m["id"] = n.String()
							}
						}
					}
				}
			default:
				v[k] = asDescribed(x)
			}
		}
	}
	return v
}
