package main

import (
	"bytes"
	"fmt"
	"io"
	"net/http"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"rangepost/bot/standin"
)

// What one member answers about a file changes nobody else's reading; a coach's
// answer is lent to the others, who are told so and turn it round in one press.
func TestAnswersAreLentByCoaches(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	// With a word nobody knows over figures that go with the carry as a speed does.
	file := func(mark string) standin.File {
		var b bytes.Buffer
		fmt.Fprintf(&b, "Club,Carry (yd),Grzn (mph)\n")
		for i := range 12 {
			fmt.Fprintf(&b, "7i,%.1f,%.1f\n", 148+1.7*float64(i*7%12), 112+float64(i*7%12))
		}
		return standin.File{Name: "s.csv", Bytes: append(b.Bytes(), mark...)}
	}
	post := func(who *standin.User, mark string) *standin.Outcome {
		t.Helper()
		out := p.slash(who, p.practice, "post", standin.Options{"file": file(mark)})
		p.must(t)
		return out
	}
	asked := post(p.odell, "\n")
	if len(asked.Menus) != 1 {
		t.Fatalf("Odell is not asked: %q", asked.Text)
	}
	p.answer(p.odell, asked)
	p.must(t)
	if again := post(p.odell, "\n\n"); len(again.Menus) > 0 && strings.Contains(again.Text, "knowing more") {
		t.Errorf("Odell is asked again: %q", again.Text)
	}
	if other := post(p.priya, "\n\n\n"); len(other.Menus) == 0 || strings.Contains(other.Text, "Read as a coach") {
		t.Errorf("Priya's file is read by Odell's answer: %q", other.Text)
	}

	coachs := post(p.coach, "\n\n\n\n")
	p.answer(p.coach, coachs)
	p.must(t)
	lent := post(p.tamsin, "\n\n\n\n\n")
	if !strings.Contains(lent.Text, "Read as a coach of this server answered for files like it:") {
		t.Fatalf("Tamsin is not told by whose answer her file is read: %q", lent.Text)
	}
	turned := p.press(p.tamsin, lent, "Not so for mine")
	p.must(t)
	if strings.Contains(turned.Text, "Read as a coach") || len(turned.Menus) > 0 && strings.Contains(turned.Text, "knowing more") {
		t.Errorf("not turned in one press: %q", turned.Text)
	}
	if still := post(p.wren, "\n\n\n\n\n\n"); !strings.Contains(still.Text, "Read as a coach") {
		t.Errorf("Tamsin's press changed Wren's reading: %q", still.Text)
	}
}

// The longest names, labels and notes there are make replies the platform
// takes: every request is held against its published description.
func TestLongestWords(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	long := func(n int, of string) string { return strings.Repeat(of, n)[:n] }
	var b bytes.Buffer
	fmt.Fprintf(&b, "Club,Tag,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Carry (yd),Lateral (yd),Club Speed (mph),Club Path (deg),Face Angle (deg)\n")
	for i := range 60 {
		fmt.Fprintf(&b, "%s,%s %d,120,17,1.5,6500,3,160,6,87,%d,%d\n", []string{"7i", long(95, "my favourite club ")}[i%2], long(90, "a long label "), i/2, -1-i%3, 2+i%3)
	}
	name := long(240, "Tuesday evening with a friend ") + ".csv"
	asked := p.slash(p.wren, p.wrens, "post", standin.Options{
		"file": standin.File{Name: name, Bytes: b.Bytes()}, "note": long(500, "as long a note as there is "),
	})
	p.must(t)
	if len(asked.Menus) == 0 {
		t.Fatalf("a club of 95 letters is not asked about: %q", asked.Text)
	}
	answered := p.answer(p.wren, asked)
	p.must(t)
	if answered.Picture() == nil {
		t.Fatalf("the answer is not taken: %q", answered.Text)
	}
	if !strings.Contains(answered.Text, "sets of this session are kept and not judged") {
		t.Errorf("of 60 sets %q", answered.Text)
	}
	p.press(p.wren, p.press(p.wren, answered, "Figures"), "Why, in full")
	p.slash(p.wren, p.wrens, "sets", standin.Options{"session": p.complete(p.wren, p.wrens, "sets", "session")[0].Value, "text": "1-20 " + long(95, "first ") + ", 21-40 " + long(95, "second ")})
	p.slash(p.wren, p.wrens, "trial", nil)
	p.slash(p.coach, p.wrens, "lesson", standin.Options{"note": long(1000, "what was worked on ")})
	p.slash(p.coach, p.wrens, "brief", standin.Options{"text": "face within 2, 40 balls in 2 weeks"})
	p.slash(p.wren, p.wrens, "timeline", nil)
	p.slash(p.coach, p.wrens, "catch-up", nil)
	p.slash(p.coach, p.practice, "review", nil)
	p.slash(p.coach, p.practice, "roster", nil)
	p.slash(p.wren, p.practice, "mine export", nil)
	p.must(t)
}

// A legal file of 5,000 balls in 2,500 sets is answered soon, and sooner again.
func TestThousandsOfSets(t *testing.T) {
	p := rehearse(t)
	p.setUp()
	var b bytes.Buffer
	fmt.Fprintf(&b, "Club,Tag,Ball Speed (mph),Launch Angle (deg),Launch Direction (deg),Spin Rate (rpm),Spin Axis (deg),Carry (yd),Lateral (yd),Club Speed (mph),Club Path (deg),Face Angle (deg)\n")
	for i := range 5000 {
		fmt.Fprintf(&b, "7i,set %d,%.1f,17,1.5,6500,3,%.1f,6.%d,87,%d,%d\n", i/2, 120+float64(i%17)/10, 160+float64(i%23)/10, i%10, -1-i%3, 2+i%3)
	}
	posted := p.slash(p.wren, p.wrens, "post", standin.Options{"file": standin.File{Name: "many.csv", Bytes: b.Bytes()}})
	p.must(t)
	if len(posted.Menus) > 0 && posted.Picture() == nil {
		posted = p.answer(p.wren, posted)
		p.must(t)
	}
	if posted.Picture() == nil || !strings.Contains(posted.Text, "2,476 sets") {
		t.Errorf("%q", posted.Text)
	}
	p.press(p.wren, p.press(p.wren, posted, "Figures"), "Why, in full")
	p.must(t)
}

// A second process on the same database refuses to start, and says which
// process has it; when the file goes away under a serving bot its page says so.
func TestOneProcessServes(t *testing.T) {
	t.Parallel()
	st, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	kept.watch(st)
	db := filepath.Join(t.TempDir(), "rangepost.db")
	first := serveProcess(t, st, db, "--listen", "127.0.0.1:0")
	defer first.kill()
	if err := st.Connected(t.Context(), 1); err != nil {
		t.Fatal(err)
	}
	second := serveProcess(t, st, db)
	ended := make(chan error, 1)
	go func() { ended <- second.cmd.Wait() }()
	select {
	case err := <-ended:
		want := fmt.Sprintf("process %d", first.cmd.Process.Pid)
		if err == nil || !strings.Contains(second.log.String(), want) {
			t.Errorf("the second process: %v, %q, want something with %q", err, second.log, want)
		}
	case <-time.After(20 * time.Second):
		second.cmd.Process.Kill()
		t.Error("a second process serves from the same database")
	}
	page := first.page(t.Context(), t)
	health := func() (int, string) {
		t.Helper()
		resp, err := http.Get(page + "/health")
		if err != nil {
			t.Fatal(err)
		}
		defer resp.Body.Close()
		body, _ := io.ReadAll(resp.Body)
		return resp.StatusCode, string(body)
	}
	// The platform counts a link from its hello on, the bot from its first heartbeat on.
	code, body := health()
	for end := time.Now().Add(5 * time.Second); code != http.StatusOK && time.Now().Before(end); code, body = health() {
		time.Sleep(20 * time.Millisecond)
	}
	if code != http.StatusOK {
		t.Errorf("health is %d: %s", code, body)
	}
	if err := os.Remove(db); err != nil {
		t.Fatal(err)
	}
	if code, body := health(); code == http.StatusOK || !strings.Contains(body, "database") {
		t.Errorf("with the database gone health is %d: %s", code, body)
	}
}
