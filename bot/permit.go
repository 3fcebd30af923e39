package bot

import (
	"context"
	"slices"

	"rangepost/analysis"
	"rangepost/store"
)

// This file is the one place that says who may do and see what. Nothing here
// trusts an id in a button or an option: every question is asked anew of the
// event at hand and of the consents that stand at that moment.

// allowed reports, as an error for the asker, whether they may use a command
// meant for who.
func (b *Bot) allowed(r Request, who Who) error {
	switch who {
	case Coach:
		if b.isCoach(r) {
			return nil
		}
		if b.known.coachRole(r.Server) == "" {
			return analysis.Refuse("A server manager names it with `/clubhouse coach`.", "No role is the coaches' here yet.")
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
		sees, err := b.db.MaySee(ctx, r.Server, r.Asker.ID, student)
		if err != nil || sees {
			return err
		}
	}
	return errNotYours
}

var errNotYours = analysis.Refuse("A coach sees a student's once the student agrees to `/bind`.", "Those numbers are not yours to see.")

// subject is the student a command is about: the one it names, the student of
// the lesson thread if their coach asks there, else the asker.
func (b *Bot) subject(ctx context.Context, r Request) (string, error) {
	student := r.Options["student"]
	if student == "" {
		student = r.Asker.ID
		if binding, ok := b.known.thread(r.Channel); ok && binding.Coach == r.Asker.ID {
			student = binding.Student
		}
	}
	return student, b.mayRead(ctx, r, student)
}

// coaches is nil if the asker may do to a student what only their coach does.
func (b *Bot) coaches(ctx context.Context, r Request, student string) error {
	if err := b.allowed(r, Coach); err != nil {
		return err
	}
	sees, err := b.db.MaySee(ctx, r.Server, r.Asker.ID, student)
	if err == nil && !sees {
		return errNotYours
	}
	return err
}

// pupil is the student a coach's command is about: the one it names, or that of
// the lesson thread.
func (b *Bot) pupil(ctx context.Context, r Request) (string, error) {
	student := r.Options["student"]
	if student == "" {
		binding, ok := b.known.thread(r.Channel)
		if !ok || binding.Server != r.Server {
			return "", analysis.Refuse("Name the student, or use it in their lesson thread.", "Which student?")
		}
		student = binding.Student
	}
	return student, b.coaches(ctx, r, student)
}

// coachable is a session of a student the asker coaches.
func (b *Bot) coachable(ctx context.Context, r Request, id string) (store.Session, error) {
	if err := b.allowed(r, Coach); err != nil {
		return store.Session{}, err
	}
	s, err := b.db.Session(ctx, r.Server, id)
	if err != nil {
		return s, err
	}
	return s, b.coaches(ctx, r, s.Student)
}

// readable is a session the asker may see.
func (b *Bot) readable(ctx context.Context, r Request, id string) (store.Session, error) {
	s, err := b.db.Session(ctx, r.Server, id)
	if err != nil {
		return s, err
	}
	return s, b.mayRead(ctx, r, s.Student)
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
	return named == "" || named == binding.Student
}

// threadStudent is the student of a lesson thread, "" for any other channel.
func (b *Bot) threadStudent(channel string) string {
	binding, _ := b.known.thread(channel)
	return binding.Student
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
