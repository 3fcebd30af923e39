package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"slices"
	"strings"

	"rangepost/bot/discord"
)

// botToken reads the bot's token from the file or the variable that has it.
func botToken() (string, error) {
	if file := os.Getenv("RANGEPOST_TOKEN_FILE"); file != "" {
		data, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("reading the token: %w; rangepost check says what to do", err)
		}
		t := strings.TrimSpace(string(data))
		if why := noToken(t); why != "" {
			return "", fmt.Errorf("%s %s; rangepost check says what to do", file, why)
		}
		return t, nil
	}
	if t := strings.TrimSpace(os.Getenv("RANGEPOST_TOKEN")); t != "" {
		if why := noToken(t); why != "" {
			return "", fmt.Errorf("RANGEPOST_TOKEN %s; rangepost check says what to do", why)
		}
		return t, nil
	}
	return "", errors.New("there is no bot token: name the file that holds it in RANGEPOST_TOKEN_FILE, or put it into RANGEPOST_TOKEN")
}

// noToken says why a text is no bot's token, as far as one sees that without asking the
// platform, "" where it may be one: three parts with dots between them (Discord
// documentation, "Reference: Authentication", by its example [M]). What is copied
// instead has none: the application's id, its public key, its client secret.
func noToken(t string) string {
	parts := slices.DeleteFunc(strings.Split(t, "."), func(p string) bool { return p == "" })
	switch {
	case t == "":
		return "is empty"
	case strings.ContainsAny(t, " \t\r\n\"'"):
		return "has more in it than a token"
	case len(parts) != 3:
		return fmt.Sprintf("holds no bot token: a token has three parts with dots between them, and this has %d", len(parts))
	}
	return ""
}

// others are the permissions of a file for anybody but its owner.
const others = 0o077

// checkToken looks at where the token is kept: whoever has it is the bot.
func checkToken() []discord.Finding {
	const what = "Token file"
	file := os.Getenv("RANGEPOST_TOKEN_FILE")
	make := fmt.Sprintf("(umask 077; cat > %s), then paste the token, and press Enter and Ctrl-D", shellQuoted(file))
	info, err := os.Stat(file)
	inEnvironment := strings.TrimSpace(os.Getenv("RANGEPOST_TOKEN"))
	switch {
	case file == "" && inEnvironment != "" && noToken(inEnvironment) != "":
		return []discord.Finding{{What: what, Say: "RANGEPOST_TOKEN " + noToken(inEnvironment) + ".", Mend: "export RANGEPOST_TOKEN_FILE=~/rangepost/token, and check again"}}
	case file == "" && inEnvironment != "":
		return []discord.Finding{{What: what, OK: true, Say: "The token is in the environment, which other programs of this user can read; a file is better."}}
	case file == "":
		return []discord.Finding{{What: what, Say: "RANGEPOST_TOKEN_FILE names no file.", Mend: "export RANGEPOST_TOKEN_FILE=~/rangepost/token"}}
	case errors.Is(err, fs.ErrNotExist):
		return []discord.Finding{{What: what, Say: file + " is not there.", Mend: make}}
	case err != nil:
		return []discord.Finding{{What: what, Say: fmt.Sprintf("%v.", err), Mend: asOwner(file)}}
	case info.IsDir():
		return []discord.Finding{{What: what, Say: file + " is a folder.", Mend: "export RANGEPOST_TOKEN_FILE=" + shellQuoted(file+"/token")}}
	}
	data, err := os.ReadFile(file)
	switch why := noToken(strings.TrimSpace(string(data))); {
	case errors.Is(err, fs.ErrPermission):
		return []discord.Finding{{What: what, Say: "This user cannot read " + file + ".", Mend: asOwner(file)}}
	case why != "":
		return []discord.Finding{{What: what, Say: file + " " + why + ".", Mend: make}}
	case info.Mode()&others != 0 && !underSystemd(file):
		return []discord.Finding{{What: what, Say: "Others on this machine can read " + file + ", and whoever has the token is the bot.", Mend: "chmod 600 " + shellQuoted(file)}}
	}
	return []discord.Finding{{What: what, OK: true, Say: file + ", for its owner alone."}}
}

// underSystemd reports whether a file is one that systemd hands to its service,
// in a folder that the service alone reads (systemd.exec(5), LoadCredential).
func underSystemd(file string) bool {
	dir := os.Getenv("CREDENTIALS_DIRECTORY")
	return dir != "" && strings.HasPrefix(file, dir+"/")
}

// shellQuoted is a path as a shell takes it.
func shellQuoted(path string) string {
	if !strings.ContainsAny(path, " '\"$&|;<>()*?`\\!#~") {
		return path
	}
	return "'" + strings.ReplaceAll(path, "'", `'\''`) + "'"
}
