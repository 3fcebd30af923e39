package main

import (
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"rangepost/bot"
	"rangepost/bot/discord"
	"rangepost/store"
)

// With the bot running on a stand-in nothing is wrong, and every finding is a
// sentence.
func TestCheck(t *testing.T) {
	p := rehearse(t)
	findings := checkDatabase(p.ctx, filepath.Join(t.TempDir(), "new.db"))
	findings = append(findings, discord.Check(p.ctx, discord.Config{Token: p.st.Token(), Platform: p.st.URL(), Commands: bot.Commands()}, "")...)
	seen := map[string]bool{}
	for _, f := range findings {
		seen[f.What] = true
		// The stage has a calendar of its own, which Check is right to notice.
		if !f.OK && f.What != "Clock" {
			t.Errorf("%s: %s", f.What, f.Say)
		}
		if !strings.HasSuffix(f.Say, ".") {
			t.Errorf("%s: %q is no sentence", f.What, f.Say)
		}
	}
	for _, what := range []string{"Database", "Token", "Clock", "Intents"} {
		if !seen[what] {
			t.Errorf("%s was not looked at", what)
		}
	}
}

func TestCheckOfAServersClock(t *testing.T) {
	for ahead, want := range map[time.Duration]string{
		-4 * time.Millisecond:   "within 10ms of this machine's.",
		1900 * time.Millisecond: "within 1.91s of this machine's.",
		time.Hour:               "It is 1h0m0s ahead of this machine's.",
		-3 * time.Second:        "It is 3s behind this machine's.",
	} {
		f := checkClock(ahead)
		if f.Say != want || f.OK != strings.HasPrefix(want, "within") || f.OK != (f.Mend == "") {
			t.Errorf("%v ahead: %+v, want %q", ahead, f, want)
		}
	}
}

func TestCheckSaysWhatIsWrong(t *testing.T) {
	p := rehearse(t)
	for _, f := range discord.Check(p.ctx, discord.Config{Token: "not.the.token", Platform: p.st.URL()}, "") {
		if f.What == "Token" && !f.OK && strings.Contains(f.Say, "refuses the bot token") {
			return
		}
	}
	t.Error("a wrong token goes unnoticed")
}

// What is wrong on this machine is named with the one command that mends it;
// what can be made is made.
func TestCheckFiles(t *testing.T) {
	dir := t.TempDir()
	at := func(name string) string { return filepath.Join(dir, name) }
	put := func(name, text string, mode os.FileMode) string {
		t.Helper()
		if err := os.WriteFile(at(name), []byte(text), 0o600); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(at(name), mode); err != nil { // whatever the mask is
			t.Fatal(err)
		}
		return at(name)
	}
	folder := func(name string, mode os.FileMode) string {
		t.Helper()
		if err := os.Mkdir(at(name), 0o700); err != nil {
			t.Fatal(err)
		}
		if err := os.Chmod(at(name), mode); err != nil {
			t.Fatal(err)
		}
		return at(name)
	}
	open, err := store.Open(t.Context(), filepath.Join(folder("seen", 0o755), "x.db"))
	if err != nil {
		t.Fatal(err)
	}
	defer open.Close()
	if err := os.Chmod(open.Path(), 0o644); err != nil {
		t.Fatal(err)
	}
	for _, c := range []struct {
		name            string
		db, file        string
		what, say, mend string // mend is "" where nothing is wrong
	}{
		{name: "a folder to be made", db: at("deep/er/x.db"), what: "Folder", say: "er, made just now."},
		{name: "a new database", db: filepath.Join(folder("plain", 0o700), "x.db"), what: "Database", say: "for its owner alone"},
		{name: "a file for a folder", db: filepath.Join(put("file", "", 0o600), "x.db"), what: "Folder", say: "is no folder", mend: "name another --db"},
		{name: "a folder open to all", db: filepath.Join(folder("wide", 0o777), "x.db"), what: "Folder", say: "Others on this machine can put files into", mend: "chmod 700 " + at("wide")},
		{name: "a database that others read", db: open.Path(), what: "Database", say: "Others on this machine can read", mend: "chmod 600 " + open.Path() + "*"},
		{name: "a database that is none", db: put("other.db", "Dear coach", 0o600), what: "Database", say: "cannot be opened"},
		{name: "no token file named", what: "Token file", say: "names no file", mend: "export RANGEPOST_TOKEN_FILE="},
		{name: "a token file that is not there", file: at("a token"), what: "Token file", say: "is not there", mend: "(umask 077; cat > '" + at("a token") + "')"},
		{name: "a token that everybody can read", file: put("open", "a.b.c\n", 0o644), what: "Token file", say: "Others on this machine can read", mend: "chmod 600 " + at("open")},
		{name: "a token of a group", file: put("group", "a.b.c\n", 0o640), what: "Token file", say: "whoever has the token is the bot", mend: "chmod 600 " + at("group")},
		{name: "an empty token file", file: put("empty", "\n", 0o600), what: "Token file", say: "is empty", mend: "paste the token"},
		{name: "a token with its name", file: put("named", "Bot a.b.c\n", 0o600), what: "Token file", say: "more in it than a token", mend: "paste the token"},
		{name: "an id for a token", file: put("id", "1456074443993382912\n", 0o600), what: "Token file", say: "and this has 1.", mend: "paste the token"},
		{name: "a token as it should be", file: put("good", "a.b.c\n", 0o600), what: "Token file", say: "for its owner alone."},
	} {
		t.Run(c.name, func(t *testing.T) {
			t.Setenv("RANGEPOST_TOKEN_FILE", c.file)
			t.Setenv("RANGEPOST_TOKEN", "")
			findings := checkToken()
			if c.db != "" {
				findings = checkDatabase(t.Context(), c.db)
			}
			i := slices.IndexFunc(findings, func(f discord.Finding) bool { return f.What == c.what })
			if i < 0 {
				t.Fatalf("nothing about it in %+v", findings)
			}
			f := findings[i]
			if wrong := c.mend != "" || c.name == "a database that is none"; f.OK == wrong || !strings.Contains(f.Say, c.say) || !strings.Contains(f.Mend, c.mend) {
				t.Errorf("%+v, want %q and %q", f, c.say, c.mend)
			}
		})
	}
	if os.Geteuid() == 0 { // root's files would be in the way of whose folder it is
		if err := os.Chown(folder("theirs", 0o700), 54321, -1); err != nil {
			t.Fatal(err)
		}
		findings := checkDatabase(t.Context(), at("theirs/x.db"))
		if f := findings[0]; len(findings) != 1 || f.OK || !strings.HasPrefix(f.Mend, "sudo -u '#54321' ") {
			t.Errorf("as root: %+v", findings)
		}
		if _, err := os.Stat(at("theirs/x.db")); err == nil {
			t.Error("root made a database in somebody else's folder")
		}
	}
	// A command it names mends what it names it for.
	for _, c := range []struct {
		mend string
		ok   func() bool
	}{
		{"chmod 600 " + at("open"), func() bool { t.Setenv("RANGEPOST_TOKEN_FILE", at("open")); return checkToken()[0].OK }},
		{"chmod 700 " + at("wide"), func() bool { return checkFolder(at("wide")).OK }},
	} {
		if out, err := exec.Command("sh", "-c", c.mend).CombinedOutput(); err != nil || !c.ok() {
			t.Errorf("%s mends nothing: %v %s", c.mend, err, out)
		}
	}
}

// What is no token is said to be none before anybody is asked for it, wherever it is
// kept.
func TestWhatIsNoToken(t *testing.T) {
	for _, c := range []struct{ token, why string }{
		{"1456074443993382912", "and this has 1"},
		{"8c1f0e", "and this has 1"},
		{"MTQ1.GabcdE", "and this has 2"},
		{"MTQ1..x", "and this has 2"},
		{"Bot MTQ1.GabcdE.x", "more in it than a token"},
		{"'MTQ1.GabcdE.x'", "more in it than a token"},
		{"MTQ1.GabcdE.x-y_z", ""},
	} {
		t.Setenv("RANGEPOST_TOKEN_FILE", "")
		t.Setenv("RANGEPOST_TOKEN", c.token)
		_, err := botToken()
		f := checkToken()[0]
		if (err == nil) != (c.why == "") || f.OK != (c.why == "") || err != nil && (!strings.Contains(err.Error(), c.why) || !strings.Contains(f.Say, c.why)) {
			t.Errorf("%q: %v, %+v, want %q", c.token, err, f, c.why)
		}
	}
}
