package bot

import (
	"encoding/json"
	"fmt"
	"maps"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/store"
)

// The people of the permission table, besides Wren, whose numbers they want.
const (
	student = "wren"    // herself
	other   = "tamsin"  // another student of the same coach
	coach   = "coach"   // the one Wren agreed to
	rival   = "rival"   // a coach she never agreed to
	manager = "steward" // manages the server
	former  = "former"  // a coach she agreed to before, and still a coach here
	left    = "gone"    // a coach of hers who left: no role, and no longer hers
)

var everyone = []string{student, other, coach, rival, manager, former, left}

// A cell row: what somebody does, and who may.
type act struct {
	name string
	do   Request
	may  []string
}

// permits is the permission table: every command, completion, button, menu and
// form. What acts on whoever asks is everybody's, and is checked to show
// nothing of Wren.
func permits(session, binding, review, planned string) []act {
	hers := []string{student, coach}
	coachs := []string{coach}
	anyCoach := []string{coach, rival, former}
	hosts := []string{coach, rival, former, manager}
	command := func(name string, options ...string) Request {
		r := Request{Kind: CommandRequest, Command: name, Options: map[string]string{}}
		for i := 0; i < len(options); i += 2 {
			r.Options[options[i]] = options[i+1]
		}
		return r
	}
	complete := func(name, focused string, options ...string) Request {
		r := command(name, options...)
		r.Kind, r.Focused = CompletionAsk, focused
		return r
	}
	press := func(name string, args ...string) Request {
		return Request{Kind: PressRequest, Path: path(name, args...)}
	}
	choose := func(value, name string, args ...string) Request {
		return Request{Kind: ChooseRequest, Path: path(name, args...), Values: []string{value}}
	}
	submit := func(text, name string, args ...string) Request {
		return Request{Kind: SubmitRequest, Path: path(name, args...), Fields: map[string]string{"text": text}}
	}
	file := Attachment{ID: "f", Name: "wren-2-german.csv"}
	onHers := Request{Kind: MessageRequest, Command: "Read this session", Message: &Message{ID: "m", Author: Person{ID: student, Name: "Wren"}, Files: []Attachment{file}}}
	own := command("post", "file", "f")
	own.Files = map[string]Attachment{"f": {ID: "f", Name: "odell-1-wedge.csv"}}
	junior := command("clubhouse junior", "member", "somebody")
	junior.People = map[string]Person{"somebody": {ID: "somebody", Name: "Somebody"}}
	bind := command("bind", "student", student)
	bind.Thread, bind.Channel, bind.People = true, "other-thread", map[string]Person{student: {ID: student, Name: "Wren"}}
	return []act{
		{"cause", command("cause", "student", student), hers},
		{"cause by session", command("cause", "session", session), hers},
		{"trial", command("trial", "student", student), hers},
		{"work-back", command("work-back", "student", student, "shot", "draw"), hers},
		{"work-back by session", command("work-back", "session", session, "change", "face 2 left"), hers},
		{"complete work-back", complete("work-back", "session", "student", student), hers},
		{"timeline", command("timeline", "student", student), hers},
		{"task", command("task", "student", student), hers},
		{"plan", command("plan", "student", student, "against", "strong grip"), hers},
		{"plan shown", command("plan", "student", student), hers},
		{"complete plan number", complete("plan", "number", "student", student), hers},
		{"press plan", press("plan", planned), hers},
		{"press place", press("place", session, "none"), hers},
		{"press misplaced", press("misplaced", session), hers},
		{"press claim", press("claim", planned, "1"), hers},
		{"press expect", press("expect", planned, "70"), hers},
		{"press plan brief", press("planbrief", planned), coachs},
		{"press plan kept", press("plankept", planned), hers},
		{"response", command("response", "student", student), hers},
		{"response of all", command("response", "students", everybody), anyCoach},
		{"sets", command("sets", "session", session, "text", "1-10 normal, 11-20 strong grip"), hers},
		{"read her message", onHers, hers},
		{"compare", command("compare", "student", student, "first", "normal", "second", "strong grip"), hers},
		{"complete compare first", complete("compare", "first", "student", student), hers},
		{"complete compare second", complete("compare", "second", "student", student), hers},
		{"complete compare number", complete("compare", "number", "student", student), hers},
		{"complete compare club", complete("compare", "club", "student", student), hers},
		{"sheet", command("sheet", "student", student), coachs},
		{"take the numbers away", press("take", student, "1"), coachs},
		{"lesson", command("lesson", "student", student, "note", "grip"), coachs},
		{"brief", command("brief", "student", student), coachs},
		{"brief set", command("brief", "student", student, "text", "face within 2"), coachs},
		{"review", command("review", "student", student), coachs},
		{"press page", press("page", review, "0"), coachs},
		{"open of a page", choose("0", "open", review), coachs},
		{"pick of a page", choose("0", "pick", review), coachs},
		{"press write", press("write", review, "0"), coachs},
		{"choose reuse", choose("nothing", "reuse", review, "0"), coachs},
		{"press seen", press("seen", review, "0", "1"), coachs},
		{"submit written", submit("well done", "written", review, "0"), coachs},
		{"catch-up", command("catch-up", "student", student), coachs},
		{"roster", command("roster"), anyCoach},
		{"review of all", command("review"), anyCoach},
		{"digest", command("digest", "day", "1"), anyCoach},
		{"bind", bind, anyCoach},
		{"clubhouse coach", command("clubhouse coach", "role", "coaches"), []string{manager}},
		{"clubhouse units", command("clubhouse units", "distance", "yd"), []string{manager}},
		{"clubhouse answers", command("clubhouse answers"), []string{manager}},
		{"clubhouse junior", junior, []string{manager}},
		{"clubhouse show", command("clubhouse show"), []string{manager}},
		{"clubhouse channel", command("clubhouse channel"), []string{manager}},
		{"clubhouse quiet", command("clubhouse quiet", "from", "22", "until", "7"), []string{manager}},
		{"clubhouse keep", command("clubhouse keep", "days", "365"), []string{manager}},
		{"clubhouse juniors", command("clubhouse juniors", "names", "hide"), []string{manager}},
		{"clubhouse setup", command("clubhouse setup"), []string{manager}},
		{"press setup", press("setup", "zone"), []string{manager}},
		{"choose setting", choose("Europe/London", "setting", "zone", "0"), []string{manager}},
		{"press setting", press("setting", "juniors", "hide"), []string{manager}},
		{"press other zone", press("otherzone"), []string{manager}},
		{"press thread", press("thread", student), anyCoach},
		{"clubhouse zone", command("clubhouse zone", "zone", "Europe/London"), []string{manager}},
		{"challenge open", command("challenge open", "name", "x", "rule", "x", "club", "7i", "balls", "10"), hosts},
		{"challenge close", command("challenge close"), hosts},
		{"challenge look", command("challenge look"), hosts},
		{"challenge remove", command("challenge remove", "player", student, "reason", "x"), hosts},
		{"challenge void", command("challenge void", "reason", "x"), hosts},
		{"challenge enter", command("challenge enter"), everyone},
		{"challenge standings", command("challenge standings"), everyone},
		{"season open", command("season open", "name", "x", "until", "2026-09-30"), hosts},
		{"season template", command("season template", "name", "x", "rule", "narrow", "club", "pw", "balls", "10"), hosts},
		{"season add", command("season add", "template", "x", "when", "every Saturday"), hosts},
		{"season drop", command("season drop", "challenge", "x"), hosts},
		{"season handicap", command("season handicap", "members", "<@1> 12"), hosts},
		{"season close", command("season close"), hosts},
		{"season table", command("season table"), everyone},
		{"season history", command("season history"), everyone},
		{"tally", command("tally", "start", "left", "curve", "right"), everyone},
		{"post", own, everyone},
		{"post rows", command("post"), everyone},
		{"press post", press("post", student), []string{student}},
		{"press task", press("task", student), hers},
		{"press doing", press("doing", student), hers},
		{"submit rows", Request{Kind: SubmitRequest, Path: path("posted", notSaid, notSaid), Fields: map[string]string{"rows": "carry 140 yd, 3 right\ncarry 143 yd, 1 left\ncarry 139 yd, 6 right"}}, everyone},
		{"mine hand", command("mine hand", "hand", "right"), everyone},
		{"mine units", command("mine units", "distance", "m"), everyone},
		{"mine detail", command("mine detail", "detail", "figures"), everyone},
		{"mine zone", command("mine zone", "zone", "Europe/London"), everyone},
		{"mine consent", command("mine consent"), everyone},
		{"mine export", command("mine export"), everyone},
		{"mine remove", command("mine remove", "session", session), []string{student}},
		{"mine forget", command("mine forget"), everyone},
		{"help", command("help"), everyone},

		{"complete cause", complete("cause", "session", "student", student), hers},
		{"complete mine remove", complete("mine remove", "session"), everyone},
		{"complete trial", complete("trial", "session", "student", student), hers},
		{"complete sets", complete("sets", "session", "student", student), hers},
		{"complete timeline number", complete("timeline", "number", "student", student), hers},
		{"complete timeline club", complete("timeline", "club", "student", student), hers},
		{"complete timeline since", complete("timeline", "since", "student", student), hers},
		{"complete help", complete("help", "command"), everyone},
		{"complete help word", complete("help", "word"), everyone},
		{"complete digest", complete("digest", "zone", "zone", "Europe"), anyCoach},

		{"press cause", press("cause", session, "0"), hers},
		{"press figures", press("figures", session, "0"), hers},
		{"press trial", press("trial", session), hers},
		{"press sets", press("sets", session), hers},
		{"choose set", choose("0", "set", session), hers},
		{"choose trial", choose("0", "compared", session), hers},
		{"choose answer", choose("signs=target", "answer", session, "0"), hers},
		{"remove", press("remove", "nothing"), nil},
		{"choose about", choose("1", "about", session), hers},
		{"turn round", press("turn", session), hers},
		{"turn sides round", press("mirror", session), hers},
		{"submit sets", submit("1-10 normal, 11-20 strong grip", "label", session), hers},
		{"share", press("share", "post", session), []string{student}},
		{"share trial", press("share", "trial", session), []string{student}},
		{"consent given", press("consent", binding, "give"), []string{student}},
		{"undo", choose("nothing", "undo"), []string{manager}},
		{"keep", press("keep", "365"), []string{manager}},
		{"press roster", press("roster", "0"), anyCoach},
		{"press review", press("review", student, "0"), coachs},
		{"press review of all", press("review", everybody, "0"), anyCoach},
		{"press next", press("next", student, "0"), coachs},
		{"press again", press("again", student), coachs},
		{"choose drop", choose("nothing", "drop"), anyCoach},
		{"press comment", press("comment", student, session), coachs},
		{"press comment of all", press("comment", everybody, session), coachs},
		{"submit comment", submit("well done", "commented", everybody, session), coachs},
		{"press looked", press("looked", everybody, session), coachs},
		{"press unmark", press("unmark", student, "nothing"), coachs},
		{"press brief", press("brief", student), coachs},
		{"submit brief", submit("face within 2", "briefed", student), coachs},
		{"press caught", press("caught", student, "1"), coachs},
		{"forget", press("forget", "nothing"), nil},
		{"press enter", press("enter", "nothing"), everyone},
		{"press standings", press("standings", "nothing"), everyone},
		{"press announce", press("announce", "nothing"), everyone},
		{"press ball", press("ball", session, "nothing", "range"), []string{student}},
		{"press look", press("look", "nothing"), hosts},
		{"press accept", press("accept", "nothing"), hosts},
		{"press take out", press("takeout", "nothing"), hosts},
		{"submit taken out", submit("not yours", "takenout", "nothing"), hosts},
		{"press play-off", press("playoff", "nothing"), hosts},
		{"press leave", press("leave"), everyone},
		{"press leave open", press("leaveopen"), everyone},
		{"press season", press("season", "nothing"), everyone},
		{"choose class", choose("0", "class", "nothing"), everyone},
		{"press tally", press("tally", "nothing", "left-left"), everyone},
	}
}

// refusals are how a reply says no.
var refusals = []string{
	"not yours to see", "Only coaches can", "Only server managers can", "somebody else's", "Only the one who hit", "the student's to answer",
	"Only coaches and server managers",
}

func refused(r Request, reply Reply) bool {
	if r.Kind == CompletionAsk {
		return len(reply.Choices) == 0
	}
	says := slices.ContainsFunc(refusals, func(no string) bool { return strings.Contains(reply.Text, no) })
	return says && reply.Private && reply.Modal == nil && reply.Picture == nil && len(reply.Files) == 0 && len(reply.Rows) == 0 && len(reply.Also) == 0
}

// kept is all of Wren in the database, and what her coach has to look at.
func kept(t *testing.T, b *Bot) string {
	t.Helper()
	var sessions []store.Session
	about, err := b.db.ExportStudent(t.Context(), "saltmarsh", student, func(s store.Session, _ []byte) error {
		sessions = append(sessions, s)
		return nil
	})
	if err != nil {
		t.Fatal(err)
	}
	unread, more, err := b.db.Unread(t.Context(), "saltmarsh", coach, store.UnreadFilter{})
	if err != nil {
		t.Fatal(err)
	}
	text, err := json.Marshal([]any{about, sessions, unread, more})
	if err != nil {
		t.Fatal(err)
	}
	return string(text)
}

// settled is a server where Wren has a coach, had another, and a third who
// left; she and Tamsin have posted.
func settled(t *testing.T) (b *Bot, session, binding, review, planned string) {
	t.Helper()
	clock := time.Date(2026, time.June, 15, 9, 0, 0, 0, time.UTC) // after the demo's files
	b, _ = alone(t, func() time.Time { clock = clock.Add(time.Second); return clock })
	if reply := b.Handle(t.Context(), as(manager, Request{Kind: CommandRequest, Command: "clubhouse coach", Options: map[string]string{"role": "coaches"}})); !strings.Contains(reply.Text, "coaches now") {
		t.Fatal(reply.Text)
	}
	bind := func(pupil, by string) string {
		asked, err := b.db.AskConsent(t.Context(), "saltmarsh", "thread-"+pupil+by, pupil, by)
		if err != nil {
			t.Fatal(err)
		}
		if reply := b.Handle(t.Context(), as(pupil, Request{Kind: PressRequest, Path: path("consent", asked.ID, "give")})); !strings.HasPrefix(reply.Text, "Agreed") {
			t.Fatal(reply.Text)
		}
		return asked.ID
	}
	bind(student, left)
	bind(student, former)
	binding = bind(student, coach)
	bind(other, coach)
	post := posting("wren-4-grip-trial.tsv")
	if reply := b.Handle(t.Context(), as(student, post)); reply.Picture == nil {
		t.Fatal(reply.Text)
	}
	posted, err := b.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	opened := b.Handle(t.Context(), as(coach, Request{Kind: CommandRequest, Command: "review", Options: map[string]string{"student": student}}))
	if len(opened.Rows) == 0 {
		t.Fatal(opened.Text)
	}
	if reply := b.Handle(t.Context(), as(student, Request{Kind: CommandRequest, Command: "plan", Options: map[string]string{"against": "strong grip", "claim": "it slices"}})); reply.Picture == nil {
		t.Fatal(reply.Text)
	}
	plan, err := b.db.LastPlan(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	return b, posted.ID, binding, strings.Split(opened.Rows[0].Buttons[0].Path, "/")[2], plan.ID
}

// as is a request as it comes from somebody: their roles are the event's.
func as(who string, r Request) Request {
	r.ID, r.Server, r.Asker = "x", "saltmarsh", Person{ID: who, Name: who}
	if r.Channel == "" {
		r.Channel = "practice"
	}
	r.Options = maps.Clone(r.Options)
	switch who {
	case coach, rival, former:
		r.Roles = []string{"coaches"}
	case manager:
		r.Manager = true
	}
	return r
}

// Every cell of the table: who may is answered, who may not is refused, told
// nothing, and changes nothing.
func TestPermissions(t *testing.T) {
	if testing.Short() {
		t.Skip("one request after the other: nothing meets for a race detector to see")
	}
	b, session, binding, review, planned := settled(t)
	table := permits(session, binding, review, planned)
	for _, a := range table {
		for _, who := range everyone {
			r := as(who, a.do)
			before := ""
			may := slices.Contains(a.may, who)
			if !may {
				before = kept(t, b)
			}
			reply := b.Handle(t.Context(), r)
			switch {
			case strings.Contains(reply.Text, "Something went wrong"):
				t.Errorf("%s by %s: %s", a.name, who, reply.Text)
			case may && refused(r, reply):
				t.Errorf("%s by %s was refused: %q", a.name, who, reply.Text)
			case !may && a.name != "forget" && a.name != "remove" && !refused(r, reply):
				t.Errorf("%s by %s was not refused: %q", a.name, who, reply.Text)
			}
			if !may && kept(t, b) != before {
				t.Errorf("%s by %s changed something", a.name, who)
			}
			if who != student && who != coach {
				if said := reply.Text + fmt.Sprint(reply.Choices, reply.Also); strings.Contains(said, "7-iron") || strings.Contains(said, "wren-4") || strings.Contains(said, "**") {
					t.Errorf("%s tells %s of Wren: %q", a.name, who, said)
				}
				if reply.about == student {
					t.Errorf("%s shows Wren to %s", a.name, who)
				}
			}
			if a.name == "post" && who != student { // theirs, and not wanted in the next cells
				if err := b.db.ForgetStudent(t.Context(), "saltmarsh", who); who != other && who != coach && err != nil {
					t.Fatal(err)
				}
			}
		}
	}
	// Everything there is has its row.
	var names []string
	for _, a := range table {
		names = append(names, strings.TrimPrefix(a.do.Path, pathVersion+"/")+"/", a.do.Command+"/")
	}
	has := func(name string) bool {
		return slices.ContainsFunc(names, func(n string) bool { return strings.HasPrefix(n, name+"/") })
	}
	for _, r := range routes() {
		if !has(r.name) {
			t.Errorf("the table has no row for the route %s", r.name)
		}
	}
	for _, l := range Listing() {
		if name := strings.Trim(l.Usage, "`*/"); !has(name) {
			t.Errorf("the table has no row for the command %s", name)
		}
	}
	for _, c := range Commands() {
		for _, o := range c.Options {
			if o.Complete && !slices.ContainsFunc(table, func(a act) bool {
				return a.do.Kind == CompletionAsk && a.do.Command == c.Name && a.do.Focused == o.Name
			}) {
				t.Errorf("the table has no row for the completion of %s %s", c.Name, o.Name)
			}
		}
	}
}

// Consent taken back closes the desk at once, whatever buttons are still there;
// a coach who loses the role has no desk.
func TestConsentTakenBackClosesTheDesk(t *testing.T) {
	b, session, binding, review, planned := settled(t)
	for _, name := range []string{"without the role", "consent taken back"} {
		if name == "consent taken back" {
			b.Handle(t.Context(), as(student, Request{Kind: PressRequest, Path: path("consent", binding, "end")}))
		}
		for _, a := range permits(session, binding, review, planned) {
			if !slices.Equal(a.may, []string{coach}) {
				continue
			}
			r := as(coach, a.do)
			if name == "without the role" {
				r.Roles = nil
			}
			if reply := b.Handle(t.Context(), r); !refused(r, reply) {
				t.Errorf("%s: %s is answered: %q", name, a.name, reply.Text)
			}
		}
	}
	reply := b.Handle(t.Context(), as(coach, Request{Kind: CommandRequest, Command: "roster"}))
	if strings.Contains(reply.Text, "Wren") || !strings.Contains(reply.Text, "1 student") {
		t.Errorf("the roster after consent was taken back: %q", reply.Text)
	}
}
