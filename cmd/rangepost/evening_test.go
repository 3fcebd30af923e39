package main

import (
	"bytes"
	"cmp"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/alecthomas/kong"

	"rangepost/bot/standin"
)

// An evening is the README's, played by somebody who has read nothing else.
type evening struct {
	t     *testing.T
	env   []string
	kept  []string // the exports so far: one terminal throughout
	steps []string
}

// readme is the text under a heading of the README, until the next.
func readme(t *testing.T, heading string) string {
	t.Helper()
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	_, rest, found := strings.Cut(string(data), "\n## "+heading)
	if !found {
		t.Fatalf("the README has no %q", heading)
	}
	text, _, _ := strings.Cut(rest, "\n## ")
	return text
}

var numbered = regexp.MustCompile(`(?m)^\d+\. `)

// commandsOf are the lines of a text that are typed into a terminal.
func commandsOf(text string) string {
	var lines []string
	for line := range strings.Lines(text) {
		if rest, is := strings.CutPrefix(line, "       "); is {
			lines = append(lines, strings.TrimSpace(rest))
		}
	}
	return strings.Join(lines, "\n")
}

// says fails the test if a step does not name what its reader is about to do or
// to see.
func (e *evening) says(step int, words ...string) {
	e.t.Helper()
	text := strings.Join(strings.Fields(e.steps[step-1]), " ")
	for _, w := range words {
		if !strings.Contains(text, w) {
			e.t.Errorf("step %d has to be guessed: it does not say %q", step, w)
		}
	}
}

// run types the commands of a step, and looks for what it says one sees.
func (e *evening) run(ctx context.Context, step int, typed string) string {
	e.t.Helper()
	cmd := e.command(ctx, commandsOf(e.steps[step-1]))
	cmd.Stdin = strings.NewReader(typed)
	out, err := cmd.CombinedOutput()
	if err != nil {
		e.t.Fatalf("step %d: %v\n%s", step, err, out)
	}
	_, sees, found := strings.Cut(e.steps[step-1], "see ")
	if !found {
		e.t.Fatalf("step %d does not say what one sees", step)
	}
	for _, m := range regexp.MustCompile("`([^`]+)`").FindAllStringSubmatch(sees, -1) {
		want := strings.Join(strings.Fields(m[1]), " ")
		if want != "WRONG" && !strings.Contains(string(out), want) {
			e.t.Errorf("step %d: one sees nothing of %q in\n%s", step, want, out)
		}
	}
	return string(out)
}

func (e *evening) command(ctx context.Context, lines string) *exec.Cmd {
	for line := range strings.Lines(lines) {
		if strings.HasPrefix(line, "export ") {
			e.kept = append(e.kept, strings.TrimSpace(line))
		}
	}
	cmd := exec.CommandContext(ctx, "sh", "-e", "-c", strings.Join(e.kept, "\n")+"\n"+lines)
	cmd.Dir, cmd.Env = "../..", e.env
	return cmd
}

// The README's evening, literally: its commands are run by a shell as they
// stand, on a stand-in where the server's manager then does what each step names
// and nothing else.
func TestEvening(t *testing.T) {
	t.Parallel()
	ctx, cancel := context.WithTimeout(t.Context(), 5*time.Minute)
	defer cancel()
	st, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer st.Close()
	validate(t, st)
	kept.watch(st)
	srv := st.NewServer("Saltmarsh Links")
	tamsin := srv.Join(st.User("Tamsin"), srv.Role("Stewards", standin.ManageServer)) // the volunteer
	wren := srv.Join(st.User("Wren"))
	p := &play{ctx: ctx, st: &stage{clock: &clock{}}}

	e := &evening{t: t}
	e.env = append(os.Environ(), "HOME="+t.TempDir(),
		"RANGEPOST_PLATFORM_URL="+st.URL(), "RANGEPOST_CDN_HOSTS="+st.CDNHost(), "RANGEPOST_TOKEN=", "RANGEPOST_TOKEN_FILE=", "RANGEPOST_DB=")
	text := readme(t, "An evening: from nothing to the first post")
	text, _, _ = strings.Cut(text, "\n### ")
	e.steps = numbered.Split(text, -1)[1:]
	if len(e.steps) != 10 {
		t.Fatalf("%d steps", len(e.steps))
	}

	// A build takes minutes; this binary is the one it would make.
	binary, err := exec.LookPath("rangepost")
	if err != nil {
		t.Fatal(err)
	}
	e.says(1, "for some minutes")
	e.steps[0] = strings.Replace(e.steps[0], "go build -trimpath -o", "ln -s "+binary, 1)
	e.steps[0] = strings.Replace(e.steps[0], " ./cmd/rangepost", "", 1)
	e.run(ctx, 1, "")
	e.says(2, "https://discord.com/developers/applications", "*New Application*", "*Create*", "*Bot*", "*Reset Token*", "Turn nothing on")
	e.says(3, "paste the token, press Enter, then Ctrl-D")
	e.run(ctx, 3, st.Token()+"\n")
	link := regexp.MustCompile(`http\S+/oauth2/authorize\S+`).FindString(e.run(ctx, 4, ""))
	e.says(4, "choose your server", "*Authorise*")
	if err := tamsin.Authorize(link, srv); err != nil {
		t.Fatal(err)
	}
	e.says(5, "`practice`", "`challenges`", "role `Coaches`", "to yourself")
	practice, contests := srv.Channel("practice"), srv.Channel("challenges")
	srv.Give(tamsin, srv.Role("Coaches", 0))
	e.run(ctx, 6, "")

	serve := e.command(ctx, "exec "+commandsOf(e.steps[6]))
	log := kept.log()
	serve.Stderr = log
	if err := serve.Start(); err != nil {
		t.Fatal(err)
	}
	defer func() { serve.Process.Signal(os.Interrupt); serve.Wait() }()
	if err := st.Connected(ctx, 1); err != nil {
		t.Fatalf("%v\n%s", err, log)
	}
	e.says(7, "`connected to the gateway`", "runs until Ctrl-C")
	for !strings.Contains(log.String(), "connected to the gateway") {
		time.Sleep(10 * time.Millisecond)
	}

	e.says(8, "in `#practice`, type `/clubhouse setup`", "`Setting up, 1 of 8`", "*Next*", "*Skip*", "`I open a private thread`", "choose the student")
	at := p.slash(tamsin, practice, "clubhouse setup", nil)
	for _, menu := range []struct{ name, choice string }{
		{"The coaches' role", "Coaches"}, {"Europe and Africa", "Europe/London"}, {"", "Yards, mph"}, {"Quiet hours", "22:00 to 07:00"},
		{"", "Do not name juniors"}, {"How long", "for ever"}, {"The channels", "challenges"},
	} {
		p.must(t)
		title := strings.SplitN(strings.TrimSuffix(strings.SplitN(at.Text, "\n", 2)[0], "."), ": ", 2)[1]
		e.says(8, strings.TrimPrefix(strings.Replace(title, "coaches", "role of the coaches", 1), "a "))
		if menu.name == "" {
			at = p.press(tamsin, at, menu.choice)
		} else {
			at = p.choose(tamsin, at, menu.name, menu.choice)
		}
		at = p.press(tamsin, at, "Next")
	}
	opens := p.choose(tamsin, at, "The student", "Wren")
	p.must(t)
	if !strings.Contains(opens.Text, "I open a private thread") || len(contests.Messages(wren)) != 1 {
		t.Errorf("after the last step: %q", opens.Text)
	}

	var thread *standin.Channel
	for thread == nil || len(thread.Messages(wren)) == 0 {
		if thread = practice.ThreadCalled("Wren", wren); ctx.Err() != nil {
			t.Fatalf("no thread: %v\n%s", ctx.Err(), log)
		}
		time.Sleep(10 * time.Millisecond)
	}
	e.says(9, "Below `#practice`", "*I agree*", "`Agreed`", "within a minute a pinned message with three buttons")
	agreed := p.press(wren, &standin.Outcome{Message: thread.Messages(wren)[0]}, "I agree")
	p.must(t)
	if !strings.HasPrefix(agreed.Text, "Agreed") {
		t.Errorf("agreed: %q", agreed.Text)
	}
	pinned, err := thread.Await(ctx, wren, func(m *standin.Message) bool { return m.Pinned })
	if err != nil || len(pinned.Buttons) != 3 {
		t.Fatalf("pinned: %+v, %v\n%s", pinned, err, log)
	}
	e.says(10, "*Post a session*", "`testdata/sessions/wren-1-first.csv`", "one sentence that says why", "and a picture")
	posted := p.handOver(wren, &standin.Outcome{Message: *pinned}, "Post a session", "wren-1-first.csv", nil)
	p.must(t)
	if posted.Picture() == nil || !strings.Contains(posted.Text, "because the face pointed") {
		t.Errorf("the first post: %q", posted.Text)
	}
	e.moves(ctx, t)
}

// moves plays the rest of the evening's database: what the README says of backups
// and the drill, with its folders elsewhere and without sudo.
func (e *evening) moves(ctx context.Context, t *testing.T) {
	t.Helper()
	text := readme(t, "Keep it running")
	dir := t.TempDir()
	for _, folder := range []string{"backups", "lib"} {
		if err := os.Mkdir(filepath.Join(dir, folder), 0o700); err != nil {
			t.Fatal(err)
		}
	}
	here := strings.NewReplacer("/var/backups/rangepost", dir+"/backups", "/var/lib/rangepost", dir+"/lib", "sudo -u rangepost ", "", "/usr/local/bin/", "", "%%", "%", "$$", "$")
	unit := regexp.MustCompile(`(?m)^ +ExecStart=(/bin/sh .*)$`).FindStringSubmatch(text)
	drill := regexp.MustCompile(`(?m)^ +(sudo -u rangepost (?:sh|/usr/local/bin/rangepost) .*(?:drill|restore|before|newer).*)$`).FindAllStringSubmatch(text, -1)
	if unit == nil || len(drill) != 6 {
		t.Fatalf("the README's backup %v and drill %v", unit, drill)
	}
	backup := here.Replace(text[strings.Index(text, `rangepost backup "$HOME`):])
	backup, _, _ = strings.Cut(backup, "\n")
	for _, c := range []struct{ line, want string }{
		{backup, "Copied to"}, // while the bot runs
		{`cp "$HOME/rangepost/moving.db" ` + dir + "/lib/rangepost.db", ""},
		{here.Replace(unit[1]), "Copied to"},
		{here.Replace(drill[0][1]), "Restored to " + dir + "/lib/drill.db: 1 student, 1 session, 20 balls, all of it whole"},
		{here.Replace(drill[1][1]), ""},
		{here.Replace(drill[2][1]), ""}, // the broken one out of the way
		{here.Replace(drill[3][1]), "Restored to " + dir + "/lib/rangepost.db"},
		{here.Replace(drill[4][1]), ""}, // the way back from an upgrade, by the backup's name
		{strings.Replace(here.Replace(drill[5][1]), "NAME.db", `"$(ls -t `+dir+`/backups | head -n 1)"`, 1), "Restored to " + dir + "/lib/rangepost.db"},
	} {
		out, err := e.command(ctx, c.line).CombinedOutput()
		if err != nil || !strings.Contains(string(out), c.want) {
			t.Errorf("%s: %v, want %q\n%s", c.line, err, c.want, out)
		}
	}
}

// Every command of the README with the binary's name is one it takes, with those
// flags.
func TestReadmeCommandsParse(t *testing.T) {
	data, err := os.ReadFile("../../README.md")
	if err != nil {
		t.Fatal(err)
	}
	command := regexp.MustCompile(`(?:^|[ /])rangepost ((?:serve|check|invite|backup|restore|copy|read|plan|demo|version)\b[^'\n>]*)`)
	n := 0
	for line := range strings.Lines(string(data)) {
		if !strings.HasPrefix(line, "    ") {
			continue
		}
		for _, m := range command.FindAllStringSubmatch(line, -1) {
			args := arguments(m[1])
			var cli commands
			parser, err := kong.New(&cli, kong.Name("rangepost"), kong.Exit(func(int) {}), kong.Writers(&bytes.Buffer{}, &bytes.Buffer{}), kong.BindTo(t.Context(), (*context.Context)(nil)), kong.Bind(streams{}))
			if err != nil {
				t.Fatal(err)
			}
			if slices.Contains(args, "restore") { // it wants the file there
				args[1] = "evening_test.go"
			}
			if _, err := parser.Parse(args); err != nil && !strings.Contains(err.Error(), "no such file") {
				t.Errorf("%s: %v", strings.TrimSpace(line), err)
			}
			n++
		}
	}
	if n < 9 {
		t.Errorf("only %d commands were found", n)
	}
}

var argument = regexp.MustCompile(`"([^"]*)"|(\S+)`)

// arguments are the words of a command line.
func arguments(line string) (args []string) {
	for _, m := range argument.FindAllStringSubmatch(line, -1) {
		args = append(args, cmp.Or(m[1], m[2]))
	}
	return args
}
