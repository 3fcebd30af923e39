package main

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"os/user"
	"path/filepath"
	"strconv"
	"strings"
	"syscall"

	"rangepost/bot/discord"
	"rangepost/bot/words"
	"rangepost/store"
)

// checkDatabase looks at the folder of the database, makes it if it is missing,
// and then at the database. What is wrong with the folder would only be worse
// with a database in it.
func checkDatabase(ctx context.Context, path string) []discord.Finding {
	out := []discord.Finding{checkFolder(filepath.Dir(path))}
	if !out[0].OK {
		return out
	}
	db, err := store.Open(ctx, path)
	if err != nil {
		f := discord.Finding{What: "Database", Say: fmt.Sprintf("%s cannot be opened: %v.", path, err)}
		if errors.Is(err, fs.ErrPermission) {
			f.Mend = "sudo chown $(id -un) " + shellQuoted(path) + "*"
		}
		return append(out, f)
	}
	defer db.Close()
	h, err := db.Check(ctx)
	if err != nil {
		return append(out, discord.Finding{What: "Database", Say: fmt.Sprintf("%v.", err), Mend: "rangepost restore BACKUP --db NEW-FILE"})
	}
	for _, file := range []string{path, path + "-wal", path + "-shm", path + ".lock"} {
		if info, err := os.Stat(file); err == nil && info.Mode()&others != 0 {
			return append(out, discord.Finding{What: "Database", Say: "Others on this machine can read " + file + ".", Mend: "chmod 600 " + shellQuoted(path) + "*"})
		}
	}
	return append(out, discord.Finding{What: "Database", OK: true, Say: fmt.Sprintf(
		"%s, schema %d, undamaged and writable, for its owner alone; %s, %s, %s, %s unanswered.",
		h.Path, h.Schema, words.Count(h.Students, "student"), words.Count(h.Sessions, "session"), words.Count(h.Shots, "ball"), words.Count(h.Open, "request"))})
}

// checkFolder looks at a folder, which is made if it is missing.
func checkFolder(dir string) discord.Finding {
	const what = "Folder"
	made := ""
	info, err := os.Stat(dir)
	if errors.Is(err, fs.ErrNotExist) {
		made = ", made just now"
		if err = os.MkdirAll(dir, 0o700); err == nil {
			info, err = os.Stat(dir)
		}
	}
	install := fmt.Sprintf("sudo install -d -m 700 -o $(id -un) %s", shellQuoted(dir))
	switch {
	case errors.Is(err, fs.ErrPermission):
		return discord.Finding{What: what, Say: fmt.Sprintf("This user may not make or enter %s.", dir), Mend: install}
	case err != nil:
		return discord.Finding{What: what, Say: fmt.Sprintf("%v.", err), Mend: "name another --db"}
	case !info.IsDir():
		return discord.Finding{What: what, Say: dir + " is no folder.", Mend: "name another --db"}
	}
	if owner := ownerOf(info); os.Geteuid() == 0 && owner != 0 {
		return discord.Finding{
			What: what, Say: fmt.Sprintf("%s belongs to another user, and what root makes in it they could not write.", dir),
			Mend: "sudo -u " + userName(owner) + " --preserve-env=RANGEPOST_TOKEN_FILE " + strings.Join(os.Args, " "),
		}
	}
	if info.Mode()&0o022 != 0 && info.Mode()&fs.ModeSticky == 0 {
		return discord.Finding{What: what, Say: "Others on this machine can put files into " + dir + ", in place of the database too.", Mend: "chmod 700 " + shellQuoted(dir)}
	}
	return discord.Finding{What: what, OK: true, Say: dir + made + "."}
}

func ownerOf(info fs.FileInfo) int {
	if s, ok := info.Sys().(*syscall.Stat_t); ok {
		return int(s.Uid)
	}
	return os.Geteuid()
}

func userName(id int) string {
	if u, err := user.LookupId(strconv.Itoa(id)); err == nil {
		return u.Username
	}
	return "'#" + strconv.Itoa(id) + "'"
}
