package bot

import (
	"fmt"
	"strings"
	"testing"
)

// TestRows posts without a file: the form opens, its rows are read, and so are
// those of a message.
func TestRows(t *testing.T) {
	d := newDesktop(t)
	post := as("wren", Request{Kind: CommandRequest, Command: "post", Options: map[string]string{"club": "7i", "ball": "range"}})
	if got := d.Ack(post); got != AckImmediate {
		t.Errorf("a form is acknowledged %q, want %q", got, AckImmediate)
	}
	form := d.Handle(t.Context(), post)
	if form.Modal == nil || form.Modal.Path != path("posted", "7i", notSaid) || form.Modal.Fields[2].Value != "range" {
		t.Fatalf("no form with the club and the ball in it: %+v", form.Modal)
	}
	rows := "carry 152 yd, 8 right, face 2 open\ncarry 149 yd, 2 left, face 1 closed\ncarry 155 yd, 11 right, face 3 open\n"
	reply := d.Handle(t.Context(), as("wren", Request{Kind: SubmitRequest, Path: form.Modal.Path, Fields: map[string]string{"rows": rows, "ball": "range"}}))
	contained(t, "the form's rows", reply.Text, "ball")
	if len(reply.Rows) == 0 || reply.Picture == nil {
		t.Errorf("no way on, or no picture: %+v", reply)
	}
	s, err := d.db.LatestSession(t.Context(), "saltmarsh", "wren")
	if err != nil || s.Balls != 3 || s.Reading.Session.Ball != "range" || s.Said.Club.Key() != "7i" {
		t.Errorf("kept %+v, %v", s.Reading.Session, err)
	}

	message := as("wren", Request{Kind: MentionRequest, Message: &Message{ID: "m", Author: Person{ID: "wren"},
		Text: "<@4711> my balls\n```\nClub  Carry(yd)  Face   Path\n7i    152        1.5 R  0.5 R\n7i    147        2.0 L  3.0 R\n7i    149        0.4 R  1.1 L\n```"}})
	if !HasRows(message.Message.Text) || HasRows("<@123456789> see you at 10, bay 4") {
		t.Error("rows and talk are not told apart")
	}
	reply = d.Handle(t.Context(), message)
	if len(reply.Rows) == 0 {
		t.Errorf("rows in a message: %q", reply.Text)
	}
	bad := d.Handle(t.Context(), as("wren", Request{Kind: SubmitRequest, Path: form.Modal.Path, Fields: map[string]string{"rows": "no rows at all"}}))
	if bad.Modal != nil || bad.Picture != nil || strings.TrimSpace(bad.Text) == "" {
		t.Errorf("no rows: %+v", bad)
	}
}

// TestTurnRound turns a file round whose sides custom alone decided, and back.
func TestTurnRound(t *testing.T) {
	d := newDesktop(t)
	var rows strings.Builder
	rows.WriteString("Clb\tBall Vel (mph)\tV. Launch (deg)\tH. Launch (deg)\tSpn Rate (rpm)\tSpin Ax (deg)\tCary Dst (yd)\tOff-ln (yd)\n")
	for i := range 24 {
		start := float64(i*7%24)/6 - 1
		tilt := float64(i*5%24)/2 - 5
		fmt.Fprintf(&rows, "7i\t%.1f\t%.1f\t%.1f\t%d\t%.1f\t%.1f\t%.1f\n", 117+float64(i*11%24)/6, 16.5+float64(i*13%24)/10, start, 6000+30*(i*17%24), tilt,
			158+float64(i*11%24)/4, 158*(start+tilt/4)/57.3)
	}
	side := func(r Reply) string {
		for _, row := range r.Rows {
			for _, button := range row.Buttons {
				if strings.HasPrefix(button.Label, "Turn left") {
					return button.Path
				}
			}
		}
		t.Fatalf("nothing turns it round: %q, %+v", r.Text, r.Rows)
		return ""
	}
	first := d.Handle(t.Context(), as("wren", Request{Kind: SubmitRequest, Path: path("posted", notSaid, notSaid), Fields: map[string]string{"rows": rows.String()}}))
	contained(t, "custom", first.Text, customaryNote, "right")
	turned := d.Handle(t.Context(), as("wren", Request{Kind: PressRequest, Path: side(first)}))
	contained(t, "turned", turned.Text, "left")
	if strings.Contains(turned.Text, customaryNote) {
		t.Errorf("turned round, it is still said to be custom: %q", turned.Text)
	}
	back := d.Handle(t.Context(), as("wren", Request{Kind: PressRequest, Path: side(turned)}))
	if !strings.HasPrefix(first.Text, back.Text) { // a first reply adds which hand it was read for
		t.Errorf("turned back it says %q, want %q", back.Text, first.Text)
	}
	// A later file of the kind is read by the last answer.
	d.Handle(t.Context(), as("wren", Request{Kind: PressRequest, Path: side(back)}))
	later := d.Handle(t.Context(), as("wren", Request{Kind: SubmitRequest, Path: path("posted", notSaid, notSaid), Fields: map[string]string{"rows": rows.String() + "7i\t118.2\t17.0\t0.5\t6100\t1.0\t160.0\t2.1\n"}}))
	if strings.Contains(later.Text, customaryNote) {
		t.Errorf("a later file is read by custom again: %q", later.Text)
	}
}

// TestTurnOneNumberRound answers on which side a ball finished, and turns the club
// path round, which nothing ties to it.
func TestTurnOneNumberRound(t *testing.T) {
	d := newDesktop(t)
	rows := "Club,Carry (yd),Offline (yd),Club Path (deg)\n7i,150,3.1,1.1\n7i,151,-21.5,2.2\n7i,149,4,1.3\n7i,152,-2,2.1\n7i,150,6,-1.2\n"
	asked := d.Handle(t.Context(), as("wren", Request{Kind: SubmitRequest, Path: path("posted", notSaid, notSaid), Fields: map[string]string{"rows": rows}}))
	if len(asked.Rows) == 0 || asked.Rows[0].Menu == nil || strings.Contains(asked.Text, "2. ") {
		t.Fatalf("want one question: %q", asked.Text)
	}
	menu := asked.Rows[0].Menu
	read := d.Handle(t.Context(), as("wren", Request{Kind: ChooseRequest, Path: menu.Path, Values: []string{menu.Choices[0].Value}}))
	contained(t, "answered", read.Text, customary("club path"))
	label := func(r Reply) (found Button) {
		for _, row := range r.Rows {
			for _, button := range row.Buttons {
				if strings.HasPrefix(button.Label, "Turn ") {
					found = button
				}
			}
		}
		return found
	}
	if b := label(read); b.Label != "Turn the club path round" {
		t.Fatalf("turns round %q, want the club path", b.Label)
	}
	turned := d.Handle(t.Context(), as("wren", Request{Kind: PressRequest, Path: label(read).Path}))
	if strings.Contains(turned.Text, customary("club path")) || label(turned).Label != "Turn the club path round" {
		t.Errorf("turned round it says %q and offers %q", turned.Text, label(turned).Label)
	}
}
