package bot

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/store"
)

// partSize is how much one archive holds before the next begins: the platform
// takes 10 MiB a file.
const partSize = 8 << 20

// runExport is /mine export: everything kept about the asker, as zip archives
// of the files as they were posted, the balls as they were read, and the rest
// as JSON.
func runExport(ctx context.Context, b *Bot, r Request) (Reply, error) {
	part := 1
	if text := r.Options["part"]; text != "" {
		var err error
		if part, err = strconv.Atoi(text); err != nil || part < 1 {
			return Reply{}, analysis.Refuse("The first is 1.", "there is no such part.").Of("part")
		}
	}
	archives := archiver{want: part}
	about, err := b.db.ExportStudent(ctx, r.Server, r.Asker.ID, archives.session)
	if errors.Is(err, store.ErrNotFound) {
		return private("Nothing is kept about you here."), nil
	}
	if err != nil {
		return Reply{}, err
	}
	if err := archives.finish(about); err != nil {
		return Reply{}, err
	}
	if archives.kept == nil {
		return Reply{}, analysis.Refuse(fmt.Sprintf("The last is %d.", archives.part), "there is no such part.").Of("part")
	}
	text := "Everything kept about you: each session's file as you posted it, its balls as they were read (SI units, right of target positive), and everything else as JSON."
	if archives.part > 1 {
		text += fmt.Sprintf(" This is part %d of %d; `/mine export part:%d` has the next.", part, archives.part, part%archives.part+1)
	}
	return Reply{Text: text, Files: []File{{Name: fmt.Sprintf("rangepost-%d.zip", part), Bytes: archives.kept}}}, nil
}

// An archiver packs sessions into archives of partSize and keeps the one
// wanted.
type archiver struct {
	want, part int
	buf        bytes.Buffer
	zip        *zip.Writer
	kept       []byte
}

func (a *archiver) open() {
	if a.zip == nil {
		a.part++
		a.buf.Reset()
		a.zip = zip.NewWriter(&a.buf)
	}
}

func (a *archiver) close() error {
	if a.zip == nil {
		return nil
	}
	if err := a.zip.Close(); err != nil {
		return err
	}
	a.zip = nil
	if a.part == a.want {
		a.kept = bytes.Clone(a.buf.Bytes())
	}
	return nil
}

func (a *archiver) session(s store.Session, raw []byte) error {
	if a.zip != nil && a.buf.Len()+len(raw) > partSize {
		if err := a.close(); err != nil {
			return err
		}
	}
	a.open()
	folder := s.At.Format(dateForm) + "-" + s.ID + "/"
	if err := a.write(folder+"posted-"+safeName(s.Name), raw); err != nil {
		return err
	}
	balls, err := ballsCSV(s.Reading.Session.Shots)
	if err != nil {
		return err
	}
	if err := a.write(folder+"balls.csv", balls); err != nil {
		return err
	}
	s.Reading.Session.Shots = nil // they are in balls.csv
	return a.writeJSON(folder+"session.json", s)
}

func (a *archiver) finish(about store.StudentExport) error {
	a.open()
	if err := a.writeJSON("about-you.json", about); err != nil {
		return err
	}
	return a.close()
}

func (a *archiver) write(name string, data []byte) error {
	w, err := a.zip.Create(name)
	if err != nil {
		return err
	}
	_, err = w.Write(data)
	return err
}

func (a *archiver) writeJSON(name string, v any) error {
	data, err := json.MarshalIndent(v, "", "  ")
	if err != nil {
		return err
	}
	return a.write(name, data)
}

// safeName keeps a posted file's name from leading anywhere when unpacked.
func safeName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '_'
		}
		return r
	}, name)
	return strings.TrimLeft(name, ".")
}

// ballsCSV is the balls of a session, a row each, in the units of --json.
func ballsCSV(shots []analysis.Shot) ([]byte, error) {
	var buf bytes.Buffer
	w := csv.NewWriter(&buf)
	header := []string{"n", "club", "set", "set_aside", "why"}
	for _, n := range analysis.Numbers() {
		header = append(header, n.JSONKey())
	}
	rows := [][]string{append(header, "inferred")}
	for _, s := range shots {
		row := []string{strconv.Itoa(s.N), s.Club.Key(), defused(s.Label), string(s.Aside), defused(s.Why)}
		var inferred []string
		for _, n := range analysis.Numbers() {
			v, ok := s.Value(n)
			if !ok {
				row = append(row, "")
				continue
			}
			row = append(row, strconv.FormatFloat(v/n.JSONScale(), 'g', 8, 64))
			if s.Inferred(n) {
				inferred = append(inferred, n.JSONKey())
			}
		}
		rows = append(rows, append(row, strings.Join(inferred, " ")))
	}
	if err := w.WriteAll(rows); err != nil {
		return nil, err
	}
	return io.ReadAll(&buf)
}

// defused keeps a spreadsheet from taking somebody's text for a formula.
func defused(text string) string {
	if text != "" && strings.ContainsRune("=+-@\t\r", rune(text[0])) {
		return "'" + text
	}
	return text
}
