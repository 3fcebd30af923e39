package sessionfile

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"errors"
	"io"
	"slices"
	"strings"

	"rangepost/analysis"
)

// The most a compressed file may grow to: a hundredfold, but at least a MiB so
// that a short session of equal rows is let in, and at most 64 MiB. What is
// inside must then still be a file of ordinary size.
const (
	maxGrowth   = 100
	leastGrowth = 1 << 20
	maxUnpacked = 64 << 20
)

// openFile looks at the first bytes, never at the name, and reads the tables
// in the file: one, or several sheets or lists.
func openFile(data []byte) ([]grid, *analysis.Refusal) {
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte("PK\x05\x06")) {
		if isWorkbook(data) {
			return readWorkbook(data)
		}
		inner, refusal := unzip(data)
		if refusal != nil {
			return nil, refusal
		}
		return openInner(inner)
	}
	if bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		inner, refusal := gunzip(data)
		if refusal != nil {
			return nil, refusal
		}
		return openInner(inner)
	}
	return openPlain(data)
}

// openInner reads what was packed: a text file, JSON or a workbook, but no
// further archive.
func openInner(data []byte) ([]grid, *analysis.Refusal) {
	if isWorkbook(data) {
		return readWorkbook(data)
	}
	if bytes.HasPrefix(data, []byte("PK\x03\x04")) || bytes.HasPrefix(data, []byte{0x1f, 0x8b}) {
		return nil, refuse("nested_archive", "Unpack it and post the file inside.", "This is an archive inside an archive.")
	}
	return openPlain(data)
}

func openPlain(data []byte) ([]grid, *analysis.Refusal) {
	if what := foreign(data); what != "" {
		return nil, refuse("wrong_type", "Export the session as CSV, XLSX or JSON.", "This is %s, not a table of shots.", what)
	}
	if t := bytes.TrimLeft(bytes.TrimPrefix(data, []byte("\xef\xbb\xbf")), " \t\r\n"); len(t) > 0 && (t[0] == '{' || t[0] == '[') {
		return readJSON(t, bytes.Count(data[:len(data)-len(t)], []byte{'\n'}))
	}
	g, refusal := readText(data)
	return []grid{g}, refusal
}

// foreign names what a file is when its first bytes say it is none of ours.
func foreign(data []byte) string {
	for _, f := range []struct{ magic, what string }{
		{"\xd0\xcf\x11\xe0\xa1\xb1\x1a\xe1", "an old binary spreadsheet or document"},
		{"%PDF", "a PDF"},
		{"\x89PNG", "a picture"}, {"\xff\xd8\xff", "a picture"}, {"GIF8", "a picture"}, {"RIFF", "a picture or sound"},
		{"\x00\x00\x00", "a video or picture"}, {"SQLite format 3", "a database"},
		{"Rar!", "a RAR archive"}, {"7z\xbc\xaf", "a 7z archive"}, {"BZh", "a bzip2 archive"}, {"\xfd7zXZ", "an xz archive"},
		{"\x28\xb5\x2f\xfd", "a zstandard archive"}, {"{\\rtf", "a text document"}, {"\x7fELF", "a program"}, {"MZ", "a program"},
	} {
		if bytes.HasPrefix(data, []byte(f.magic)) {
			return f.what
		}
	}
	if t := strings.ToLower(string(bytes.TrimSpace(data[:min(len(data), 256)]))); strings.HasPrefix(t, "<!doctype html") || strings.HasPrefix(t, "<html") || strings.HasPrefix(t, "<?xml") || strings.HasPrefix(t, "<table") {
		return "a web page or XML document"
	}
	return ""
}

func damaged(kind string) *analysis.Refusal {
	return refuse("damaged", "Export the session again and post the new file.", "This %s is damaged or cut short.", kind)
}

func bomb() *analysis.Refusal {
	return refuse("bomb", "Post the file unpacked.", "The file unpacks to far more than a session could be.")
}

// unpackLimit is how far n packed bytes may grow.
func unpackLimit(n int) int64 {
	return int64(min(max(n*maxGrowth, leastGrowth), maxUnpacked))
}

// unpack reads all of r within the limits.
func unpack(r io.Reader, packed int, kind string) ([]byte, *analysis.Refusal) {
	limit := unpackLimit(packed)
	var out bytes.Buffer
	n, err := io.Copy(&out, io.LimitReader(r, min(limit, maxBytes)+1))
	switch {
	case n > limit:
		return nil, bomb()
	case n > maxBytes:
		// Find out which it is without keeping what is read.
		if more, _ := io.Copy(io.Discard, io.LimitReader(r, limit-n+1)); n+more > limit {
			return nil, bomb()
		}
		return nil, refuse("too_large", "Split it: one session a file.", "The file inside is larger than %d MiB.", maxBytes>>20)
	case err != nil:
		return nil, damaged(kind)
	}
	return out.Bytes(), nil
}

func gunzip(data []byte) ([]byte, *analysis.Refusal) {
	r, err := gzip.NewReader(bytes.NewReader(data))
	if err != nil {
		return nil, damaged("gzip file")
	}
	return unpack(r, len(data), "gzip file")
}

// unzip unpacks the one file in an archive, not counting what operating
// systems leave beside it.
func unzip(data []byte) ([]byte, *analysis.Refusal) {
	r, err := zip.NewReader(bytes.NewReader(data), int64(len(data)))
	if err != nil {
		return nil, damaged("zip archive")
	}
	files := slices.DeleteFunc(slices.Clone(r.File), func(f *zip.File) bool {
		return strings.HasSuffix(f.Name, "/") || strings.HasPrefix(f.Name, ".") || strings.Contains(f.Name, "/.") || strings.HasPrefix(f.Name, "__")
	})
	if len(files) != 1 {
		return nil, refuse("many_files", "Post them one by one, each unpacked.", "The archive holds %d files; it should hold one session.", len(files))
	}
	f, err := files[0].Open()
	if errors.Is(err, zip.ErrAlgorithm) {
		return nil, refuse("wrong_type", "Post the file unpacked.", "The archive is encrypted or packed in an unusual way.")
	}
	if err != nil {
		return nil, damaged("zip archive")
	}
	defer f.Close()
	return unpack(f, len(data), "zip archive")
}
