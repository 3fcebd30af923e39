package bot

import (
	"fmt"
	"strings"
	"testing"
	"time"

	"rangepost/analysis"
	"rangepost/store"
)

// Six students of Wren's coach have tried a weaker and a stronger grip: the one did
// nothing, the other closed the face. Wren has tried neither. Their coach is told of
// all of them together, alone, without a name, wherever it is asked; Wren is told
// that it is their trials by which a stronger grip is recommended to her; her own
// count for more once there are some; and with one of the six gone all of it is
// held back.
func TestResponseOfAll(t *testing.T) {
	b, _ := alone(t, time.Now)
	ask := func(who, command string, options ...string) Reply {
		r := Request{Kind: CommandRequest, Command: command, Options: map[string]string{}, Channel: "thread-" + student}
		for i := 0; i < len(options); i += 2 {
			r.Options[options[i]] = options[i+1]
		}
		return b.Handle(t.Context(), as(who, r))
	}
	must := func(err error) {
		t.Helper()
		if err != nil {
			t.Fatal(err)
		}
	}
	b.Handle(t.Context(), as(manager, Request{Kind: CommandRequest, Command: "clubhouse coach", Options: map[string]string{"role": "coaches"}}))
	bound := map[string]string{}
	bind := func(pupil string) {
		asked, err := b.db.AskConsent(t.Context(), "saltmarsh", "thread-"+pupil, pupil, coach)
		must(err)
		if reply := b.Handle(t.Context(), as(pupil, Request{Kind: PressRequest, Path: path("consent", asked.ID, "give")})); !strings.HasPrefix(reply.Text, "Agreed") {
			t.Fatal(reply.Text)
		}
		bound[pupil] = asked.ID
	}
	iron, err := analysis.ParseClub("7i")
	must(err)
	practise := func(pupil string, face float64) {
		var taught []analysis.Observation
		for tool, by := range map[analysis.Tool]float64{analysis.StrongerGrip: face, analysis.WeakerGrip: 0} {
			for _, n := range []analysis.Number{analysis.Face, analysis.Path} {
				taught = append(taught, analysis.Observation{Club: iron, Tool: tool, Number: n, Difference: by * analysis.Degree, SE: 0.5 * analysis.Degree, Balls: 12})
				by = 0
			}
		}
		_, _, err := b.db.PostSession(t.Context(), store.NewSession{
			Server: "saltmarsh", Student: pupil, PostedBy: pupil, Name: "s.csv", Raw: []byte(fmt.Sprint(pupil, face)),
			Reading: store.Reading{Session: analysis.Session{When: time.Now()}, Taught: taught},
			Same:    func(a, b []analysis.Shot) bool { return false },
		})
		must(err)
	}
	bind(student)
	for i := range 6 {
		name := fmt.Sprint("zq", i)
		must(b.db.SetName(t.Context(), "saltmarsh", name, "Named"+name))
		bind(name)
		if i < 4 {
			practise(name, -3+float64(i)/10)
		}
	}
	if reply := ask(coach, "response", "students", "all"); !strings.Contains(reply.Text, "which 4 students tried: 1 is missing") {
		t.Errorf("of four: %q", reply.Text)
	}
	practise("zq4", -3)
	practise("zq5", -3)
	told := ask(coach, "response", "students", "all")
	for _, want := range []string{"7-iron, a stronger grip (6 students, 6 trials).", "Face: 3° further left", "Of a new student expect"} {
		if !strings.Contains(told.Text, want) {
			t.Errorf("%q does not say %q", told.Text, want)
		}
	}
	if !told.Private || told.Still == nil || !told.Still(t.Context()) || strings.Contains(told.Text, "zq") {
		t.Errorf("for the coach alone: %v, %q", told.Private, told.Text)
	}
	thread := Request{Kind: CommandRequest, Command: "response", Options: map[string]string{"students": "all"}, Channel: "thread-" + student}
	if ack := b.Ack(as(coach, thread)); ack != AckPrivate {
		t.Errorf("in a lesson thread it is acknowledged %v", ack)
	}
	for _, who := range []string{student, other, rival, manager} {
		if reply := ask(who, "response", "students", "all"); strings.Contains(reply.Text, "further") || strings.Contains(reply.Text, "7-iron") {
			t.Errorf("%s is told %q", who, reply.Text)
		}
	}
	if reply := ask(coach, "response", "students", "all", "student", student); !strings.Contains(reply.Text, "One student or all of them?") {
		t.Errorf("one and all: %q", reply.Text)
	}

	post := posting("wren-1-first.csv") // the face 3 degrees right
	b.Handle(t.Context(), as(student, post))
	posted, err := b.db.LatestSession(t.Context(), "saltmarsh", student)
	must(err)
	recommended := func(want string) {
		t.Helper()
		if reply := b.Handle(t.Context(), as(student, Request{Kind: PressRequest, Path: path("figures", posted.ID, "0")})); !strings.Contains(reply.Text, "a stronger grip, in turns with your usual setup; "+want) {
			t.Errorf("recommended, but not %s: %q", want, reply.Text)
		}
	}
	recommended("by what it did to your coach's students it does about as much")
	if reply := ask(student, "response", "club", "7i"); !strings.Contains(reply.Text, "known of your coach's students: a stronger grip (face 3° further left)") {
		t.Errorf("her own: %q", reply.Text)
	}
	for i := range 3 {
		practise(student, -1-float64(i)/10)
	}
	recommended("by your own trials")

	b.Handle(t.Context(), as("zq0", Request{Kind: PressRequest, Path: path("consent", bound["zq0"], "end")}))
	if told.Still(t.Context()) {
		t.Error("one of them took consent back before it was shown, and it is")
	}
	if reply := ask(coach, "response", "students", "all"); !strings.Contains(reply.Text, "held back since somebody it rested on is gone") || strings.Contains(reply.Text, "further left") {
		t.Errorf("one of the six is gone: %q", reply.Text)
	}
	if reply := ask(student, "response", "club", "driver"); strings.Contains(reply.Text, "coach's students") {
		t.Errorf("of another club: %q", reply.Text)
	}
}
