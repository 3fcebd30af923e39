package bot

import "context"

// A Command is one thing a person can ask for. The list in commands.go is the
// only place commands are named: the platform's declarations, the help reply
// and the README's table are made from it.
type Command struct {
	Name    string // "post"; for a command used on a message, what its menu says ("Read this session")
	Summary string // one line, at most 100 characters
	OnFile  bool   // used on a message rather than typed
	Options []Option
	Subs    []Command // subcommands; a command with any has no Run of its own
	May     Permit    // who may use it; a command with subcommands has none of its own
	Seen    Seen
	Run     func(ctx context.Context, b *Bot, c Call) (Reply, error)

	// Form reports whether the reply is a form, which has to come at once, nil if
	// it never is.
	Form func(r Request) bool

	// Complete answers a completion of one of the options, nil if it has none.
	Complete func(ctx context.Context, b *Bot, c Call) ([]Choice, error)
}

// Who may use a command. It is checked again on every press, choice, form and
// completion, from that very event.
type Who uint8

// Who may ask, from least to most.
const (
	Anyone  Who = iota // acts on the asker's own data
	Coach              // holds the server's coach role; acts on students bound to them
	Host               // a coach or a manager: runs the club's challenges
	Manager            // may manage the server; sees no student's numbers
)

// Who may use the command: of one with subcommands, whoever may use the least
// of them.
func (c Command) Who() Who {
	if len(c.Subs) == 0 {
		return c.May.who
	}
	least := Manager
	for _, sub := range c.Subs {
		least = min(least, sub.May.who)
	}
	return least
}

// Seen is who sees the reply to a command when all goes well; errors are
// always the asker's alone.
type Seen uint8

// Who sees a reply.
const (
	SeenInThread Seen = iota // everybody in the student's own lesson thread; elsewhere the asker alone
	SeenByAsker              // the asker alone, wherever it was asked
	SeenByAll                // everybody in the channel
)

// An Option of a command.
type Option struct {
	Name     string
	Summary  string
	Type     OptionType
	Required bool
	Choices  []Choice // fixed choices, at most 25
	Complete bool     // answered while typing by the command's Complete
	Min, Max *float64 // for WholeNumber and DecimalNumber
}

// OptionType is what an option takes.
type OptionType uint8

// The option types.
const (
	TextOption OptionType = iota
	WholeNumber
	DecimalNumber
	YesNo
	PersonOption
	FileOption
	RoleOption
)
