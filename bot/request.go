package bot

import (
	"fmt"
	"time"

	"rangepost/bot/words"
)

// A Request is one thing somebody asked of the bot, free of any chat platform.
// It is plain data: the intake keeps it as JSON so that a restart can take it
// up again.
type Request struct {
	// ID is the platform's own id of the event. The same event delivered twice
	// has the same ID, and is answered once.
	ID   string
	Kind RequestKind
	At   time.Time

	// Incident names the request in the log and, should something go wrong, to
	// its asker: a short number a person can read out. NewIncident makes one.
	Incident string

	Server  string // "" in a direct message
	Channel string // the channel or thread it happened in
	Thread  bool   // whether that is a thread
	Asker   Person
	Lacks   []string // permissions the bot needs and does not have there, in the platform's words
	Manager bool     // the asker may manage the server, by that very event's permissions
	Roles   []string // role ids of the asker, in that very event

	// Command, MessageCommand, Complete: the command's full name, "mine export"
	// for a subcommand, and its options as text (numbers in their usual form,
	// people and files by id).
	Command string
	Options map[string]string
	Focused string // Complete: the option being typed

	People map[string]Person     // by id, for options that name people
	Files  map[string]Attachment // by id, for options that hand over a file

	Message *Message // MessageCommand: the message it was used on; Mention: the message itself

	// Press, Choose, Submit: the versioned path of the button, menu or modal
	// ("v1/post/8f3k/cause"), what was chosen, and what was filled in.
	Path   string
	Values []string
	Fields map[string]string
	Hidden bool // the message they stand on is the asker's alone

	// ReplyTo is the platform adapter's own note of how to reach the asker. The
	// bot keeps it with the intake and never reads it.
	ReplyTo string

	begun int // how often work on it had begun when it was taken up again
}

// RequestKind is how the asker asked.
type RequestKind string

// The kinds of request.
const (
	CommandRequest RequestKind = "command"         // a slash command
	MessageRequest RequestKind = "message command" // a command used on a message
	MentionRequest RequestKind = "mention"         // a message that mentions the bot, or a direct one, with a file or rows
	PressRequest   RequestKind = "press"           // a button
	ChooseRequest  RequestKind = "choose"          // a menu
	SubmitRequest  RequestKind = "submit"          // a modal
	CompletionAsk  RequestKind = "complete"        // autocomplete, while typing
)

// A Person is somebody on the platform.
type Person struct {
	ID   string
	Name string // as shown in the server; untrusted text
}

// An Attachment is a file handed over on the platform, not yet fetched. All of
// it is untrusted.
type Attachment struct {
	ID, Name, URL string
	Size          int64 // as declared; never believed
}

// A Message is a message on the platform.
type Message struct {
	ID     string
	Author Person
	Text   string
	Files  []Attachment
}

// Recalls says to its asker which of their requests an answer belongs to that
// comes elsewhere than where it was asked: "Your `/post` with range.csv, asked
// 14:02:07". The time is shown in the reader's own zone.
func (r Request) Recalls() string {
	b := "Your message"
	switch r.Kind {
	case CommandRequest:
		b = "Your `/" + r.Command + "`"
	case MessageRequest:
		b = "Your `" + r.Command + "`"
	case PressRequest:
		b = "The button you pressed"
	case ChooseRequest:
		b = "What you chose"
	case SubmitRequest:
		b = "The form you sent"
	}
	var names []string
	for _, f := range r.Files {
		names = append(names, f.Name)
	}
	if r.Kind == MentionRequest && r.Message != nil {
		for _, f := range r.Message.Files {
			names = append(names, f.Name)
		}
	}
	switch len(names) {
	case 0:
	case 1:
		b += " with " + words.Escape(words.Cut(names[0], 60))
	default:
		b += fmt.Sprintf(" with %d files", len(names))
	}
	return b + fmt.Sprintf(", asked <t:%d:T>", r.At.Unix())
}
