package main

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/bot/standin"
	"rangepost/testdata"
)

// fortnightBegins is the first morning of the demo.
var fortnightBegins = time.Date(2026, time.June, 1, 8, 0, 0, 0, time.UTC)

// fortnight plays the demo: three students with their coach, one without, and
// a steward who sets the clubhouse up. The files and the story behind them are
// made by testdata/generate.
func (p *play) fortnight() error {
	p.setUp()
	p.secondWeek(p.firstWeek())
	p.lastEvening()
	return p.err
}

// A play is people on a stage. Once something goes wrong nothing more is
// played, and err says what it was.
type play struct {
	ctx   context.Context
	st    *stage
	err   error
	later int // days by which all of it happens after June 2026, in the files as well

	server                                     *standin.Server
	practice, contests                         *standin.Channel
	wrens, tamsins, odells                     *standin.Channel // lesson threads
	steward, coach, wren, tamsin, odell, priya *standin.User
	members                                    []*standin.User // of the club, and nobody's students
	coachRole                                  *standin.Role
}

// newPlay makes the club. Its ids are by the order in which it is made, and who
// keeps a database of try relies on them: what is added comes last.
func newPlay(ctx context.Context, st *stage) *play {
	p := &play{ctx: ctx, st: st}
	server := st.Server("Saltmarsh Links")
	p.server = server
	p.practice, p.contests = server.Channel("practice"), server.Channel("challenges")
	p.wrens, p.tamsins, p.odells = p.practice.Thread("wren"), p.practice.Thread("tamsin"), p.practice.Thread("odell")
	p.coachRole = server.Role("Coaches", 0)
	p.steward = server.Join(st.User("Steward"), server.Role("Stewards", standin.ManageServer))
	p.coach = server.Join(st.User("Coach"), p.coachRole)
	p.wren, p.tamsin = server.Join(st.User("Wren")), server.Join(st.User("Tamsin"))
	p.odell, p.priya = server.Join(st.User("Odell")), server.Join(st.User("Priya"))
	for _, name := range []string{"Heron", "Finch", "Lark"} {
		p.members = append(p.members, server.Join(st.User(name)))
	}
	return p
}

func (p *play) setUp() {
	p.at(1, 9, 0)
	page := p.choose(p.steward, p.slash(p.steward, p.practice, "clubhouse setup", nil), "The coaches' role", "Coaches")
	page = p.choose(p.steward, p.press(p.steward, page, "Next"), "Europe and Africa", "Europe/London")
	for _, label := range []string{"Next", "Skip", "Skip", "Skip", "Skip", "Skip", "Skip"} { // the rest in its own time
		page = p.press(p.steward, page, label)
	}
	p.slash(p.steward, p.practice, "clubhouse coach", standin.Options{"role": p.coachRole})
	for _, s := range []struct {
		student *standin.User
		thread  *standin.Channel
	}{{p.wren, p.wrens}, {p.tamsin, p.tamsins}, {p.odell, p.odells}} {
		asked := p.slash(p.coach, s.thread, "bind", standin.Options{"student": s.student})
		p.press(s.student, asked, "I agree")
	}
	p.tick() // the message with a student's buttons stands pinned in each thread
	p.slash(p.tamsin, p.tamsins, "mine hand", standin.Options{"hand": "left"})
	p.slash(p.odell, p.odells, "mine units", standin.Options{"distance": "m"})
	p.slash(p.priya, p.practice, "help", nil)
	p.slash(p.steward, p.practice, "clubhouse units", standin.Options{"distance": "yd", "speed": "mph"})
	p.slash(p.steward, p.contests, "clubhouse channel", nil)
	p.slash(p.steward, p.contests, "clubhouse zone", standin.Options{"zone": "Europe/London"})
	p.slash(p.steward, p.practice, "clubhouse quiet", standin.Options{"from": 22, "until": 7})
	p.press(p.steward, p.slash(p.steward, p.practice, "clubhouse keep", standin.Options{"days": "730"}), "Keep 730 days")
	p.slash(p.steward, p.practice, "clubhouse juniors", standin.Options{"names": "hide"})
}

// firstWeek is the days before the first Sunday. It returns the reply to Wren's
// first trial, which is still there to press on in the second.
func (p *play) firstWeek() *standin.Outcome {
	p.at(1, 18, 30)
	p.press(p.wren, p.press(p.wren, p.post(p.wren, p.wrens, "wren-1-first.csv", standin.Options{"ball": "range"}), "Figures"), "Why, in full")

	p.at(2, 9, 0)
	p.slash(p.coach, p.contests, "challenge open", standin.Options{
		"name": "Straightest seven", "rule": "narrow", "club": "7i", "balls": 10, "ball": "new", "until": p.date(14).Format(time.DateOnly) + " 19:00", "fewest": 2,
	})
	p.summer()
	p.tick()
	p.at(2, 17, 0)
	p.sevens("Weekly sevens, "+p.date(2).Format("2 January"), 2.4, 0.8, 1.5)

	p.at(2, 18, 30)
	p.post(p.tamsin, p.tamsins, "tamsin-1-driver.csv", standin.Options{"ball": "range"})

	p.at(3, 18, 30)
	p.post(p.odell, p.odells, "odell-1-wedge.csv", standin.Options{"ball": "new"})
	p.slash(p.odell, p.odells, "mine zone", standin.Options{"zone": "Europe/Stockholm"})
	p.slash(p.odell, p.odells, "mine detail", standin.Options{"detail": "figures"})
	p.slash(p.odell, p.odells, "help", standin.Options{"word": "spin axis"})
	p.at(3, 18, 45)
	p.use(p.coach, p.wren.Say(p.wrens, "Today's, from the other bay", p.file("sessions/wren-2-german.csv")), "Read this session")

	p.at(4, 18, 30)
	p.press(p.priya, p.post(p.priya, p.practice, "priya-1-five.csv", standin.Options{"ball": "range"}), "Share here")
	p.handOver(p.wren, p.pinned(p.wrens), "Post a session", "wren-3-before-lesson.csv", nil)

	p.at(5, 10, 0)
	p.slash(p.coach, p.wrens, "lesson", standin.Options{"note": "Grip: one knuckle more, hit in turns with the usual one"})
	p.slash(p.coach, p.wrens, "brief", standin.Options{"text": "face to path within 2, 7-iron, 40 balls by " + p.date(14).Format("2 January")})
	p.slash(p.coach, p.practice, "digest", standin.Options{"day": "0", "hour": 18, "zone": "Europe/London"})

	p.at(5, 17, 0) // no device today
	counting := p.slash(p.odell, p.odells, "tally", standin.Options{"start": "right", "curve": "right", "count": 6, "club": "pw"})
	for _, flight := range []string{"Right, curves left", "Straight, curves right", "Straight, no curve", "Straight, curves right: 1"} {
		counting = p.press(p.odell, counting, flight)
	}
	p.press(p.odell, counting, "Take the last one back")

	p.at(6, 18, 30)
	p.press(p.wren, p.pinned(p.wrens), "My task")
	trial := p.handOver(p.wren, p.pinned(p.wrens), "Post a session", "wren-4-grip-trial.tsv", nil)
	p.press(p.wren, trial, "Compare the sets")

	p.at(7, 18, 30)
	p.post(p.tamsin, p.tamsins, "tamsin-2-alignment.xlsx", standin.Options{"ball": "new"})
	return trial
}

func (p *play) secondWeek(trial *standin.Outcome) {
	p.at(7, 19, 0)
	p.tick() // the coach's Sunday message
	p.at(8, 7, 30)
	p.slash(p.coach, p.practice, "roster", nil)
	page := p.slash(p.coach, p.practice, "review", nil)
	p.submit(p.coach, p.press(p.coach, p.choose(p.coach, page, "Comment on one or several", "Tamsin, "+p.date(2).Format("2 January"), "Odell"), "Write one"),
		"text", "Check your alignment first: lay a stick on the ground and post ten balls along it.")
	post := p.choose(p.coach, page, "Open one", "Wren, "+p.date(6).Format("2 January"))
	p.submit(p.coach, p.press(p.coach, post, "Comment"), "text", "Same again, and this time let the path follow.")
	p.press(p.coach, page, "Looked at all 7")

	p.at(8, 18, 30)
	p.press(p.priya, p.post(p.priya, p.practice, "priya-2-hurried.csv", standin.Options{"ball": "range"}), "Compare the sets")

	p.at(9, 17, 0)
	p.tick()
	p.sevens("Weekly sevens, "+p.date(9).Format("2 January"), 1.4, 0.8, 2.6)
	p.at(9, 18, 30)
	p.handOver(p.wren, trial, "Post the next one", "wren-5-second-trial.csv", nil)
	p.slash(p.wren, p.wrens, "trial", standin.Options{"baseline": "normal"})

	p.at(10, 9, 0)
	p.slash(p.steward, p.contests, "challenge open", standin.Options{
		"name": "Nearest the flag", "rule": "nearest", "club": "pw", "balls": 10, "target": "105m", "ball": "new",
	})
	p.slash(p.steward, p.contests, "challenge open", standin.Options{
		"name": "Wedges together", "rule": "narrow", "club": "pw", "balls": 10, "ball": "new", "fewest": 2,
	})
	p.tick()

	p.at(10, 18, 30)
	p.answer(p.odell, p.ask(p.odell, p.odells, "@Rangepost wedges again", "odell-2-wedge.csv"))
	if sessions := p.complete(p.odell, p.odells, "sets", "session"); len(sessions) > 0 {
		p.slash(p.odell, p.odells, "sets", standin.Options{
			"session": sessions[0].Value, "text": "1-12 usual, 13-24 handle forward; 7 was thin",
		})
	}

	p.layPlan()
	p.at(11, 18, 30)
	p.press(p.wren, p.post(p.wren, p.wrens, "wren-6-theory.json", standin.Options{"ball": "new", "note": "to see whether the elbow matters"}), "Compare the sets")

	p.at(11, 18, 45)
	// Nobody had said what balls the file was hit with that the coach posted.
	asked := p.slash(p.wren, p.contests, "challenge enter", standin.Options{"challenge": p.open("Straightest seven")})
	p.press(p.wren, asked, "Range balls")
	p.slash(p.wren, p.contests, "challenge enter", standin.Options{"challenge": p.open("Straightest seven")})
	p.tick()

	p.hitPlan()
	p.at(12, 18, 30)
	posted := p.post(p.tamsin, p.tamsins, "tamsin-3-driver.zip", standin.Options{"ball": "range"})
	p.submit(p.tamsin, p.press(p.tamsin, posted, "Name the sets"), "text", "1-16 as ever, 17-32 ball forward")

	p.at(12, 20, 5)
	p.slash(p.odell, p.contests, "challenge enter", standin.Options{
		"challenge": p.open("Nearest the flag"), "file": p.file("sessions/odell-2-wedge.csv"), "ball": "new",
	})
	p.tick()

	p.at(12, 20, 30) // the wrong club, as it turns out
	p.slash(p.odell, p.contests, "challenge enter", standin.Options{"challenge": p.open("Wedges together")})
	p.slash(p.coach, p.contests, "challenge look", standin.Options{"challenge": p.open("Wedges together"), "player": p.odell})
	p.slash(p.coach, p.contests, "challenge remove", standin.Options{"challenge": p.open("Wedges together"), "player": p.odell, "reason": "You asked me to take it out again"})
	p.slash(p.steward, p.contests, "challenge void", standin.Options{"challenge": p.open("Wedges together"), "reason": "It was meant for the 9-iron"})
	p.tick()

	p.endPlan()
	p.at(13, 18, 30)
	p.post(p.priya, p.practice, "priya-3-draw.json", standin.Options{"ball": "new", "target": "145yd"})
	p.press(p.priya, p.board("Straightest seven"), "Enter my session")
	p.tick()
	p.slash(p.priya, p.practice, "challenge standings", standin.Options{"challenge": p.open("Straightest seven")})
	p.at(13, 18, 50) // the device slips: a path of 34 deg, half the spin
	p.press(p.priya, p.press(p.priya, p.post(p.priya, p.practice, "priya-4-device.csv", standin.Options{"ball": "range"}), "Figures"), "Why, in full")
	p.newcomer()
}

func (p *play) lastEvening() {
	p.at(14, 18, 30)
	p.post(p.wren, p.wrens, "wren-7-last.csv.gz", standin.Options{"ball": "new"})
	p.post(p.wren, p.wrens, "wren-7-last.csv.gz", standin.Options{"target": "170yd"})
	p.slash(p.wren, p.wrens, "timeline", standin.Options{"number": "face"})
	p.press(p.wren, p.pinned(p.wrens), "How am I doing")
	two := p.post(p.priya, p.practice, "priya-5-two-swings.csv", standin.Options{"ball": "range"})
	p.submit(p.priya, p.press(p.priya, two, "Name the sets"), "text", "1-12 across, 13-24 from the inside")
	p.press(p.tamsin, p.post(p.tamsin, p.tamsins, "tamsin-4-slow.csv", standin.Options{"ball": "range", "target": "198yd", "note": "slow today"}), "Figures")
	p.onRequest()
	p.press(p.priya, p.post(p.priya, p.practice, "priya-6-windy.csv", standin.Options{"ball": "new", "target": "7i 148yd", "note": "wind 12 mph from the left"}), "Figures")

	p.shotsOnRequest()
	p.drawnHalves()

	p.at(14, 20, 0)
	p.tick() // the clock closes one challenge; the other takes a hand
	page := p.slash(p.coach, p.practice, "review", nil)
	picked := p.choose(p.coach, page, "Comment on one or several", "Odell", "Tamsin")
	p.submitAsIs(p.coach, p.choose(p.coach, picked, "One you sent before", "alignment"))
	p.press(p.coach, p.slash(p.coach, p.wrens, "catch-up", nil), "Caught up")
	p.slash(p.coach, p.practice, "timeline", standin.Options{"student": p.wren, "number": "face_to_path, club_speed", "club": "7i"})
	p.slash(p.coach, p.practice, "compare", standin.Options{"student": p.wren, "first": "normal", "second": "strong grip"})
	p.slash(p.coach, p.practice, "compare", standin.Options{"student": p.tamsin, "first": "6i", "second": "driver", "number": "face, path"})
	p.slash(p.wren, p.wrens, "compare", standin.Options{"first": "before lesson", "second": "since lesson"})
	p.press(p.coach, p.slash(p.coach, p.wrens, "sheet", nil), "Take the numbers away")
	p.slash(p.coach, p.practice, "timeline", standin.Options{"student": p.odell, "number": "tally"})
	p.slash(p.coach, p.practice, "response", standin.Options{"student": p.wren})
	p.slash(p.coach, p.practice, "response", standin.Options{"students": "all"})
	p.slash(p.coach, p.practice, "task", standin.Options{"student": p.wren})
	p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.odell})
	p.slash(p.coach, p.practice, "cause", standin.Options{"student": p.priya}) // never agreed to
	p.slash(p.priya, p.practice, "post", standin.Options{"file": p.file("broken/letter.csv")})
	wrong := p.complete(p.priya, p.practice, "mine remove", "session")
	if len(wrong) > 0 { // the last she posted
		p.press(p.priya, p.slash(p.priya, p.practice, "mine remove", standin.Options{"session": wrong[0].Value}), "Delete this session")
	}
	p.slash(p.tamsin, p.practice, "mine consent", nil)
	p.slash(p.tamsin, p.practice, "mine export", nil)
	p.slash(p.steward, p.practice, "clubhouse answers", nil)
	p.slash(p.steward, p.practice, "clubhouse junior", standin.Options{"member": p.priya})
	p.slash(p.steward, p.practice, "clubhouse show", nil)
	p.slash(p.steward, p.contests, "challenge close", nil)
	p.tick()
	p.endSummer()
	asked := p.slash(p.priya, p.practice, "mine forget", nil)
	sure := p.press(p.priya, asked, "Delete it all")
	p.press(p.priya, sure, "Yes, delete it all")
	p.tick() // her name goes from the closed challenge
}

// onRequest is shots that were asked for: Priya's club does what they ask, Tamsin's
// stays as it is.
func (p *play) onRequest() {
	p.at(14, 18, 45)
	p.press(p.priya, p.post(p.priya, p.practice, "priya-7-shots.csv", standin.Options{"ball": "new"}), "Figures")
	p.slash(p.priya, p.practice, "work-back", standin.Options{"shot": "start 3 right, curve 8 left", "club": "7i"})
	p.slash(p.priya, p.practice, "work-back", standin.Options{"change": "face 2 left, path 3 right, 4 less loft"})
	p.slash(p.priya, p.practice, "work-back", standin.Options{"shot": "curve 60 left"})
	p.slash(p.priya, p.practice, "timeline", standin.Options{"number": "asked shots"})
	p.press(p.tamsin, p.post(p.tamsin, p.tamsins, "tamsin-5-shots.csv", standin.Options{"ball": "range", "sets": "1-10 normal, 11-20 draw 8", "shot": "fade 8"}), "Figures")
}

// at moves the calendar to a time of a day of the fortnight.
func (p *play) at(day, hour, minute int) {
	if p.err == nil {
		p.err = p.st.clock.set(p.date(day).Add(time.Duration(hour)*time.Hour + time.Duration(minute)*time.Minute))
	}
}

// date is the beginning of a day of the fortnight.
func (p *play) date(day int) time.Time {
	return time.Date(2026, time.June, day+p.later, 0, 0, 0, 0, time.UTC)
}

// tick lets the bot do what is due by now of its own accord.
func (p *play) tick() {
	if p.err == nil {
		p.st.clock.act()
		p.err = p.st.tick(p.ctx)
	}
}

// open is the id of an open challenge, as it is offered while somebody types.
func (p *play) open(name string) string {
	for _, c := range p.complete(p.coach, p.contests, "challenge close", "challenge") {
		if c.Text == name {
			return c.Value
		}
	}
	if p.err == nil {
		p.err = fmt.Errorf("no challenge %q is open", name)
	}
	return ""
}

// board is the message with the standings of an open challenge.
func (p *play) board(name string) *standin.Outcome {
	for _, m := range p.contests.Messages(p.wren) {
		if strings.HasPrefix(m.Text, "**"+name+"**") && slices.Contains(m.Labels(), "Enter my session") {
			return &standin.Outcome{Message: m}
		}
	}
	if p.err == nil {
		p.err = errors.New("no challenge is posted")
	}
	return &standin.Outcome{}
}

// pinned is the message that stands pinned in a thread.
func (p *play) pinned(thread *standin.Channel) *standin.Outcome {
	for _, m := range thread.Messages(p.coach) {
		if m.Pinned {
			return &standin.Outcome{Message: m}
		}
	}
	if p.err == nil {
		p.err = fmt.Errorf("nothing is pinned in %s", thread.Name)
	}
	return &standin.Outcome{}
}

// handOver posts one of the demo's sessions by a button and the form it opens,
// and answers what is asked about it.
func (p *play) handOver(who *standin.User, on *standin.Outcome, label, session string, fields map[string]string) *standin.Outcome {
	opened := p.press(who, on, label)
	return p.answer(who, p.send(who, opened, fields, p.file("sessions/"+session)))
}

// file is one of the demo's files as somebody posts it.
func (p *play) file(path string) standin.File {
	return p.fileOn(path, time.Duration(p.later)*24*time.Hour)
}

// fileOn is the same with its balls hit so much later.
func (p *play) fileOn(path string, later time.Duration) standin.File {
	data, err := testdata.Files.ReadFile(path)
	if err == nil && later != 0 {
		data, err = moved(data, later)
	}
	if err != nil && p.err == nil {
		p.err = err
	}
	name := path
	for i := len(path) - 1; i >= 0 && path[i] != '/'; i-- {
		name = path[i:]
	}
	return standin.File{Name: name, Bytes: data}
}

// post posts one of the demo's sessions, and answers what is asked about it.
func (p *play) post(who *standin.User, where *standin.Channel, session string, o standin.Options) *standin.Outcome {
	all := standin.Options{"file": p.file("sessions/" + session)}
	for k, v := range o {
		all[k] = v
	}
	return p.answer(who, p.slash(who, where, "post", all))
}

func (p *play) slash(who *standin.User, where *standin.Channel, command string, o standin.Options) *standin.Outcome {
	return p.do(who.Name+" /"+command, func() (*standin.Outcome, error) { return who.Slash(p.ctx, where, command, o) })
}

func (p *play) press(who *standin.User, on *standin.Outcome, label string) *standin.Outcome {
	return p.do(who.Name+" presses "+label, func() (*standin.Outcome, error) { return who.Press(p.ctx, &on.Message, label) })
}

// answer answers every question a reply asks with its first choice.
func (p *play) answer(who *standin.User, asked *standin.Outcome) *standin.Outcome {
	for p.err == nil && len(asked.Menus) > 0 && len(asked.Files) == 0 {
		menu := asked.Menus[0]
		asked = p.do(who.Name+" answers", func() (*standin.Outcome, error) {
			return who.Choose(p.ctx, &asked.Message, menu.Path, menu.Choices[0].Text)
		})
	}
	return asked
}

// submit fills in one field of the form that opened, and sends it.
func (p *play) submit(who *standin.User, opened *standin.Outcome, field, text string) *standin.Outcome {
	return p.send(who, opened, map[string]string{field: text})
}

// send sends the form that opened.
func (p *play) send(who *standin.User, opened *standin.Outcome, fields map[string]string, files ...standin.File) *standin.Outcome {
	return p.do(who.Name+" sends a form", func() (*standin.Outcome, error) {
		if opened.Modal == nil {
			return nil, errors.New("no form opened")
		}
		return who.Submit(p.ctx, opened.Modal, fields, files...)
	})
}

// submitAsIs sends the form that opened as it is filled in.
func (p *play) submitAsIs(who *standin.User, opened *standin.Outcome) *standin.Outcome {
	return p.do(who.Name+" sends a form", func() (*standin.Outcome, error) {
		if opened.Modal == nil {
			return nil, errors.New("no form opened")
		}
		return who.Submit(p.ctx, opened.Modal, nil)
	})
}

// choose chooses in the menu that is called so: the choices that have a text in
// them.
func (p *play) choose(who *standin.User, on *standin.Outcome, menu string, texts ...string) *standin.Outcome {
	return p.do(who.Name+" chooses in "+menu, func() (*standin.Outcome, error) {
		for _, m := range on.Menus {
			if m.Placeholder != menu {
				continue
			}
			var values []string
			for _, c := range m.Choices {
				if slices.ContainsFunc(texts, func(text string) bool { return strings.Contains(c.Text, text) }) {
					values = append(values, c.Text)
				}
			}
			return who.Choose(p.ctx, &on.Message, m.Path, values...)
		}
		return nil, fmt.Errorf("no menu %q there", menu)
	})
}

// complete is what an option offers while somebody types it.
func (p *play) complete(who *standin.User, where *standin.Channel, command, option string) []standin.Choice {
	if p.err != nil {
		return nil
	}
	p.st.clock.act()
	choices, err := who.Complete(p.ctx, where, command, nil, option, "")
	if err != nil {
		p.err = fmt.Errorf("%s types /%s %s: %w", who.Name, command, option, err)
	}
	return choices
}

func (p *play) use(who *standin.User, on *standin.Message, command string) *standin.Outcome {
	return p.do(who.Name+" uses "+command, func() (*standin.Outcome, error) { return who.Use(p.ctx, on, command) })
}

func (p *play) ask(who *standin.User, where *standin.Channel, text, session string) *standin.Outcome {
	file := p.file("sessions/" + session)
	return p.do(who.Name+" asks", func() (*standin.Outcome, error) { return who.Ask(p.ctx, where, text, file) })
}

func (p *play) do(what string, act func() (*standin.Outcome, error)) *standin.Outcome {
	if p.err != nil {
		return nil
	}
	p.st.clock.act()
	out, err := act()
	if err == nil && out.Failed != "" {
		err = fmt.Errorf("the platform says %q", out.Failed)
	}
	if err != nil {
		p.err = fmt.Errorf("%s: %w", what, err)
	}
	return out
}
