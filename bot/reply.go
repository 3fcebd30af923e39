package bot

import (
	"context"

	"rangepost/analysis"
)

// Ack is how a request must be acknowledged, decided at once and from memory
// alone, because the platform waits three seconds and visibility cannot change
// afterwards.
type Ack string

// The acknowledgements.
const (
	AckPublic    Ack = "public"    // a reply everyone in the channel will see is coming
	AckPrivate   Ack = "private"   // a reply only the asker will see is coming
	AckUpdate    Ack = "update"    // the message the button stands on will change
	AckImmediate Ack = "immediate" // no acknowledgement: the reply itself comes at once (modals, completions)
)

// A Reply is what the bot answers, free of any chat platform: text first, then
// one picture, then buttons.
type Reply struct {
	Text    string // at most MaxText characters; markdown in untrusted parts already escaped
	Picture *Picture
	Files   []File
	Rows    []Row // at most 5

	// Private hides the reply from everybody but the asker even if the
	// acknowledgement was public: errors always are.
	Private bool

	// Notify names the people (ids) this reply may mention; everybody else
	// named in it is not notified.
	Notify []string

	Modal   *Modal   // instead of all the above; only for AckImmediate
	Choices []Choice // instead of all the above; answers a completion

	// Also are messages to other channels that go with this reply.
	Also []Notice

	// Still reports whether the reply may yet be shown as it is; nil when nothing
	// can change that. A delivery may be owed for hours: consent may end in them.
	Still func(context.Context) bool

	// Away says that the database could not be reached, so that nothing came of the
	// request. Where several processes serve it is worked on again, by this one or
	// by another, and nothing is said.
	Away bool

	about  string   // the student whose numbers it shows, "" if nobody's
	among  []string // students whose numbers it shows together, to their coach alone
	shared bool     // that student asked for everybody to see it
}

// MaxText is the most characters a reply's text has: the right length for a
// phone, and well inside the platform's own 2,000.
const MaxText = 1200

// A Notice is a message of the bot's own accord in a channel or thread.
type Notice struct {
	Channel string
	Reply   Reply
}

// A Picture is a PNG with the text that says what it shows.
type Picture struct {
	Name string // "post.png"
	PNG  []byte
	Alt  string // at most 1,024 characters
}

// A File is something to take away.
type File struct {
	Name  string
	Bytes []byte
}

// A Row is up to five buttons, or one menu.
type Row struct {
	Buttons []Button
	Menu    *Menu
}

// A Button is pressed; Path comes back in a PressRequest.
type Button struct {
	Path  string // at most 100 characters
	Label string // at most 80
	Style ButtonStyle
}

// ButtonStyle is how much a button stands out. Its label says what it does
// without the colour.
type ButtonStyle uint8

// The styles.
const (
	Plain ButtonStyle = iota
	Main
	Danger
)

// A Menu offers up to 25 choices, or what the platform lists by itself; Path and
// the chosen values come back in a ChooseRequest.
type Menu struct {
	Kind              MenuKind
	Path, Placeholder string
	Choices           []Choice // of a ChoiceMenu
	Most              int      // how many may be chosen at once, 0 for one
}

// MenuKind is what a menu offers, and what its values are.
type MenuKind uint8

// The kinds of menu. The values of the last three are ids of the server's own,
// and the people of a PersonMenu are in People.
const (
	ChoiceMenu  MenuKind = iota // its Choices
	RoleMenu                    // the server's roles
	PersonMenu                  // its members
	ChannelMenu                 // its text channels
)

// A Choice is one line of a menu or of a completion.
type Choice = analysis.Choice

// A Modal is a small form; Path and the fields come back in a SubmitRequest.
type Modal struct {
	Path, Title string // title at most 45 characters
	Fields      []Field
}

// A Field is one part of a modal: a text box, a place for one file, or one
// choice of some.
type Field struct {
	Kind           FieldKind
	ID, Label      string // of at most 100 and 45 characters
	Hint           string // a line under the label, at most 100
	Value          string // what stands in it when it opens: a text, or the Value of one of its Choices
	Placeholder    string
	Long, Required bool
	Max            int      // characters of a text
	Choices        []Choice // at most 25, each Value once
}

// FieldKind is what a field takes, and what stands under its ID in the Fields
// of the SubmitRequest.
type FieldKind uint8

// The kinds of field.
const (
	TextField   FieldKind = iota // the text
	FileField                    // the id of the file, which is in Files; "" for none
	ChoiceField                  // the Value of the choice, as a client sent it; "" for none
)
