package bot

import (
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
	if form.Modal == nil || form.Modal.Fields[1].Value != "7i" {
		t.Fatalf("no form with the club in it: %+v", form)
	}
	rows := "carry 152 yd, 8 right, face 2 open\ncarry 149 yd, 2 left, face 1 closed\ncarry 155 yd, 11 right, face 3 open\n"
	reply := d.Handle(t.Context(), as("wren", Request{Kind: SubmitRequest, Path: form.Modal.Path, Fields: map[string]string{"rows": rows, "club": "7i"}}))
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
