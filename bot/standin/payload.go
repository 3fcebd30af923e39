package standin

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"mime"
	"mime/multipart"
	"net/http"
	"strconv"
	"strings"
)

// messageBody is what the bot may say about a message it sends or edits.
type messageBody struct {
	Content    *string          `json:"content"`
	Embeds     *json.RawMessage `json:"embeds"`
	Components *json.RawMessage `json:"components"`
	Flags      *int             `json:"flags"`
	Allowed    *allowedMentions `json:"allowed_mentions"`

	Attachments *[]attachmentBody `json:"attachments"`

	TTS       bool           `json:"tts"`
	Nonce     any            `json:"nonce"`
	Enforce   bool           `json:"enforce_nonce"`
	Reference *referenceBody `json:"message_reference"`

	parts map[int]part
}

type attachmentBody struct {
	ID          json.RawMessage `json:"id"` // a number for a new file, a string for one that stays
	Filename    string          `json:"filename"`
	Description string          `json:"description"`
}

type allowedMentions struct {
	Parse       []string `json:"parse"`
	Users       []string `json:"users"`
	Roles       []string `json:"roles"`
	RepliedUser bool     `json:"replied_user"`
}

type referenceBody struct {
	Type            int    `json:"type"`
	MessageID       string `json:"message_id"`
	ChannelID       string `json:"channel_id"`
	GuildID         string `json:"guild_id"`
	FailIfNotExists *bool  `json:"fail_if_not_exists"`
}

type part struct {
	name, contentType string
	bytes             []byte
}

// refusal is an answer the platform gives instead of doing what was asked.
type refusal struct {
	status, code int
	message      string
	field        string // for code 50035, what was wrong where
}

func (r *refusal) Error() string {
	return fmt.Sprintf("%d (%d) %s %s", r.status, r.code, r.message, r.field)
}

func invalid(format string, args ...any) *refusal {
	return &refusal{http.StatusBadRequest, 50035, "Invalid Form Body", fmt.Sprintf(format, args...)}
}

// The refusals the bot can meet.
var (
	errUnauthorized       = &refusal{401, 0, "401: Unauthorized", ""}
	errUnknownInteraction = &refusal{404, 10062, "Unknown interaction", ""}
	errUnknownWebhook     = &refusal{404, 10015, "Unknown Webhook", ""}
	errUnknownMessage     = &refusal{404, 10008, "Unknown Message", ""}
	errUnknownChannel     = &refusal{404, 10003, "Unknown Channel", ""}
	errAcknowledged       = &refusal{400, 40060, "Interaction has already been acknowledged.", ""}
	errDeadToken          = &refusal{401, 50027, "Invalid Webhook Token", ""}
	errMissingAccess      = &refusal{403, 50001, "Missing Access", ""}
	errMissingPermissions = &refusal{403, 50013, "Missing Permissions", ""}
	errRefusesDirect      = &refusal{403, 50007, "Cannot send messages to this user", ""}
	errEmpty              = &refusal{400, 50006, "Cannot send an empty message", ""}
	errTooLarge           = &refusal{413, 40005, "Request entity too large", ""}
	errArchived           = &refusal{400, 50083, "Thread is archived", ""}
)

const (
	maxFile    = 10 << 20 // bytes, each
	maxRequest = 25 << 20 // bytes, all files of a request
)

// readBody reads a JSON or multipart request into into, which must be a
// pointer, and the files of a multipart one by number.
func readBody(r *http.Request, body []byte, into any) (map[int]part, error) {
	kind, params, err := mime.ParseMediaType(r.Header.Get("Content-Type"))
	if err != nil {
		return nil, invalid("Content-Type: %v", err)
	}
	switch kind {
	case "application/json":
		return nil, strict(body, into)
	case "multipart/form-data":
	default:
		return nil, invalid("Content-Type %q is neither application/json nor multipart/form-data", kind)
	}
	if len(body) > maxRequest {
		return nil, errTooLarge
	}
	parts := map[int]part{}
	payload := false
	mr := multipart.NewReader(bytes.NewReader(body), params["boundary"])
	for {
		p, err := mr.NextPart()
		if errors.Is(err, io.EOF) {
			break
		}
		if err != nil {
			return nil, invalid("multipart: %v", err)
		}
		b, err := io.ReadAll(p)
		if err != nil {
			return nil, invalid("multipart: %v", err)
		}
		name := p.FormName()
		if name == "payload_json" {
			payload = true
			if err := strict(b, into); err != nil {
				return nil, err
			}
			continue
		}
		n, err := strconv.Atoi(strings.TrimSuffix(strings.TrimPrefix(name, "files["), "]"))
		if err != nil || name != fmt.Sprintf("files[%d]", n) {
			return nil, invalid("multipart: part %q is neither payload_json nor files[n]", name)
		}
		if len(b) > maxFile {
			return nil, errTooLarge
		}
		parts[n] = part{p.FileName(), p.Header.Get("Content-Type"), b}
	}
	if !payload {
		return nil, invalid("multipart: no payload_json")
	}
	if len(parts) > 10 {
		return nil, invalid("files: more than 10")
	}
	return parts, nil
}

func strict(body []byte, into any) error {
	d := json.NewDecoder(bytes.NewReader(body))
	d.DisallowUnknownFields()
	if err := d.Decode(into); err != nil {
		return invalid("%v", err)
	}
	return nil
}
