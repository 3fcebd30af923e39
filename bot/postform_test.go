package bot

import (
	"math"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/store"
)

// formed is the form "Post a session" filled in.
func formed(fields map[string]string, files ...Attachment) Request {
	r := Request{Kind: SubmitRequest, Path: path("posted", notSaid, notSaid), Fields: fields, Files: map[string]Attachment{}}
	for _, f := range files {
		r.Files[f.ID] = f
	}
	return r
}

// TestPostForm fills in the form as people do, and as nobody should.
func TestPostForm(t *testing.T) {
	file := Attachment{ID: "71", Name: "wren-1-first.csv"}
	other := Attachment{ID: "72", Name: "wren-3-before-lesson.csv"}
	rows := "7i, carry 152 yd, 8 right, face 2 open\n7i, carry 149 yd, 2 left, face 1 closed\n7i, carry 155 yd, 11 right, face 3 open"
	with := func(path string, r Request) Request { r.Path = path; return r }
	for name, c := range map[string]struct {
		form Request
		kept string // the session's name, "" if there is none
		says string
	}{
		"a file":                         {formed(map[string]string{"file": "71", "rows": " \n", "ball": "new", "note": "windy"}, file), "wren-1-first.csv", "balls"},
		"rows":                           {formed(map[string]string{"file": "", "rows": rows}), record.Pasted, "ball"},
		"a file and rows":                {formed(map[string]string{"file": "71", "rows": rows}, file), "", "I cannot tell which you mean"},
		"neither":                        {formed(map[string]string{"note": "hello"}), "", "Choose the session's file, or paste its rows"},
		"nothing at all":                 {Request{Kind: SubmitRequest, Path: path("posted", notSaid, notSaid)}, "", "neither a file nor rows"},
		"two files":                      {formed(map[string]string{"file": "71,72"}, file, other), "", "Give one file"},
		"a file that is not there":       {formed(map[string]string{"file": "73"}, file), "", "Give one file"},
		"a file that no field names":     {formed(map[string]string{}, file), "", "neither a file nor rows"},
		"a ball never offered":           {formed(map[string]string{"file": "71", "ball": "glass"}, file), "", "I do not know that kind of ball"},
		"a path with a club of nobody":   {with(path("posted", "**@everyone**", notSaid), formed(map[string]string{"file": "71"}, file)), "", "is not a club I know"},
		"a path with a target of nobody": {with(path("posted", notSaid, "-5m"), formed(map[string]string{"file": "71"}, file)), "", "Option 'target'"},
		"the old form":                   {with("v1/rows/-", formed(map[string]string{"rows": rows})), "", "older version"},
		"a press in place of a form":     {Request{Kind: PressRequest, Path: path("posted", notSaid, notSaid)}, "", "neither a file nor rows"},
	} {
		d := newDesktop(t)
		reply := d.Handle(t.Context(), as(student, c.form))
		contained(t, name, reply.Text, c.says)
		all, err := d.db.Sessions(t.Context(), "saltmarsh", student, store.SessionFilter{})
		if err != nil {
			t.Fatal(err)
		}
		switch {
		case c.kept == "":
			again := len(reply.Rows) == 1 && reply.Rows[0].Buttons[0].Path == path("post", student)
			if again != (name != "the old form") {
				t.Errorf("%s: a way to try again: %v", name, again)
			}
			if len(all) > 0 || !reply.Private || strings.Contains(reply.Text, "my side") {
				t.Errorf("%s: %d sessions, for the asker alone: %v, %q", name, len(all), reply.Private, reply.Text)
			}
			continue
		case len(all) != 1 || all[0].Name != c.kept || reply.Picture == nil:
			t.Errorf("%s: kept %+v: %q", name, all, reply.Text)
			continue
		}
		// Sent again, as a form that was left open can be, it is the same session.
		twice := as(student, c.form)
		twice.ID = "another"
		again := d.Handle(t.Context(), twice)
		contained(t, name+" again", again.Text, "they stay one session")
		s, err := d.db.LatestSession(t.Context(), "saltmarsh", student)
		if err != nil || string(s.Said.Ball) != c.form.Fields["ball"] || s.Said.Note != c.form.Fields["note"] {
			t.Errorf("%s: said %+v, %v", name, s.Said, err)
		}
	}
}

// TestPostFormPresets opens the form with the kind of ball of last time, whatever
// was posted since without one, and with what was said beside the command.
func TestPostFormPresets(t *testing.T) {
	d := newDesktop(t)
	open := func(r Request) *Modal {
		t.Helper()
		reply := d.Handle(t.Context(), as(student, r))
		if reply.Modal == nil || len(reply.Modal.Fields) > 5 {
			t.Fatalf("%+v", reply)
		}
		return reply.Modal
	}
	preset := func() string {
		t.Helper()
		return open(Request{Kind: PressRequest, Path: path("post", student)}).Fields[2].Value
	}
	if got := preset(); got != "" {
		t.Errorf("before any post: %q", got)
	}
	for _, said := range []struct{ file, ball, want string }{
		{"wren-1-first.csv", "range", "range"}, {"wren-3-before-lesson.csv", "", "range"}, {"odell-1-wedge.csv", "new", "new"},
	} {
		d.Handle(t.Context(), as(student, formed(map[string]string{"file": "71", "ball": said.ball}, Attachment{ID: "71", Name: said.file})))
		if got := preset(); got != said.want {
			t.Errorf("after %s: %q, want %q", said.file, got, said.want)
		}
	}
	form := open(Request{Kind: CommandRequest, Command: "post", Options: map[string]string{
		"club": "pitching wedge", "target": "120yd", "ball": "range", "sets": "1-10 usual", "note": "cold",
	}})
	if f := form.Fields; f[2].Value != "range" || f[3].Value != "1-10 usual" || f[4].Value != "cold" {
		t.Errorf("presets: %+v", f)
	}
	d.Handle(t.Context(), as(student, Request{Kind: SubmitRequest, Path: form.Path, Fields: map[string]string{
		"rows": "carry 101 yd, 3 left\ncarry 99 yd, 1 right\ncarry 104 yd, 2 right", "ball": "range"}}))
	s, err := d.db.LatestSession(t.Context(), "saltmarsh", student)
	if err != nil || s.Said.Club.Key() != "pw" || math.Abs(s.Said.Targets[analysis.Club{}]-120*analysis.Yard) > 0.1 {
		t.Errorf("club and target said beside the command: %+v, %v", s.Said, err)
	}
}

// TestPostFormInThread answers in the student's own thread for the thread, and
// anywhere else for them alone.
func TestPostFormInThread(t *testing.T) {
	d := newDesktop(t)
	d.bind(student, coach)
	thread := "thread-" + student + "-" + coach
	form := formed(map[string]string{"file": "71"}, Attachment{ID: "71", Name: "wren-1-first.csv"})
	form.Channel = thread
	if got := d.Ack(as(student, form)); got != AckPublic {
		t.Errorf("in her thread it is acknowledged %q", got)
	}
	reply := d.Handle(t.Context(), as(student, form))
	if reply.Private || reply.Picture == nil {
		t.Errorf("in her thread: %+v", reply)
	}
	next := reply.Rows[len(reply.Rows)-1].Buttons[0]
	if next.Label != "Post the next one" || d.Ack(as(student, Request{Kind: PressRequest, Path: next.Path, Channel: thread})) != AckImmediate {
		t.Errorf("the way on: %+v", next)
	}
	if opened := d.Handle(t.Context(), as(student, Request{Kind: PressRequest, Path: next.Path, Channel: thread})); opened.Modal == nil {
		t.Errorf("the next one: %+v", opened)
	}
	// Her coach sees the button too, and is told what to use instead.
	contained(t, "her coach", d.Handle(t.Context(), as(coach, Request{Kind: PressRequest, Path: next.Path, Channel: thread})).Text, "Only the one who hit", "`/post`")
	// What a coach hands over in the thread is the student's, by form as by
	// command.
	theirs := formed(map[string]string{"file": "72"}, Attachment{ID: "72", Name: "wren-3-before-lesson.csv"})
	theirs.Channel = thread
	d.Handle(t.Context(), as(coach, theirs))
	if all, err := d.db.Sessions(t.Context(), "saltmarsh", student, store.SessionFilter{}); err != nil || len(all) != 2 || all[0].PostedBy == all[1].PostedBy {
		t.Errorf("%d sessions of hers, %v", len(all), err)
	}
	form.Channel = "practice"
	if got := d.Ack(as(student, form)); got != AckPrivate {
		t.Errorf("elsewhere it is acknowledged %q", got)
	}
}
