package main

import (
	"archive/zip"
	"bytes"
	"errors"
	"fmt"
	"io"
	"maps"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/bot/standin"
	"rangepost/store"
)

// A subject is a student whose numbers others try to see.
type subject struct {
	*standin.User
	thread  *standin.Channel
	file    *standin.Message // their own message with a session file
	posted  *standin.Outcome // the bot's answer to a session, in the thread
	form    *standin.Modal   // for naming its sets
	session string
}

// An asker is somebody who tries, with a doctored client: what the platform
// itself would hold back reaches the bot.
type asker struct {
	*standin.User
	of    *subject
	place *standin.Channel // where they ask
	on    *standin.Message // where they press
}

// mark stands in the names of the subjects' files and sets, and nowhere else.
const mark = "saltmarshmark"

const sets = "1-10 " + mark + ", 11-20 other " + mark

// What the bot says to whoever may not.
var refusals = []string{
	"not yours to see", "Only coaches", "Only server managers", "That file is somebody else's", "the student's to answer",
	"Only the one who hit",
}

// A matrix is the people of the permission test.
type matrix struct {
	*play
	t      *testing.T
	askers []asker
	seen   int // people who have come for one cell
}

// newMatrix plays what has to have happened before anybody tries anything. The
// columns of the table are its askers: the student, another student, their
// coach, another coach, a manager of the server, their former coach, and a coach
// who has left the server with the consent still standing.
func newMatrix(t *testing.T) *matrix {
	p := rehearse(t)
	p.at(15, 9, 0) // after the demo's files
	m := &matrix{play: p, t: t}
	p.slash(p.steward, p.practice, "clubhouse coach", standin.Options{"role": p.coachRole})
	other := p.server.Join(p.st.User("Other coach"), p.coachRole)
	former := p.server.Join(p.st.User("Former coach"), p.coachRole)
	gone := p.server.Join(p.st.User("Coach who left"), p.coachRole)
	m.bind(former, p.practice.Thread("wren-before"), p.wren)
	m.bind(p.coach, p.wrens, p.wren)
	m.bind(other, p.odells, p.odell)
	m.bind(gone, p.tamsins, p.tamsin)
	wren, tamsin := m.subject(p.wren, p.wrens), m.subject(p.tamsin, p.tamsins)
	// Somebody the bot knows on one server asks for that server in a direct
	// message.
	p.post(gone, p.practice, "odell-1-wedge.csv", nil)
	p.server.Leave(gone)
	help := p.slash(gone, gone.Direct(), "help", nil)
	p.must(t)
	for _, u := range []*standin.User{p.wren, p.odell, p.coach, other, p.steward, former} {
		m.askers = append(m.askers, asker{u.Forger(), wren, p.practice, &wren.posted.Message})
	}
	m.askers = append(m.askers, asker{gone.Forger(), tamsin, gone.Direct(), &help.Message})
	return m
}

func (m *matrix) bind(coach *standin.User, thread *standin.Channel, student *standin.User) {
	asked := m.slash(coach, thread, "bind", standin.Options{"student": student})
	m.press(student, asked, "I agree")
	m.must(m.t)
}

func (m *matrix) subject(who *standin.User, thread *standin.Channel) *subject {
	s := &subject{User: who, thread: thread}
	file := m.play.file("sessions/wren-1-first.csv")
	file.Name = mark + ".csv"
	s.posted = m.slash(who, thread, "post", standin.Options{"file": file, "sets": sets})
	s.form = m.press(who, s.posted, "Name the sets").Modal
	s.session = m.complete(who, m.practice, "sets", "session")[0].Value
	s.file = who.Say(thread, "here", file)
	m.must(m.t)
	return s
}

// newcomer is a member nobody knows yet, asked by a coach to agree.
func (m *matrix) newcomer() (*standin.User, *standin.Outcome) {
	m.seen++
	who := m.server.Join(m.st.User(fmt.Sprint("Newcomer ", m.seen)))
	asked := m.slash(m.coach, m.practice.Thread(who.Name), "bind", standin.Options{"student": who})
	m.must(m.t)
	return who, asked
}

// asNewcomer is a as they stand to a newcomer: in the student's column that is
// the newcomer.
func (m *matrix) asNewcomer(a asker, newcomer *standin.User, on *standin.Outcome) (*standin.User, *standin.Message) {
	switch {
	case a.ID == m.wren.ID:
		return newcomer.Forger(), &on.Message
	case a.place == m.practice:
		return a.User, &on.Message
	}
	return a.User, a.on
}

// unclear is a file of the subject's with questions open, unlike any before.
func (m *matrix) unclear(s *subject) *standin.Outcome {
	m.seen++
	file := m.play.file("sessions/priya-1-five.csv")
	lines := strings.Split(strings.TrimRight(string(file.Bytes), "\n"), "\n")
	for i := range lines {
		lines[i] = fmt.Sprintf("%s,memo%d", strings.TrimRight(lines[i], "\r"), m.seen)
	}
	file.Name, file.Bytes = mark+".csv", []byte(strings.Join(lines, "\n"))
	asked := m.slash(s.User, s.thread, "post", standin.Options{"file": file})
	m.must(m.t)
	if len(asked.Menus) == 0 {
		m.t.Fatalf("nothing is asked about an unclear file: %q", asked.Text)
	}
	return asked
}

// buttonPath is where a button of the subject's answer leads.
func (s *subject) buttonPath(label string) string {
	for _, b := range s.posted.Buttons {
		if b.Label == label {
			return b.Path
		}
	}
	return ""
}

// A right is one row of the matrix: what is tried, and by column whether it
// shows or changes what is the student's (s), does no more than everybody may
// do with their own (o), is refused in words (x), or cannot reach the bot (-).
type right struct {
	what string
	want string
	try  func(m *matrix, a asker) (*standin.Outcome, error)
	done string // what a reply says that did it, where it shows no numbers
}

func command(name string, options func(a asker) standin.Options) func(*matrix, asker) (*standin.Outcome, error) {
	return func(m *matrix, a asker) (*standin.Outcome, error) {
		var o standin.Options
		if options != nil {
			o = options(a)
		}
		return a.Slash(m.ctx, a.place, name, o)
	}
}

// about is command with the subject named, and more options.
func about(name string, more standin.Options) func(*matrix, asker) (*standin.Outcome, error) {
	return command(name, func(a asker) standin.Options {
		o := standin.Options{"student": a.of.User}
		maps.Copy(o, more)
		return o
	})
}

func button(label string) func(*matrix, asker) (*standin.Outcome, error) {
	return func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Press(m.ctx, a.on, a.of.buttonPath(label))
	}
}

func completion(name string, place func(a asker) *standin.Channel, o func(a asker) standin.Options) func(*matrix, asker) (*standin.Outcome, error) {
	return func(m *matrix, a asker) (*standin.Outcome, error) {
		choices, err := a.Complete(m.ctx, place(a), name, o(a), "session", "")
		out := &standin.Outcome{Ephemeral: true}
		out.Menus = []standin.Menu{{Choices: choices}}
		return out, err
	}
}

func anywhere(a asker) *standin.Channel { return a.place }

// rights is the matrix. The columns are the student, another student, their
// coach, another coach, a manager, the former coach, the coach who left.
var rights = []right{
	//                     S O C K M F L
	{"/cause student", "s x s x x x x", about("cause", nil), ""},
	{"/cause session", "s x s x x x x", command("cause", func(a asker) standin.Options { return standin.Options{"session": a.of.session} }), ""},
	{"/trial student", "s x s x x x x", about("trial", nil), ""},
	{"/trial session", "s x s x x x x", command("trial", func(a asker) standin.Options { return standin.Options{"session": a.of.session} }), ""},
	{"/timeline student", "s x s x x x x", about("timeline", nil), ""},
	{"/task student", "s x s x x x x", about("task", nil), "No task is set"},
	{"/plan student", "s x s x x x x", about("plan", nil), "No plan is under way"},
	{"/response student", "s x s x x x x", about("response", nil), "No club yet"},
	{"/response students:all", "x x o o x o x", command("response", func(asker) standin.Options { return standin.Options{"students": "all"} }), ""},
	{"/sets session", "s x s x x x x", command("sets", func(a asker) standin.Options {
		return standin.Options{"session": a.of.session, "text": sets}
	}), ""},
	{"/lesson student", "x x s x x x x", about("lesson", standin.Options{"note": "grip"}), "Lesson marked"},
	{"Take a lesson back", "x x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		lesson, err := m.st.db.AddLesson(m.ctx, store.Lesson{Server: m.server.ID, Student: a.of.ID, Lesson: analysis.Lesson{Note: "grip"}})
		if err != nil {
			m.t.Fatal(err)
		}
		return a.Press(m.ctx, a.on, "v1/unmark/"+a.of.ID+"/"+lesson.ID)
	}, "off the timeline"},

	{"/cause", "s o o o o o o", command("cause", nil), ""},
	{"/timeline", "s o o o o o o", command("timeline", nil), ""}, // names the student's own setups
	{"/mine consent", "o o o o o o o", command("mine consent", nil), ""},
	{"/mine units", "o o o o o o o", command("mine units", func(asker) standin.Options { return standin.Options{"distance": "yd"} }), ""},
	{"/mine detail", "o o o o o o o", command("mine detail", func(asker) standin.Options { return standin.Options{"detail": "short"} }), ""},
	{"/mine zone", "o o o o o o o", command("mine zone", func(asker) standin.Options { return standin.Options{"zone": "Europe/London"} }), ""},
	{"/mine hand", "o o o o o o o", command("mine hand", func(asker) standin.Options { return standin.Options{"hand": "right"} }), ""},
	{"/mine export", "s o o o o o o", command("mine export", nil), ""},
	{"/mine remove", "s x x x x x x", command("mine remove", func(a asker) standin.Options { return standin.Options{"session": a.of.session} }), "This deletes"},
	{"/mine forget", "o o o o o o o", command("mine forget", nil), ""},
	{"/help", "o o o o o o o", command("help", nil), ""},

	{"/cause in the thread", "s o s o o o -", inThread(command("cause", nil)), ""},
	{"/post own", "o o o o o o o", command("post", func(a asker) standin.Options {
		return standin.Options{"file": standin.File{Name: "own.csv", Bytes: wedges}}
	}), ""},
	{"Read this session", "s x s x x x -", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Use(m.ctx, a.of.file, "Read this session")
	}, ""},
	{"a mention in the thread", "o o o o o o -", func(m *matrix, a asker) (*standin.Outcome, error) {
		if a.place != m.practice {
			return nil, errElsewhere // the stand-in lets anybody write
		}
		return a.Ask(m.ctx, a.of.thread, "@Rangepost mine", standin.File{Name: "own.csv", Bytes: wedges})
	}, ""},

	{"typing /cause student", "s o s o o o o", completion("cause", anywhere, func(a asker) standin.Options {
		return standin.Options{"student": a.of.User}
	}), ""},
	{"typing /sets", "s o o o o o o", completion("sets", anywhere, none), ""},
	{"typing /sets in the thread", "s o s o o o -", completion("sets", func(a asker) *standin.Channel { return a.of.thread }, none), ""},

	{"Figures", "s x s x x x x", button("Figures"), ""},
	{"Name the sets", "s x s x x x x", button("Name the sets"), ""},
	{"Compare the sets", "s x s x x x x", button("Compare the sets"), ""},
	{"Share here", "s x x x x x x", button("Share here"), ""},
	{"Show another set", "s x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Choose(m.ctx, a.on, "v1/set/"+a.of.session, "1")
	}, ""},
	{"the form for sets", "s x s x x x -", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Submit(m.ctx, a.of.form, map[string]string{"text": sets})
	}, ""},
	{"an open question", "s x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		asked := m.unclear(a.of)
		on := &asked.Message
		if a.place != m.practice {
			on = a.on
		}
		return a.Choose(m.ctx, on, asked.Menus[0].Path, asked.Menus[0].Choices[0].Value)
	}, ""},

	{"the form for a session", "o o o o o o o", func(m *matrix, a asker) (*standin.Outcome, error) {
		form := m.slash(a.User, a.place, "post", nil).Modal
		m.must(m.t)
		return a.Submit(m.ctx, form, nil, standin.File{Name: "own.csv", Bytes: wedges})
	}, ""},
	{"Post the next one", "s x x x x x x", button("Post the next one"), "Post a session"},
	{"Post a session", "s x x x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Press(m.ctx, a.on, "v1/post/"+a.of.ID)
	}, "Post a session"},
	{"My task", "s x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Press(m.ctx, a.on, "v1/task/"+a.of.ID)
	}, "task"},
	{"How am I doing", "s x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Press(m.ctx, a.on, "v1/doing/"+a.of.ID)
	}, ""},

	{"I agree", "s x x x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		newcomer, asked := m.newcomer()
		who, on := m.asNewcomer(a, newcomer, asked)
		return who.Press(m.ctx, on, asked.Buttons[0].Path)
	}, "Agreed:"},
	{"No", "s x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		newcomer, asked := m.newcomer()
		who, on := m.asNewcomer(a, newcomer, asked)
		return who.Press(m.ctx, on, asked.Buttons[1].Path)
	}, "see"},
	{"Take it back", "s x s x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		newcomer, asked := m.newcomer()
		m.press(newcomer, asked, "I agree")
		who, on := m.asNewcomer(a, newcomer, asked)
		return who.Press(m.ctx, on, asked.Buttons[1].Path)
	}, "no longer"},
	{"Delete it all", "s x x x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		asked := m.slash(a.of.User, m.practice, "mine forget", nil)
		m.must(m.t)
		return a.Press(m.ctx, a.on, asked.Buttons[0].Path)
	}, "Sure?"},
	{"Yes, delete it all", "s x x x x x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		newcomer, pending := m.newcomer()
		asked := m.slash(newcomer, m.practice, "mine forget", nil)
		sure := m.press(newcomer, asked, "Delete it all")
		m.must(m.t)
		who, on := m.asNewcomer(a, newcomer, pending)
		return who.Press(m.ctx, on, sure.Buttons[0].Path)
	}, "is deleted"},

	{"/bind", "x x s s x s x", func(m *matrix, a asker) (*standin.Outcome, error) {
		m.seen++
		place := a.place
		if place == m.practice {
			place = m.practice.Thread(fmt.Sprint("for-", m.seen))
		}
		return a.Slash(m.ctx, place, "bind", standin.Options{"student": m.priya})
	}, "asks to be your coach"},
	{"/clubhouse coach", "x x x x s x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Slash(m.ctx, a.place, "clubhouse coach", standin.Options{"role": m.coachRole})
	}, "coaches now"},
	{"/clubhouse units", "x x x x s x x", command("clubhouse units", func(asker) standin.Options { return standin.Options{"distance": "yd"} }), "Units for members"},
	{"/clubhouse answers", "x x x x s x x", command("clubhouse answers", nil), "Answers remembered"},
	{"/clubhouse show", "x x x x s x x", command("clubhouse show", nil), "Units for members"},
	{"/clubhouse quiet", "x x x x s x x", command("clubhouse quiet", func(asker) standin.Options { return standin.Options{"from": 3, "until": 3} }), "Quiet hours: none"},
	{"/clubhouse keep", "x x x x s x x", command("clubhouse keep", func(asker) standin.Options { return standin.Options{"days": "365"} }), "more than 365 days ago"},
	{"/clubhouse juniors", "x x x x s x x", command("clubhouse juniors", func(asker) standin.Options { return standin.Options{"names": "hide"} }), "not named"},
	{"Keep 365 days", "x x x x s x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		return a.Press(m.ctx, a.on, "v1/keep/365")
	}, "kept: 365 days"},
	{"Take an answer back", "x x x x s x x", func(m *matrix, a asker) (*standin.Outcome, error) {
		answers, err := m.st.db.AnswerHistory(m.ctx, m.server.ID)
		if err != nil || len(answers) == 0 {
			m.t.Fatalf("no answer to take back (%v)", err)
		}
		return a.Choose(m.ctx, a.on, "v1/undo", answers[0].ID)
	}, "Taken back"},
}

func none(asker) standin.Options { return nil }

func inThread(try func(*matrix, asker) (*standin.Outcome, error)) func(*matrix, asker) (*standin.Outcome, error) {
	return func(m *matrix, a asker) (*standin.Outcome, error) {
		a.place = a.of.thread
		return try(m, a)
	}
}

var errElsewhere = errors.New("cannot be there")

// wedges is a session of nobody's in particular.
var wedges = demoFile("sessions/odell-1-wedge.csv")

// TestPermissions tries every row in every column.
func TestPermissions(t *testing.T) {
	m := newMatrix(t)
	columns := []string{"the student", "another student", "their coach", "another coach", "a manager", "the former coach", "the coach who left"}
	for _, r := range rights {
		want := strings.Fields(r.want)
		for i, a := range m.askers {
			out, err := r.try(m, a)
			m.must(t)
			if got := m.outcome(r, out, err); got != want[i] {
				t.Errorf("%s, %s: %s, want %s: %s", r.what, columns[i], got, want[i], told(out, err))
			}
			if err != nil || out.Modal != nil {
				continue
			}
			if alone := out.Ephemeral || a.place != m.practice; want[i] == "x" && !alone {
				t.Errorf("%s, %s: everybody sees the refusal", r.what, columns[i])
			} else if want[i] == "s" && !alone && out.Channel != a.of.thread && r.done == "" {
				t.Errorf("%s, %s: everybody in %s sees it", r.what, columns[i], out.Channel.Name)
			}
			if strings.HasPrefix(r.what, "Delete") && want[i] == "x" && m.sessionsOf(a.of.User) == 0 {
				t.Fatalf("%s, %s: everything is deleted", r.what, columns[i])
			}
		}
	}
	// What the matrix shows to some it has shown to nobody else.
	for _, place := range []*standin.Channel{m.practice, m.odells} {
		for _, message := range place.Messages(m.steward) {
			if strings.Contains(shown(&standin.Outcome{Message: message}), mark) {
				t.Errorf("everybody in %s sees %q", place.Name, message.Text)
			}
		}
	}
}

// outcome is what came of a try.
func (m *matrix) outcome(r right, out *standin.Outcome, err error) string {
	if err != nil {
		return "-"
	}
	for _, refusal := range refusals {
		if strings.Contains(out.Text, refusal) {
			if strings.Contains(shown(out), mark) || len(out.Files) > 0 {
				return "refused and shown"
			}
			return "x"
		}
	}
	ownToo := strings.Contains(r.want, "o")
	switch {
	case strings.Contains(shown(out), mark), r.done != "" && strings.Contains(shown(out), r.done), !ownToo && out.Picture() != nil:
		return "s"
	}
	return "o"
}

// shown is everything somebody can read in an outcome.
func shown(out *standin.Outcome) string {
	var all strings.Builder
	fmt.Fprintln(&all, out.Text, out.Labels())
	for _, menu := range out.Menus {
		fmt.Fprintln(&all, menu.Placeholder, menu.Choices)
	}
	if out.Modal != nil {
		fmt.Fprintln(&all, out.Modal.Title, out.Modal.Fields)
	}
	for _, f := range out.Files {
		fmt.Fprintln(&all, f.Name, f.Alt)
		archive, err := zip.NewReader(bytes.NewReader(f.Bytes), int64(len(f.Bytes)))
		if err != nil {
			continue
		}
		for _, part := range archive.File {
			fmt.Fprintln(&all, part.Name)
			if r, err := part.Open(); err == nil {
				io.Copy(&all, r)
				r.Close()
			}
		}
	}
	return all.String()
}

func told(out *standin.Outcome, err error) string {
	if err != nil {
		return err.Error()
	}
	return fmt.Sprintf("%.300q", out.Failed+shown(out))
}
