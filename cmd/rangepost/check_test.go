package main

import (
	"path/filepath"
	"strings"
	"testing"

	"rangepost/bot"
	"rangepost/bot/discord"
)

// With the bot running on a stand-in nothing is wrong, and every finding is a
// sentence.
func TestCheck(t *testing.T) {
	p := rehearse(t)
	c := checkCommand{databaseFlag: databaseFlag{filepath.Join(t.TempDir(), "new.db")}}
	findings := c.database(p.ctx)
	findings = append(findings, discord.Check(p.ctx, discord.Config{Token: p.st.Token(), Platform: p.st.URL(), Commands: bot.Commands()})...)
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

func TestCheckSaysWhatIsWrong(t *testing.T) {
	p := rehearse(t)
	for _, f := range discord.Check(p.ctx, discord.Config{Token: "not.the.token", Platform: p.st.URL()}) {
		if f.What == "Token" && !f.OK && strings.Contains(f.Say, "refuses the bot token") {
			return
		}
	}
	t.Error("a wrong token goes unnoticed")
}
