package bot

import (
	"context"
	"errors"
	"slices"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// This file is the one place that says who may do and see what. Every command,
// message command, button, menu and form has a Permit, and admit asks it before
// anything else is done. Nothing here trusts an id in a button or an option:
// every question is asked anew of the event at hand and of the consents that
// stand at that moment.

// A Permit says who may do a thing, and whose numbers it is about.
type Permit struct {
	who Who
	// about is nil if the asker may, and fills in the Call. It is nil in the zero
	// Permit alone, which admits nobody.
	about func(ctx context.Context, b *Bot, c *Call) error
}

// A Call is a request that was admitted, with what that settled.
type Call struct {
	Request
	Args    []string       // of a button's, menu's or form's path
	Zone    *time.Location // what the asker's clock shows: days are read and said by it
	Student string         // whose numbers it is about; the asker unless another was permitted
	Session store.Session  // of permits about a session
	View    store.View     // of ownView
	Tally   store.Tally    // of ownTally
}

// The permits of what acts on whoever asks, and of what is for some alone.
var (
	anybody  = For(Anyone)
	coaches  = For(Coach)
	hosts    = For(Host)
	managers = For(Manager)
)

// For is the permit of what anybody may do who is who, and that is about
// themselves or about nobody.
func For(who Who) Permit { return Permit{who, nothing} }

func nothing(context.Context, *Bot, *Call) error { return nil }

// The permits of commands about a student's numbers.
var (
	// numbers are those of the student a command names, of the lesson thread's
	// if their coach asks there, else the asker's own.
	numbers = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		if named := c.Options["student"]; named != "" {
			c.Student = named
		} else if binding, ok := b.known.thread(c.Channel); ok && binding.Coach == c.Asker.ID {
			c.Student = binding.Student
		}
		return b.mayRead(ctx, c.Request, c.Student)
	}}

	// jointly are those numbers, or what a coach's students have in common: of
	// none of them alone.
	jointly = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		switch {
		case c.Options["students"] == "":
			return numbers.about(ctx, b, c)
		case c.Options["student"] != "":
			return analysis.Refuse("Leave one of the two out.", "One student or all of them?")
		}
		return b.allowed(c.Request, Coach)
	}}

	// session is the one a command names, else the latest of those numbers.
	session = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) (err error) {
		id := c.Options["session"]
		if id != "" && c.Kind != CompletionAsk { // while it is typed it is no id yet
			return b.readable(ctx, c, id)
		}
		if err := numbers.about(ctx, b, c); err != nil || c.Kind == CompletionAsk {
			return err
		}
		c.Session, err = b.db.LatestSession(ctx, c.Server, c.Student)
		if errors.Is(err, store.ErrNotFound) {
			return analysis.Refuse("Post a file with `/post` first.", "There is no session yet.")
		}
		return err
	}}

	// message is the file of a message: its author's, or in a lesson thread the
	// student's if their coach hands it over.
	message = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		if c.Message == nil || c.Message.Author.ID == c.Asker.ID {
			return numbers.about(ctx, b, c)
		}
		c.Student = c.Message.Author.ID
		err := b.mayRead(ctx, c.Request, c.Student)
		if errors.Is(err, errNotYours) {
			return analysis.Refuse("Only they, and the coach they agreed to, can have it read.", "That file is somebody else's.")
		}
		return err
	}}

	// pupil is the student a coach's command names, or that of the lesson
	// thread.
	pupil = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) error {
		c.Student = c.Options["student"]
		if c.Student == "" {
			binding, ok := b.known.thread(c.Channel)
			if !ok || binding.Server != c.Server {
				return analysis.Refuse("Name the student, or use it in their lesson thread.", "Which student?")
			}
			c.Student = binding.Student
		}
		return b.coaches(ctx, c.Request, c.Student)
	}}

	// pupils are the one a coach's command names, or all of them.
	pupils = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) error {
		if c.Options["student"] == "" {
			return nil
		}
		return pupil.about(ctx, b, c)
	}}

	// own is the asker's own session, if a command names one.
	own = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		if id := c.Options["session"]; id != "" && c.Kind != CompletionAsk {
			return b.owned(ctx, c, id)
		}
		return nil
	}}
)

// The permits of buttons, menus and forms, whose path says what they are about.
var (
	// theSession is the path's session, for whoever may see it; ownSession for
	// the one alone who hit its balls.
	theSession = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error { return b.readable(ctx, c, c.Args[0]) }}
	ownSession = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		err := b.owned(ctx, c, c.Args[1])
		switch {
		case errors.Is(err, errNotYours):
			return analysis.Refuse("They can share it themselves.", "Only the one who hit these balls can share them.")
		case err == nil && b.known.junior(c.Server, c.Student):
			return errJuniors
		}
		return err
	}}

	mySession = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error { return b.owned(ctx, c, c.Args[0]) }}

	// scope is everybody, or the one student whose posts are reviewed.
	scope = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) error {
		if c.Args[0] == everybody {
			return nil
		}
		return thePupil.about(ctx, b, c)
	}}

	// reviewed is a post of a student the asker coaches, in a scope.
	reviewed = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) (err error) {
		if err := scope.about(ctx, b, c); err != nil {
			return err
		}
		if c.Session, err = b.db.Session(ctx, c.Server, c.Args[1]); err != nil {
			return err
		}
		c.Student = c.Session.Student
		return b.coaches(ctx, c.Request, c.Student)
	}}

	thePupil = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) error {
		c.Student = c.Args[0]
		return b.coaches(ctx, c.Request, c.Student)
	}}

	ownView = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) (err error) {
		if c.View, err = b.db.View(ctx, c.Server, c.Args[0]); err != nil {
			return err
		}
		if c.View.Owner != c.Asker.ID {
			return errNotYours
		}
		return nil
	}}

	// ownReview is a review the asker opened. Whose posts in it they may still see
	// is asked of each of them.
	ownReview = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) error {
		if err := ownView.about(ctx, b, c); err != nil {
			return err
		}
		if c.View.Kind != reviewKind {
			return errNotYours
		}
		return nil
	}}

	ownTally = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) (err error) {
		if c.Tally, err = b.db.Tally(ctx, c.Server, c.Args[0]); err != nil {
			return err
		}
		if c.Tally.Student != c.Asker.ID {
			return analysis.Refuse("Use `/tally` for your own.", "Only the one who counts can press that.")
		}
		return nil
	}}

	// ownPost is what the path's student hands over, and nobody else.
	ownPost = Permit{Anyone, func(_ context.Context, _ *Bot, c *Call) error {
		if c.Student = c.Args[0]; c.Student != c.Asker.ID {
			return analysis.Refuse("Use `/post` for your own, or in a student's lesson thread for theirs.", "Only the one who hit the balls can post with that button.")
		}
		return nil
	}}

	// thePlan is a plan of a student's, to them and to the coach they agreed to.
	thePlan = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		p, err := b.db.Plan(ctx, c.Server, c.Args[0])
		if err != nil {
			return err
		}
		c.Student = p.Student
		return b.mayRead(ctx, c.Request, c.Student)
	}}

	// pupilsPlan is one of a student's the asker coaches.
	pupilsPlan = Permit{Coach, func(ctx context.Context, b *Bot, c *Call) error {
		if err := thePlan.about(ctx, b, c); err != nil {
			return err
		}
		return b.coaches(ctx, c.Request, c.Student)
	}}

	// theirs is what a thread's pinned message tells of its student: to them, and
	// to the coach they agreed to.
	theirs = Permit{Anyone, func(ctx context.Context, b *Bot, c *Call) error {
		c.Student = c.Args[0]
		return b.mayRead(ctx, c.Request, c.Student)
	}}

	// asked is whoever a binding is between: the store tells, in one
	// transaction with what is answered.
	asked = For(Anyone)
)

var errNotYours error = analysis.Refuse("A coach sees a student's once the student agrees to `/bind`.", "Those numbers are not yours to see.")

var errJuniors error = analysis.Refuse("They stay yours, your coach's and your guardian's.", "A junior's numbers cannot be shared here.")

// admit is the request as a Call, if the asker may do what it asks.
func (b *Bot) admit(ctx context.Context, r Request, p Permit, args []string) (Call, error) {
	c := Call{Request: r, Args: args, Student: r.Asker.ID}
	if p.about == nil {
		return c, errors.New("bot: nobody said who may do " + r.what())
	}
	if err := b.allowed(r, p.who); err != nil {
		return c, err
	}
	var err error
	if c.Zone, err = b.records.Zone(ctx, r.Server, r.Asker.ID); err != nil {
		return c, err
	}
	return c, p.about(ctx, b, &c)
}

// allowed reports, as an error for the asker, whether they are who.
func (b *Bot) allowed(r Request, who Who) error {
	switch who {
	case Coach:
		if b.isCoach(r) {
			return nil
		}
		if b.known.coachRole(r.Server) == "" {
			return analysis.Refuse("A server manager names it with `/clubhouse setup`.", "No role is the coaches' here yet.")
		}
		return analysis.Refuse("Ask a server manager for the coach role if you coach here.", "Only coaches can use that.")
	case Manager:
		if r.Manager && r.Server != "" {
			return nil
		}
		return analysis.Refuse("Ask somebody who manages this server.", "Only server managers can use that.")
	case Host:
		if b.allowed(r, Manager) == nil || b.isCoach(r) {
			return nil
		}
		return analysis.Refuse("Ask one of them.", "Only coaches and server managers can use that.")
	}
	return nil
}

// isCoach reports whether the asker holds the coach role in this very event.
func (b *Bot) isCoach(r Request) bool {
	role := b.known.coachRole(r.Server)
	return role != "" && slices.Contains(r.Roles, role)
}

// mayRead is nil if the asker may see a student's numbers: their own, or as
// the coach that student agreed to. To everybody else the student does not
// exist.
func (b *Bot) mayRead(ctx context.Context, r Request, student string) error {
	if r.Asker.ID == student {
		return nil
	}
	if b.isCoach(r) {
		return b.coaches(ctx, r, student)
	}
	return errNotYours
}

// coaches is nil if the asker is the coach a student agreed to.
func (b *Bot) coaches(ctx context.Context, r Request, student string) error {
	sees, err := b.db.MaySee(ctx, r.Server, r.Asker.ID, student)
	if err == nil && !sees {
		return errNotYours
	}
	return err
}

// readable settles that a call is about a session the asker may see.
func (b *Bot) readable(ctx context.Context, c *Call, id string) (err error) {
	if c.Session, err = b.db.Session(ctx, c.Server, id); err != nil {
		return err
	}
	c.Student = c.Session.Student
	return b.mayRead(ctx, c.Request, c.Student)
}

// owned settles that a call is about a session of the asker's own.
func (b *Bot) owned(ctx context.Context, c *Call, id string) (err error) {
	if c.Session, err = b.db.Session(ctx, c.Server, id); err != nil {
		return err
	}
	if c.Session.Student != c.Asker.ID {
		return errNotYours
	}
	return nil
}

// inOwnThread reports, from memory, whether r happened in a lesson thread and
// was asked by its student or coach.
func (b *Bot) inOwnThread(r Request) bool {
	binding, ok := b.known.thread(r.Channel)
	if !ok || binding.Server != r.Server || r.Asker.ID != binding.Student && r.Asker.ID != binding.Coach {
		return false
	}
	if b.known.junior(binding.Server, binding.Student) {
		return false
	}
	named := r.Options["student"]
	return (named == "" || named == binding.Student) && r.Options["students"] == ""
}

// settle gives a direct message its server: people are students of servers,
// and a message outside of one belongs to the only server that knows them.
func (b *Bot) settle(ctx context.Context, r Request) (Request, error) {
	if r.Server != "" {
		return r, nil
	}
	servers, err := b.db.ServersOf(ctx, r.Asker.ID)
	if err != nil {
		return r, err
	}
	switch len(servers) {
	case 1:
		r.Server = servers[0]
	case 0:
	default:
		return r, analysis.Refuse("Ask me in the server you mean.", "You are a student in more than one server, and here I cannot tell which you mean.")
	}
	return r, nil
}
