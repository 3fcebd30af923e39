package main

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"rangepost/bot/discord"
)

// botToken reads the bot's token from the file or the variable that has it.
func botToken() (string, error) {
	if file := os.Getenv("RANGEPOST_TOKEN_FILE"); file != "" {
		data, err := os.ReadFile(file)
		if err != nil {
			return "", fmt.Errorf("reading the token: %w", err)
		}
		return strings.TrimSpace(string(data)), nil
	}
	if t := strings.TrimSpace(os.Getenv("RANGEPOST_TOKEN")); t != "" {
		return t, nil
	}
	return "", errors.New("there is no bot token: name the file that holds it in RANGEPOST_TOKEN_FILE, or put it into RANGEPOST_TOKEN")
}

// others are the permissions of a file for anybody but its owner.
const others = 0o077

// checkToken looks at where the token is kept: whoever has it is the bot.
func checkToken() []discord.Finding {
	const what = "Token file"
	file := os.Getenv("RANGEPOST_TOKEN_FILE")
	make := fmt.Sprintf("(umask 077; cat > %s), then paste the token, and press Enter and Ctrl-D", shellQuoted(file))
	info, err := os.Stat(file)
	switch {
	case file == "" && os.Getenv("RANGEPOST_TOKEN") != "":
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
	token, err := botToken()
	switch {
	case errors.Is(err, fs.ErrPermission):
		return []discord.Finding{{What: what, Say: "This user cannot read " + file + ".", Mend: asOwner(file)}}
	case token == "":
		return []discord.Finding{{What: what, Say: file + " is empty.", Mend: make}}
	case strings.ContainsAny(token, " \t\n\""):
		return []discord.Finding{{What: what, Say: file + " has more in it than a token.", Mend: make}}
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
