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
	if store.IsServer(path) {
		return checkServer(ctx, path)
	}
	out := []discord.Finding{checkFolder(filepath.Dir(path))}
	if !out[0].OK {
		return out
	}
	made := ""
	if _, err := os.Stat(path); errors.Is(err, fs.ErrNotExist) {
		made = " It was made just now; if the bot has one already, name it with RANGEPOST_DB or --db."
	}
	db, err := store.Open(ctx, path)
	if err != nil {
		f := discord.Finding{What: "Database", Say: fmt.Sprintf("%s cannot be opened: %v.", path, err)}
		if errors.Is(err, fs.ErrPermission) {
			f.Mend = asOwner(path)
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
		h.Path, h.Schema, words.Count(h.Students, "student"), words.Count(h.Sessions, "session"), words.Count(h.Shots, "ball"), words.Count(h.Open, "request")) + made})
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
	switch {
	case errors.Is(err, fs.ErrPermission):
		return discord.Finding{What: what, Say: fmt.Sprintf("This user may not make or enter %s.", dir), Mend: asOwner(dir)}
	case err != nil:
		return discord.Finding{What: what, Say: fmt.Sprintf("%v.", err), Mend: "name another --db"}
	case !info.IsDir():
		return discord.Finding{What: what, Say: dir + " is no folder.", Mend: "name another --db"}
	}
	if mine := ownerOf(info) == os.Geteuid(); !mine && (os.Geteuid() == 0 || syscall.Access(dir, mayAll) != nil) {
		return discord.Finding{What: what, Say: dir + " is another user's: what is made in it has to be theirs.", Mend: asOwner(dir)}
	}
	if info.Mode()&0o022 != 0 && info.Mode()&fs.ModeSticky == 0 {
		return discord.Finding{What: what, Say: "Others on this machine can put files into " + dir + ", in place of the database too.", Mend: "chmod 700 " + shellQuoted(dir)}
	}
	return discord.Finding{What: what, OK: true, Say: dir + made + "."}
}

// mayAll is reading, writing and entering (access(2)).
const mayAll = 7

// asOwner is the command for what belongs to another user: to run this as them,
// whom the bot runs as, or, where it is root's, to have it. Giving the service's
// own files to whoever checks would stop the service.
func asOwner(path string) string {
	at := path
	info, err := os.Stat(at)
	for err != nil && at != filepath.Dir(at) { // what cannot be seen is in a folder that is somebody's
		at = filepath.Dir(at)
		info, err = os.Stat(at)
	}
	if owner := ownerOf(info); owner != 0 && owner != os.Geteuid() {
		return "sudo -u " + userName(owner) + " --preserve-env=RANGEPOST_TOKEN_FILE,RANGEPOST_DB " + strings.Join(os.Args, " ")
	}
	if info, err := os.Stat(path); err == nil && !info.IsDir() {
		return "sudo chown $(id -un) " + shellQuoted(path)
	}
	return "sudo install -d -m 700 -o $(id -un) " + shellQuoted(path)
}

func ownerOf(info fs.FileInfo) int {
	if info != nil {
		if s, ok := info.Sys().(*syscall.Stat_t); ok {
			return int(s.Uid)
		}
	}
	return os.Geteuid()
}

func userName(id int) string {
	if u, err := user.LookupId(strconv.Itoa(id)); err == nil {
		return u.Username
	}
	return "'#" + strconv.Itoa(id) + "'"
}
