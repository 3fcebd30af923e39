package record

import (
	"archive/zip"
	"bytes"
	"context"
	"encoding/csv"
	"encoding/json"
	"io"
	"strconv"
	"strings"
	"time"
	"unicode"

	"rangepost/analysis"
	"rangepost/store"
)

// partSize is how much one archive holds before the next begins: the platform
// takes 10 MiB a file.
const partSize = 8 << 20

// Export is everything kept about a student, as zip archives of the files as
// they were posted, the balls as they were read, and the rest as JSON: the
// archive that was asked for, nil if there is none, and how many there are. It
// is store.ErrNotFound for somebody nothing is kept about.
func (rs *Records) Export(ctx context.Context, server, student string, part int) (archive []byte, parts int, err error) {
	archives := archiver{want: part}
	about, err := rs.db.ExportStudent(ctx, server, student, archives.session)
	if err != nil {
		return nil, 0, err
	}
	if err := archives.finish("about-you.json", about); err != nil {
		return nil, 0, err
	}
	return archives.kept, archives.part, nil
}

// ExportNumbers is what a student's coach may take away of them: the balls of
// every session as they were read, and their lessons, briefs and tallies. The
// files as they were posted, where, who else coached them and what they entered
// are the student's own.
func (rs *Records) ExportNumbers(ctx context.Context, b store.Binding, part int) (archive []byte, parts int, err error) {
	archives := archiver{want: part}
	about, err := rs.db.ExportStudent(ctx, b.Server, b.Student, func(s store.Session, _ []byte) error {
		s.PostedBy, s.Channel, s.Message = "", "", ""
		return archives.session(s, nil)
	})
	if err != nil {
		return nil, 0, err
	}
	for i := range about.Lessons {
		if l := &about.Lessons[i]; l.Coach != b.Coach {
			l.Coach = ""
		}
	}
	for i := range about.Briefs {
		if brief := &about.Briefs[i]; brief.Coach != b.Coach {
			brief.Coach = ""
		}
	}
	if err := archives.finish("student.json", map[string]any{
		"Name": about.Student.Name, "Lessons": about.Lessons, "Findings": about.Findings, "Briefs": about.Briefs, "Tallies": about.Tallies,
	}); err != nil {
		return nil, 0, err
	}
	return archives.kept, archives.part, nil
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

// session packs a session, with its file unless raw is nil.
func (a *archiver) session(s store.Session, raw []byte) error {
	if a.zip != nil && a.buf.Len()+len(raw) > partSize {
		if err := a.close(); err != nil {
			return err
		}
	}
	a.open()
	folder := s.At.Format(time.DateOnly) + "-" + s.ID + "/"
	if raw != nil {
		if err := a.write(folder+"posted-"+safeName(s.Name), raw); err != nil {
			return err
		}
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

func (a *archiver) finish(name string, about any) error {
	a.open()
	if err := a.writeJSON(name, about); err != nil {
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

// safeName keeps a posted file's name from leading anywhere when unpacked, and
// from looking like another: marks of direction and what cannot be seen go.
func safeName(name string) string {
	name = strings.Map(func(r rune) rune {
		if r < ' ' || strings.ContainsRune(`/\:*?"<>|`, r) {
			return '_'
		}
		if unicode.In(r, unicode.Cc, unicode.Cf, unicode.Co, unicode.Cs) {
			return -1
		}
		return r
	}, strings.ToValidUTF8(name, "_"))
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
