package bot

import (
	"errors"
	"fmt"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// desktop is a server with a coach and a clock that can be moved.
type desktop struct {
	*Bot
	t   *testing.T
	now time.Time
	log interface{ String() string }
}

func newDesktop(t *testing.T) *desktop {
	t.Helper()
	d := &desktop{t: t, now: time.Date(2026, time.June, 1, 9, 0, 0, 0, time.UTC)} // a Monday
	d.Bot, d.log = alone(t, func() time.Time { d.now = d.now.Add(time.Millisecond); return d.now })
	d.ask(manager, "clubhouse coach", "role", "coaches")
	return d
}

func (d *desktop) ask(who, command string, options ...string) Reply {
	d.t.Helper()
	r := Request{Kind: CommandRequest, Command: command, Options: map[string]string{}, People: map[string]Person{}}
	for i := 0; i < len(options); i += 2 {
		switch options[i] {
		case "channel":
			r.Channel, r.Thread = options[i+1], true
			continue
		case "member", "student":
			r.People[options[i+1]] = Person{ID: options[i+1], Name: options[i+1]}
		}
		r.Options[options[i]] = options[i+1]
	}
	return d.Handle(d.t.Context(), as(who, r))
}

func (d *desktop) press(who, at string, args ...string) Reply {
	d.t.Helper()
	return d.Handle(d.t.Context(), as(who, Request{Kind: PressRequest, Path: path(at, args...)}))
}

// bind makes somebody the coach's student, in a thread of that name.
func (d *desktop) bind(pupil, by string) {
	d.t.Helper()
	asked := d.ask(by, "bind", "channel", "thread-"+pupil+"-"+by, "student", pupil)
	if len(asked.Rows) == 0 {
		d.t.Fatal(asked.Text)
	}
	reply := d.Handle(d.t.Context(), as(pupil, Request{Kind: PressRequest, Path: asked.Rows[0].Buttons[0].Path}))
	if !strings.HasPrefix(reply.Text, "Agreed") {
		d.t.Fatal(reply.Text)
	}
}

// session posts balls with a face and a club speed.
func (d *desktop) session(pupil string, balls int, face float64) store.Session {
	d.t.Helper()
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	var shots []analysis.Shot
	for i := range balls {
		off := float64(i%5-2) * 0.4
		shots = append(shots, analysis.Shot{N: i + 1, Club: iron}.
			With(analysis.Face, (face+off)*analysis.Degree).With(analysis.Path, 0).With(analysis.ClubSpeed, 38).Derived())
	}
	at := d.Bot.now()
	s, created, err := d.db.PostSession(d.t.Context(), store.NewSession{
		Server: "saltmarsh", Student: pupil, Name: "s.csv", Raw: fmt.Append(nil, pupil, at),
		Reading: store.Reading{Session: analysis.Session{When: at, Ball: analysis.RangeBall, Shots: shots}},
	})
	if err != nil || !created {
		d.t.Fatal(created, err)
	}
	return s
}

func (d *desktop) days(n int) { d.now = d.now.AddDate(0, 0, n) }

func contained(t *testing.T, what, text string, want ...string) {
	t.Helper()
	for _, w := range want {
		if !strings.Contains(text, w) {
			t.Errorf("%s: %q, want something with %q", what, text, w)
		}
	}
}

// What needs the coach most comes first: a missed brief, drift, silence since
// the lesson, posts not looked at, then those who are fine.
func TestRosterOrder(t *testing.T) {
	d := newDesktop(t)
	for _, who := range []string{"fine", "silent", "unread", "drift", "missed"} {
		d.bind(who, coach)
	}
	d.days(1)
	d.ask(coach, "brief", "student", "missed", "text", "face within 2, 40 balls by 10 June")
	for range 12 {
		for _, who := range []string{"drift"} {
			d.session(who, 10, 0)
		}
		d.days(1)
	}
	d.ask(coach, "lesson", "student", "silent", "note", "aim")
	for i := range 10 {
		d.session("drift", 10, 0.8*float64(i))
		d.days(1)
	}
	d.session("unread", 10, 0)
	fine := d.session("fine", 10, 0)
	d.Handle(d.t.Context(), as(coach, Request{Kind: PressRequest, Path: path("looked", everybody, fine.ID)}))
	if binding, err := d.db.StudentBinding(t.Context(), "saltmarsh", "drift"); err != nil {
		t.Fatal(err)
	} else if err := d.db.CaughtUp(t.Context(), binding, d.now); err != nil {
		t.Fatal(err)
	}
	reply := d.ask(coach, "roster")
	last := -1
	for _, line := range []string{
		"**missed**: Face brief missed: no ball hit for it; never posted. Ask what is in the way.", "**silent**: Silent for 10 days, since the lesson. Write to them.",
		"**drift**: Face-to-path drifting since", "**unread**: 1 post.", "Nothing to do for now: fine.",
	} {
		at := strings.Index(reply.Text, line)
		if at <= last {
			t.Errorf("%q stands at %d, after %d: %s", line, at, last, reply.Text)
		}
		last = at
	}
	contained(t, "head", reply.Text, "5 students, 4 need you")
	if len(reply.Rows) != 1 || reply.Rows[0].Buttons[0].Label != "Review 1 post" {
		t.Errorf("buttons: %+v", reply.Rows)
	}
}

// A long roster comes in pages, each with as much as a reply has room for, and
// everybody is on one of them.
func TestRosterPages(t *testing.T) {
	d := newDesktop(t)
	want := map[string]bool{}
	for i := range 60 {
		name := fmt.Sprintf("student%02d", i)
		want["**"+name+"**"] = true
		d.bind(name, coach)
		if err := d.db.SetName(t.Context(), "saltmarsh", name, name); err != nil {
			t.Fatal(err)
		}
	}
	contained(t, "the first week", d.ask(coach, "roster").Text, "60 students, none needs you now.", "student00, ", " more.")
	d.days(8) // nobody posted
	reply := d.ask(coach, "roster")
	for pages := 1; ; pages++ {
		if n := len([]rune(reply.Text)); n > MaxText {
			t.Errorf("page %d has %d characters", pages, n)
		}
		for name := range want {
			if strings.Contains(reply.Text, name) {
				delete(want, name)
			}
		}
		next := ""
		for _, row := range reply.Rows {
			for _, b := range row.Buttons {
				if b.Label == "Next page" {
					next = b.Path
				}
			}
		}
		if next == "" {
			break
		}
		if pages > 10 {
			t.Fatal("the pages do not end")
		}
		reply = d.Handle(t.Context(), as(coach, Request{Kind: PressRequest, Path: next}))
	}
	if len(want) > 0 {
		t.Errorf("on no page: %v", want)
	}
	if reply := d.press(coach, "roster", "9999"); !strings.Contains(reply.Text, "60 students") {
		t.Errorf("a page beyond the last: %q", reply.Text)
	}
	for _, page := range []string{"-1", "x"} {
		contained(t, "page "+page, d.press(coach, "roster", page).Text, "no such page")
	}
}

// unreadPosts is how many posts a coach has to look at.
func (d *desktop) unreadPosts(by string) int {
	d.t.Helper()
	first, more, err := d.db.Unread(d.t.Context(), "saltmarsh", by, store.UnreadFilter{})
	if err != nil {
		d.t.Fatal(err)
	}
	if first == nil {
		return 0
	}
	return 1 + more
}

// do presses a button of a reply by its label.
func (d *desktop) do(who string, on Reply, label string) Reply {
	d.t.Helper()
	for _, row := range on.Rows {
		for _, b := range row.Buttons {
			if b.Label == label {
				return d.Handle(d.t.Context(), as(who, Request{Kind: PressRequest, Path: b.Path}))
			}
		}
	}
	d.t.Fatalf("no button %q in %+v", label, on.Rows)
	return Reply{}
}

// choose chooses in the menu of a reply that is called so, by position.
func (d *desktop) choose(who string, on Reply, menu string, places ...int) Reply {
	d.t.Helper()
	for _, row := range on.Rows {
		if m := row.Menu; m != nil && m.Placeholder == menu {
			var values []string
			for _, i := range places {
				values = append(values, m.Choices[i].Value)
			}
			return d.Handle(d.t.Context(), as(who, Request{Kind: ChooseRequest, Path: m.Path, Values: values}))
		}
	}
	d.t.Fatalf("no menu %q in %+v", menu, on.Rows)
	return Reply{}
}

// fill sends the form of a reply.
func (d *desktop) fill(who string, form Reply, text string) Reply {
	d.t.Helper()
	if form.Modal == nil {
		d.t.Fatalf("no form: %q", form.Text)
	}
	return d.Handle(d.t.Context(), as(who, Request{Kind: SubmitRequest, Path: form.Modal.Path, Fields: map[string]string{"text": text}}))
}

// A page says what was found in each post; opening it, or a post of it, marks
// nothing, and each button does what it says.
func TestReview(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	for _, file := range []string{"wren-1-first.csv", "wren-3-before-lesson.csv"} {
		d.Handle(t.Context(), as(student, posting(file)))
		d.days(3)
	}
	page := d.ask(coach, "review")
	contained(t, "page", page.Text, "2 posts on this page.", "1. **wren**, 4 June: 13 yards right, face 3.5° right, the same as last time.", "2. 1 June: 12 yards right, face 3.0° right.")
	first := d.choose(coach, page, "Open one", 1)
	contained(t, "first", first.Text, "**wren**, 1 June 2026, 20 balls.", "because the face pointed")
	if first.Picture == nil || d.unreadPosts(coach) != 2 {
		t.Fatalf("opened: picture %v, %d unread, want 2", first.Picture != nil, d.unreadPosts(coach))
	}
	second := d.do(coach, first, "Next")
	contained(t, "second", second.Text, "Since the session before (1 June) the face-to-path went")
	last := d.do(coach, second, "Next")
	contained(t, "after the last", last.Text, "That was the last; you went past 2 that are still to look at.")
	contained(t, "again", d.do(coach, last, "From the first").Text, "2 posts on this page.")
	form := d.do(coach, first, "Comment")
	if d.unreadPosts(coach) != 2 {
		t.Fatalf("comment: %d unread", d.unreadPosts(coach))
	}
	if empty := d.fill(coach, form, " \n "); !strings.Contains(empty.Text, "is empty") || d.unreadPosts(coach) != 2 {
		t.Errorf("an empty comment: %q", empty.Text)
	}
	sent := d.fill(coach, form, "Good.\n**Now** @everyone")
	contained(t, "comment", sent.Text, "Posted in <#thread-wren-coach>, and marked as looked at.")
	if len(sent.Also) != 1 || sent.Also[0].Channel != "thread-wren-coach" || len(sent.Also[0].Reply.Notify) != 1 || sent.Also[0].Reply.Notify[0] != student {
		t.Fatalf("also: %+v", sent.Also)
	}
	contained(t, "in the thread", sent.Also[0].Reply.Text, "<@wren>, <@coach> on your session of 1 June 2026:\n> Good.\n> \\*\\*Now\\*\\* @\u200beveryone")
	if n := d.unreadPosts(coach); n != 1 {
		t.Errorf("commented: %d unread, want 1", n)
	}
	// What came in since a page was shown is not marked by it.
	d.Handle(t.Context(), as(student, posting("wren-7-last.csv.gz")))
	contained(t, "looked", d.do(coach, page, "Looked at all 2").Text, "2 posts marked as looked at. That was the last page; 1 post is still to look at.")
	if n := d.unreadPosts(coach); n != 1 {
		t.Errorf("looked at a page: %d unread, want 1", n)
	}
	contained(t, "the last one", d.do(coach, d.ask(coach, "review"), "Looked at").Text, "1 post marked as looked at. Nothing left to look at.")
	contained(t, "nothing", d.ask(coach, "review").Text, "Nothing left to look at.")
}

// Many posts come on pages of one message each, everyone on one of them, and one
// press a page looks at them all. A student who takes consent back is on none.
func TestReviewPages(t *testing.T) {
	d := newDesktop(t)
	want := map[string]bool{}
	for i := range 25 {
		name := fmt.Sprintf("student%02d", i)
		d.bind(name, coach)
		if err := d.db.SetName(t.Context(), "saltmarsh", name, name); err != nil {
			t.Fatal(err)
		}
		d.session(name, 10, 1)
		want["**"+name+"**"] = true
	}
	gone := "student24"
	page := d.ask(coach, "review")
	d.Handle(t.Context(), as(gone, Request{Kind: PressRequest, Path: d.ask(gone, "mine consent").Rows[0].Buttons[0].Path}))
	delete(want, "**"+gone+"**")
	presses := 0
	for ; len(page.Rows) > 0; presses++ {
		if n := len([]rune(page.Text)); n > MaxText || presses > 4 {
			t.Fatalf("page %d has %d characters", presses+1, n)
		}
		for name := range want {
			if strings.Contains(page.Text, name) {
				delete(want, name)
			}
		}
		if strings.Contains(page.Text, "**"+gone+"**") {
			t.Errorf("consent taken back, and still there: %q", page.Text)
		}
		page = d.do(coach, page, page.Rows[0].Buttons[0].Label)
	}
	if len(want) > 0 || presses != 3 || d.unreadPosts(coach) != 0 {
		t.Errorf("after %d presses on no page: %v, %d unread", presses, want, d.unreadPosts(coach))
	}
	contained(t, "at the end", page.Text, "4 posts marked as looked at. Nothing left to look at.")
}

// One comment goes to several students, each told in their own thread of their
// own sessions; it is kept, offered again, and forgotten when asked.
func TestCommentOnSeveral(t *testing.T) {
	d := newDesktop(t)
	for _, who := range []string{student, other, "odell"} {
		d.bind(who, coach)
		d.session(who, 10, 1)
		d.days(1)
		if err := d.db.SetName(t.Context(), "saltmarsh", who, who); err != nil {
			t.Fatal(err)
		}
	}
	d.session(student, 10, 2)
	page := d.ask(coach, "review")
	at := func(who string) (places []int) {
		for i, c := range page.Rows[2].Menu.Choices {
			if strings.Contains(c.Text, who) {
				places = append(places, i)
			}
		}
		return places
	}
	if page.Rows[2].Menu.Most != 4 {
		t.Errorf("one menu takes %d of 4 posts", page.Rows[2].Menu.Most)
	}
	asked := d.choose(coach, page, "Comment on one or several", append(at(student), at(other)...)...)
	contained(t, "asked", asked.Text, "A comment for", student, other)
	if len(asked.Rows) != 1 {
		t.Errorf("comments are offered before any was sent: %+v", asked.Rows)
	}
	const text = "Lay a stick down first."
	sent := d.fill(coach, d.do(coach, asked, "Write one"), text)
	contained(t, "sent", sent.Text, "Posted to", student, other, "marked as looked at")
	if len(sent.Also) != 2 || d.unreadPosts(coach) != 1 {
		t.Fatalf("%d notices, %d unread", len(sent.Also), d.unreadPosts(coach))
	}
	for _, n := range sent.Also {
		who, says := student, "on your sessions of 1 June 2026, 4 June 2026:\n> "+text
		if n.Channel != "thread-wren-coach" {
			who, says = other, "on your session of 2 June 2026:\n> "+text
		}
		contained(t, n.Channel, n.Reply.Text, says)
		if n.Channel != "thread-"+who+"-coach" || len(n.Reply.Notify) != 1 || n.Reply.Notify[0] != who {
			t.Errorf("told in %s: %v", n.Channel, n.Reply.Notify)
		}
	}
	asked = d.choose(coach, page, "Comment on one or several", at("odell")...)
	form := d.choose(coach, asked, "One you sent before", 0)
	if form.Modal == nil || form.Modal.Fields[0].Value != text {
		t.Fatalf("offered again: %+v", form)
	}
	contained(t, "forgotten", d.choose(coach, asked, "Forget one", 0).Text, "Forgotten")
	contained(t, "not kept", d.choose(coach, asked, "One you sent before", 0).Text, "not kept any more")
	contained(t, "another coach's", d.Handle(t.Context(), as(rival, Request{Kind: SubmitRequest, Path: form.Modal.Path, Fields: map[string]string{"text": "x"}})).Text, "not yours")
	// Consent taken back between the page and the comment: nobody is told.
	d.Handle(t.Context(), as("odell", Request{Kind: PressRequest, Path: d.ask("odell", "mine consent").Rows[0].Buttons[0].Path}))
	if late := d.fill(coach, form, text); len(late.Also) != 0 || !strings.Contains(late.Text, "not yours to see") {
		t.Errorf("after consent was taken back: %q, %d notices", late.Text, len(late.Also))
	}
}

// What a lesson changed is a finding of the session that told it, once: in the
// roster until that is looked at, and in one digest.
func TestLessonFound(t *testing.T) {
	d, on := newDesktop(t), present()
	d.bind(student, coach)
	day := []float64{0.3, -0.2, 0.1, -0.4, 0.2, 0}
	for i := range 6 {
		d.session(student, 20, 4+day[i])
		d.days(2)
	}
	d.lookAtAll()
	d.ask(coach, "digest", "day", "1")
	d.ask(coach, "lesson", "student", student, "note", "grip")
	told := 0
	for i := range 6 {
		d.days(2)
		d.session(student, 20, day[5-i])
		text := d.ask(coach, "roster").Text
		if strings.Contains(text, "ince the lesson of 13 June the face-to-path is 4.0° more closed") {
			told++
		}
		d.lookAtAll()
		if text := d.ask(coach, "roster").Text; strings.Contains(text, "lesson") {
			t.Errorf("looked at, and still told: %q", text)
		}
	}
	if told != 1 {
		t.Errorf("told by %d of 6 sessions, want one", told)
	}
	said := 0
	for range 3 {
		if strings.Contains(d.weekly(on), "the lesson of 13 June") {
			said++
		}
	}
	if said != 1 {
		t.Errorf("in %d of 3 digests, want one", said)
	}
}

// lookAtAll marks every post as looked at.
func (d *desktop) lookAtAll() {
	d.t.Helper()
	page := d.ask(coach, "review")
	for len(page.Rows) > 0 {
		page = d.do(coach, page, page.Rows[0].Buttons[0].Label)
	}
}

// A catch-up covers what the coach has not seen, whichever way they saw the
// rest, and its button marks no more than it showed.
func TestCatchUp(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	thread := "thread-wren-coach"
	one := posting("wren-1-first.csv")
	d.Handle(t.Context(), as(student, one))
	first := d.ask(coach, "catch-up", "channel", thread)
	contained(t, "first", first.Text, "**wren** since 1 June 2026: 1 post, 20 balls.", "- 1 June: 12 yards right, face 3.0° right.")
	if first.Picture == nil || len(strings.Split(first.Text, "\n")) > 10 {
		t.Errorf("picture: %v, lines: %s", first.Picture != nil, first.Text)
	}
	if again := d.ask(coach, "catch-up", "channel", thread); !strings.Contains(again.Text, "1 post") {
		t.Errorf("reading it marked it: %q", again.Text)
	}
	d.days(3)
	two := posting("wren-3-before-lesson.csv")
	d.Handle(t.Context(), as(student, two))
	d.Handle(t.Context(), as(coach, Request{Kind: PressRequest, Path: first.Rows[0].Buttons[0].Path}))
	contained(t, "after", d.ask(coach, "catch-up", "channel", thread).Text, "1 post", "- 4 June: 13 yards right, face 3.5° right, the same as last time.")
	review := d.ask(coach, "review")
	d.Handle(t.Context(), as(coach, Request{Kind: PressRequest, Path: review.Rows[0].Buttons[0].Path}))
	contained(t, "once reviewed", d.ask(coach, "catch-up", "channel", thread).Text, "since 4 June 2026: no post.")
	contained(t, "a forged time", d.press(coach, "caught", student, "zzzzzzzzz").Text, "not mine")
	contained(t, "outside", d.ask(coach, "catch-up").Text, "Which student?")
}

// What a coach is told a brief asks for reads back as the same brief.
func TestBriefsReadBack(t *testing.T) {
	now := time.Date(2026, time.June, 10, 12, 0, 0, 0, time.UTC)
	until := time.Date(2026, time.June, 14, 23, 59, 59, 999e6, time.UTC)
	for _, voice := range []words.Voice{{}, {Hand: analysis.LeftHanded}, {Units: analysis.Units{Distance: analysis.Metres, Speed: analysis.MetresPerSecond}}} {
		for _, n := range analysis.Numbers() {
			k := n.Info().Kind
			unit := voice.Scale(k)
			for _, ends := range [][2]float64{{-2, 3}, {1, 4}, {-4, -1}, {0, 2}, {-2, 0}} {
				if !n.Info().Sideways && n != analysis.Attack && n != analysis.StrikeToe && n != analysis.StrikeUp {
					ends[0], ends[1] = ends[0]+5, ends[1]+5
				}
				if k == analysis.Ratio {
					ends[0], ends[1] = 1+ends[0]/20, 1+ends[1]/20
				}
				low, high := ends[0]*unit, ends[1]*unit
				for _, b := range []analysis.Brief{
					{Number: n, Low: &low, High: &high, Club: analysis.Club{Family: analysis.Iron, Number: 7}, Balls: 40, Until: until},
					{Number: n, Low: &low, Balls: 1},
					{Number: n, High: &high, Until: until},
				} {
					voice.Plain = true
					text := voice.Wanted(b)
					got, err := brief.Parse(text, brief.Options{Hand: voice.Hand, Units: voice.Units, Now: now})
					if err != nil {
						t.Errorf("%q: %v", text, err)
						continue
					}
					near := func(a, b *float64) bool {
						return (a == nil) == (b == nil) && (a == nil || (*a-*b)/unit < 1e-6 && (*b-*a)/unit < 1e-6)
					}
					if got.Number != b.Number || !near(got.Low, b.Low) || !near(got.High, b.High) || got.Club != b.Club || got.Balls != b.Balls || !got.Until.Equal(b.Until) {
						t.Errorf("%q reads back as %+v", text, got)
					}
				}
			}
		}
	}
}

// The student is told of a brief once, in their thread.
func TestBrief(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	thread := "thread-wren-coach"
	d.session(student, 10, 1)
	contained(t, "none yet", d.ask(coach, "brief", "channel", thread).Text, "has no brief")
	inside := d.ask(coach, "brief", "channel", thread, "text", "face within 2, 7i, 20 balls by Sunday")
	contained(t, "in the thread", inside.Text, "<@wren>, your brief: face angle with the 7-iron between 2° left and 2° right of target, 20 balls by 7 June.", "of the last 10 balls, 10 were inside")
	if len(inside.Notify) != 1 || inside.Notify[0] != student || len(inside.Also) != 0 || inside.Private {
		t.Errorf("in the thread: %+v", inside)
	}
	outside := d.ask(coach, "brief", "student", student, "text", "club speed at least 80")
	if len(outside.Also) != 1 || outside.Also[0].Channel != thread || outside.Also[0].Reply.Notify[0] != student {
		t.Fatalf("outside: %+v", outside.Also)
	}
	contained(t, "to the student", outside.Also[0].Reply.Text, "club speed at least 80 mph", "warm-up", "no medical advice")
	contained(t, "the one before", outside.Text, "Until now, brief not begun.")
	if strings.Contains(outside.Also[0].Reply.Text, "Until now") {
		t.Errorf("the student is told how the one before ended: %q", outside.Also[0].Reply.Text)
	}
	d.session(student, 10, 1)
	contained(t, "shown", d.ask(coach, "brief", "student", student).Text, "club speed at least 80 mph, 30 balls", "Brief under way: 10 of 30 balls hit")
	d.session(student, 12, 2)
	d.session(student, 14, 3)
	kept := d.ask(coach, "brief", "student", student).Text
	contained(t, "with the thirtieth ball", kept, "Brief kept: 30 of 30 balls inside")
	d.session(student, 20, 4)
	if again := d.ask(coach, "brief", "student", student).Text; again != kept {
		t.Errorf("settled, and then another session: %q, was %q", again, kept)
	}
	bad := d.ask(coach, "brief", "student", student, "text", "elbow within 2")
	contained(t, "no number", bad.Text, "'elbow within 2': I do not understand 'elbow' there.")
	if !bad.Private {
		t.Error("an error for everybody")
	}
	contained(t, "ended", d.ask(coach, "brief", "student", student, "text", "none").Text, "no brief any more")
	if _, err := d.db.LastBrief(t.Context(), "saltmarsh", student); !errors.Is(err, store.ErrNotFound) {
		t.Errorf("it is still there: %v", err)
	}
}

// A day is the coach's own, wherever that is.
func TestBriefEndsWhereTheCoachIs(t *testing.T) {
	for zone, end := range map[string]string{
		"America/New_York": "2026-06-08T03:59:59Z", "Pacific/Auckland": "2026-06-07T11:59:59Z", "Pacific/Kiritimati": "2026-06-07T09:59:59Z", "UTC": "2026-06-07T23:59:59Z",
	} {
		d := newDesktop(t)
		d.bind(student, coach)
		d.ask(coach, "digest", "zone", zone)
		set := d.ask(coach, "brief", "student", student, "text", "face within 2, 20 balls by 7 June")
		contained(t, zone, set.Text, "20 balls by 7 June")
		contained(t, zone, set.Also[0].Reply.Text, "20 balls by 7 June")
		contained(t, zone, d.ask(coach, "brief", "student", student).Text, "20 balls by 7 June")
		form := d.press(coach, "brief", student)
		if form.Modal == nil || !strings.HasSuffix(form.Modal.Fields[0].Value, "20 balls by 7 June") {
			t.Errorf("%s: the form %+v", zone, form.Modal)
		}
		kept, err := d.db.LastBrief(t.Context(), "saltmarsh", student)
		if err != nil || kept.Until.Format("2006-01-02T15:04:05Z") != end {
			t.Errorf("%s: until %v, %v, want %s", zone, kept.Until, err, end)
		}
	}
}

// A session keeps the brief it was hit under.
func TestBriefOfItsTime(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	post := posting("wren-1-first.csv")
	if reply := d.Handle(t.Context(), as(student, post)); strings.Contains(reply.Text, "Brief") {
		t.Fatal(reply.Text)
	}
	d.days(1)
	d.ask(coach, "brief", "student", student, "text", "face within 2, 7i, 20 balls")
	if review := d.ask(coach, "review"); strings.Contains(review.Text, "Brief") {
		t.Errorf("a post from before the brief is judged by it: %q", review.Text)
	}
	d.days(3)
	d.ask(student, "mine detail", "detail", "figures")
	post = posting("wren-3-before-lesson.csv")
	contained(t, "after", d.Handle(t.Context(), as(student, post)).Text, "Brief, face angle")
}

// A coach ends it where they began it.
func TestCoachEndsIt(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	again := d.ask(coach, "bind", "channel", "thread-wren-coach", "student", student)
	if len(again.Rows) != 1 || !again.Private {
		t.Fatalf("bound already: %+v", again)
	}
	end := Request{Kind: PressRequest, Path: again.Rows[0].Buttons[0].Path}
	contained(t, "another coach", d.Handle(t.Context(), as(rival, end)).Text, "the student's to answer")
	contained(t, "the coach", d.Handle(t.Context(), as(coach, end)).Text, "no longer your student")
	contained(t, "the roster", d.ask(coach, "roster").Text, "No student has agreed to you yet")
}

// Distances hit in other air are brought to one, and said to be.
func TestTimelineInOneAir(t *testing.T) {
	d := newDesktop(t)
	iron := analysis.Club{Family: analysis.Iron, Number: 7}
	post := func(kelvin float64, carry float64) {
		t.Helper()
		var shots []analysis.Shot
		for i := range 10 {
			shots = append(shots, analysis.Shot{N: i + 1, Club: iron}.
				With(analysis.BallSpeed, 52).With(analysis.LaunchAngle, 18*analysis.Degree).With(analysis.Direction, 0).
				With(analysis.Spin, 6000*analysis.RevPerMinute).With(analysis.SpinAxis, 0).With(analysis.Carry, carry+0.1*float64(i)))
		}
		at := d.Bot.now()
		session := analysis.Session{When: at, Ball: analysis.NewBall, Shots: shots}
		if kelvin > 0 {
			session.Conditions.Temperature = &kelvin
		}
		if _, _, err := d.db.PostSession(t.Context(), store.NewSession{Server: "saltmarsh", Student: student, Raw: fmt.Append(nil, at), Reading: store.Reading{Session: session}}); err != nil {
			t.Fatal(err)
		}
		d.days(1)
	}
	q := record.Query{Numbers: []analysis.Number{analysis.Carry}}
	means := func() (first, last float64, normalised bool) {
		t.Helper()
		got, err := d.records.Timelines(t.Context(), "saltmarsh", student, q)
		if err != nil || len(got) != 1 {
			t.Fatal(got, err)
		}
		points := got[0].Points
		return points[0].Mean.Mean, points[len(points)-1].Mean.Mean, points[0].Normalised
	}
	post(0, 140)
	post(0, 140)
	if first, last, normalised := means(); normalised || first != last {
		t.Errorf("with no air known: %v and %v, normalised %v", first, last, normalised)
	}
	if err := d.db.ForgetStudent(t.Context(), "saltmarsh", student); err != nil {
		t.Fatal(err)
	}
	post(273, 140) // thick winter air
	post(303, 140)
	if first, last, normalised := means(); !normalised || first-last < 1 || first-last > 8 {
		t.Errorf("140 m in winter is %.1f m in summer's air, want 1 to 8 m more than %.1f; normalised %v", first, last, normalised)
	}
	if reply := d.ask(student, "timeline", "number", "carry"); !strings.Contains(reply.Text, "brought to the air of the latest session") {
		t.Errorf("it is not said: %q", reply.Text)
	}
	q.Numbers[0] = analysis.BallSpeed
	if _, _, normalised := means(); normalised {
		t.Error("a ball speed is brought to other air")
	}
}

// A junior's numbers are never for a whole channel, and a guardian decides.
func TestJuniors(t *testing.T) {
	d := newDesktop(t)
	contained(t, "a coach says who is a junior", d.ask(coach, "clubhouse junior", "member", student).Text, "Only server managers can")
	d.ask(manager, "clubhouse junior", "member", student)
	asked := d.ask(coach, "bind", "channel", "thread", "student", student)
	contained(t, "asked", asked.Text, "a guardian decides; coach records it here.")
	give := asked.Rows[0].Buttons[0].Path
	for who, want := range map[string]string{student: "A guardian decides", rival: "the student's to answer", manager: "the student's to answer"} {
		contained(t, who, d.Handle(t.Context(), as(who, Request{Kind: PressRequest, Path: give})).Text, want)
	}
	contained(t, "recorded", d.Handle(t.Context(), as(coach, Request{Kind: PressRequest, Path: give})).Text, "Agreed")
	post := as(student, posting("wren-1-first.csv"))
	post.Channel, post.Thread = "thread", true
	if ack := d.Ack(post); ack != AckPrivate {
		t.Errorf("in the lesson thread a junior's post is acknowledged %s", ack)
	}
	d.Handle(t.Context(), post)
	s, err := d.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil {
		t.Fatal(err)
	}
	if shared := d.press(student, "share", "post", s.ID); !shared.Private || shared.Picture != nil {
		t.Errorf("shared: %q", shared.Text)
	}
	ask := as(coach, Request{Kind: CommandRequest, Command: "timeline", Channel: "thread", Options: map[string]string{}})
	if reply := d.Handle(t.Context(), ask); reply.Picture == nil || d.Ack(ask) != AckPrivate {
		t.Errorf("their coach: %q, %s", reply.Text, d.Ack(ask))
	}
	// Known again after a restart.
	again, err := New(t.Context(), Config{DB: d.db})
	if err != nil {
		t.Fatal(err)
	}
	if ack := again.Ack(post); ack != AckPrivate {
		t.Errorf("after a restart: %s", ack)
	}
	d.ask(manager, "clubhouse junior", "member", student, "junior", "false")
	if ack := d.Ack(post); ack != AckPublic {
		t.Errorf("no junior any more: %s", ack)
	}
}

// A lesson that was marked by mistake goes from the timeline again, once.
func TestLessonTakenBack(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	marked := d.ask(coach, "lesson", "student", student, "note", "grip")
	back := Request{Kind: PressRequest, Path: marked.Rows[0].Buttons[0].Path}
	left := func() int {
		t.Helper()
		all, err := d.db.Lessons(t.Context(), "saltmarsh", student)
		if err != nil {
			t.Fatal(err)
		}
		return len(all)
	}
	contained(t, "the student", d.Handle(t.Context(), as(student, back)).Text, "Only coaches can use that.")
	contained(t, "another coach", d.Handle(t.Context(), as(rival, back)).Text, "not yours to see")
	if n := left(); n != 1 {
		t.Fatalf("%d lessons, want 1", n)
	}
	contained(t, "their coach", d.Handle(t.Context(), as(coach, back)).Text, "off the timeline")
	if n := left(); n != 0 {
		t.Errorf("%d lessons, want none", n)
	}
	contained(t, "again", d.Handle(t.Context(), as(coach, back)).Text, "not on the timeline any more")
}
