package shapes

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"math/rand/v2"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	ja "golang.org/x/text/encoding/japanese"
	ko "golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/unicode"
)

var encodings = map[string]encoding.Encoding{
	"utf-8":        encoding.Nop,
	"utf-8-bom":    unicode.UTF8BOM,
	"utf-16le":     unicode.UTF16(unicode.LittleEndian, unicode.UseBOM),
	"utf-16be":     unicode.UTF16(unicode.BigEndian, unicode.UseBOM),
	"windows-1252": charmap.Windows1252,
	"shift_jis":    ja.ShiftJIS,
	"euc-kr":       ko.EUCKR,
}

// encode writes text in the encoding, or in UTF-8 if the encoding lacks a
// letter of it, and says which.
func encode(text, name string) ([]byte, string) {
	out, err := encodings[name].NewEncoder().Bytes([]byte(text))
	if err != nil {
		return []byte(text), "utf-8"
	}
	return out, name
}

// pickEncoding is how files in the language come.
func (l *language) pickEncoding(r *rand.Rand) string {
	switch p := r.Float64(); {
	case p < 0.58:
		return "utf-8"
	case p < 0.74:
		return "utf-8-bom"
	case p < 0.9:
		return l.legacy
	case p < 0.96:
		return "utf-16le"
	}
	return "utf-16be"
}

// pack puts a file into a .gz or a .zip; "" leaves it as it is.
func pack(data []byte, name, how string) ([]byte, string) {
	var b bytes.Buffer
	switch how {
	case "gz":
		w := gzip.NewWriter(&b)
		must(w.Write(data))
		must(0, w.Close())
	case "zip":
		w := zip.NewWriter(&b)
		f, err := w.Create(name)
		must(f, err)
		must(f.Write(data))
		must(0, w.Close())
	default:
		return data, name
	}
	if how == "zip" {
		return b.Bytes(), "session.zip"
	}
	return b.Bytes(), name + ".gz"
}

// must is for writing to memory, which does not fail.
func must[T any](v T, err error) T {
	if err != nil {
		panic(err)
	}
	return v
}
