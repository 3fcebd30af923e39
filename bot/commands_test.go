package bot_test

import (
	"flag"
	"os"
	"regexp"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"rangepost/analysis"
	"rangepost/bot"
	"rangepost/bot/words"
	"rangepost/store"
	"rangepost/store/pgtest"
)

var update = flag.Bool("update", false, "write the README's table of commands anew")

// The platform's limits on what is declared to it: 32 characters of name, 100
// of description, 25 options, 25 choices; required options first.
func TestCommandsFitThePlatform(t *testing.T) {
	name := regexp.MustCompile(`^[a-z][a-z-]{0,31}$`)
	var check func(c bot.Command)
	check = func(c bot.Command) {
		if n := len([]rune(c.Summary)); n == 0 || n > 100 {
			t.Errorf("%s: a summary of %d characters", c.Name, n)
		}
		if !c.OnFile && !name.MatchString(c.Name) {
			t.Errorf("%s: not a name the platform takes", c.Name)
		}
		if (c.Run == nil) == (len(c.Subs) == 0) {
			t.Errorf("%s: a command either runs or has subcommands", c.Name)
		}
		if len(c.Options) > 25 || len(c.Subs) > 25 {
			t.Errorf("%s: more than 25 options", c.Name)
		}
		optional := false
		for _, o := range c.Options {
			if !name.MatchString(o.Name) || len([]rune(o.Summary)) > 100 || o.Summary == "" {
				t.Errorf("%s %s: name or summary does not fit", c.Name, o.Name)
			}
			if len(o.Choices) > 25 {
				t.Errorf("%s %s: %d choices", c.Name, o.Name, len(o.Choices))
			}
			if o.Complete && c.Complete == nil {
				t.Errorf("%s %s: nothing completes it", c.Name, o.Name)
			}
			if o.Required && optional {
				t.Errorf("%s %s: required after an optional one", c.Name, o.Name)
			}
			optional = optional || !o.Required
		}
		for _, sub := range c.Subs {
			check(sub)
		}
	}
	seen := map[string]bool{}
	for _, c := range bot.Commands() {
		if seen[c.Name] {
			t.Errorf("%s is there twice", c.Name)
		}
		seen[c.Name] = true
		check(c)
	}
}

var who = map[bot.Who]string{bot.Anyone: "", bot.Coach: "coaches", bot.Host: "coaches and server managers", bot.Manager: "server managers"}

func readmeTable() string {
	var b strings.Builder
	b.WriteString("| command | options | does | who |\n| --- | --- | --- | --- |\n")
	for _, l := range bot.Listing() {
		b.WriteString("| " + l.Usage + " | " + l.Options + " | " + l.Summary + " | " + who[l.Who] + " |\n")
	}
	return b.String()
}

// The README's table of commands is the list in commands.go.
func TestREADMEHasTheCommands(t *testing.T) {
	const file = "../README.md"
	data, err := os.ReadFile(file)
	if err != nil {
		t.Fatal(err)
	}
	begin := regexp.MustCompile(`(?m)^<!-- commands: .*-->\n`).FindStringIndex(string(data))
	end := strings.Index(string(data), "<!-- /commands -->")
	if begin == nil || end < begin[1] {
		t.Fatal("README.md has lost the marks around its table of commands")
	}
	if *update {
		text := string(data[:begin[1]]) + readmeTable() + string(data[end:])
		if err := os.WriteFile(file, []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
		return
	}
	if diff := cmp.Diff(readmeTable(), string(data[begin[1]:end])); diff != "" {
		t.Errorf("run `go test ./bot -run README -update`:\n%s", diff)
	}
}

// The help reply fits a phone with its cautions, whoever asks, and speaks of
// every command when asked.
func TestHelpFits(t *testing.T) {
	db, err := store.Open(t.Context(), pgtest.Path(t, ""))
	if err != nil {
		t.Fatal(err)
	}
	defer db.Close()
	if err := db.SetClubhouse(t.Context(), store.Clubhouse{Server: "1", CoachRole: "2", Units: analysis.Units{Distance: analysis.Yards, Speed: analysis.MilesPerHour}}); err != nil {
		t.Fatal(err)
	}
	b, err := bot.New(t.Context(), bot.Config{DB: db})
	if err != nil {
		t.Fatal(err)
	}
	everything := bot.Request{Kind: bot.CommandRequest, Server: "1", Command: "help", Manager: true, Roles: []string{"2"}}
	reply := b.Handle(t.Context(), everything)
	if n := len([]rune(reply.Text)); n > bot.MaxText || !strings.HasSuffix(reply.Text, words.RangeRules) {
		t.Errorf("help of %d characters does not end with the range's rules: %q", n, reply.Text)
	}
	for _, l := range bot.Listing() {
		command, sub, _ := strings.Cut(l.Usage, " ")
		if !strings.Contains(reply.Text, l.Usage) && !regexp.MustCompile(regexp.QuoteMeta(command)+" [a-z]+`(, `[a-z]+`)*, `"+sub).MatchString(reply.Text) {
			t.Errorf("help leaves %s out", l.Usage)
		}
		one := everything
		one.Options = map[string]string{"command": strings.Trim(l.Usage, "/`*")}
		if said := b.Handle(t.Context(), one); !strings.Contains(said.Text, l.Summary) || len([]rune(said.Text)) > bot.MaxText {
			t.Errorf("help on %s: %q", l.Usage, said.Text)
		}
	}
}
