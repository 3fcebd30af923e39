package sessionfile

import (
	"bytes"
	"unicode/utf8"

	"rangepost/analysis"

	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/unicode"
)

// decodings lists how the bytes of a text file may be meant. A byte order mark
// or valid UTF-8 leaves no choice; otherwise every candidate stays, and the one
// whose header is understood best is taken (the first, if none is better).
func decodings(data []byte) ([]encoding.Encoding, *analysis.Refusal) {
	switch {
	case bytes.HasPrefix(data, []byte{0xff, 0xfe}), bytes.HasPrefix(data, []byte{0xfe, 0xff}):
		return []encoding.Encoding{unicode.UTF16(unicode.LittleEndian, unicode.ExpectBOM)}, nil
	case bytes.HasPrefix(data, []byte{0xef, 0xbb, 0xbf}):
		return []encoding.Encoding{unicode.UTF8BOM}, checkNUL(data)
	}
	// UTF-16 without a mark: text in a European script has a NUL in every
	// other byte, nearly always on the same side.
	head := data[:min(len(data), 4096)&^1]
	var even, odd int
	for i := 0; i+1 < len(head); i += 2 {
		if head[i] == 0 {
			even++
		}
		if head[i+1] == 0 {
			odd++
		}
	}
	switch half := len(head) / 2; {
	case half >= 4 && odd > half*7/10 && even == 0:
		return []encoding.Encoding{unicode.UTF16(unicode.LittleEndian, unicode.IgnoreBOM)}, nil
	case half >= 4 && even > half*7/10 && odd == 0:
		return []encoding.Encoding{unicode.UTF16(unicode.BigEndian, unicode.IgnoreBOM)}, nil
	}
	if err := checkNUL(data); err != nil {
		return nil, err
	}
	if utf8.Valid(data) {
		return []encoding.Encoding{encoding.Nop}, nil
	}
	return []encoding.Encoding{charmap.Windows1252, japanese.ShiftJIS, korean.EUCKR, charmap.Macintosh}, nil
}

func checkNUL(data []byte) *analysis.Refusal {
	at := bytes.IndexByte(data, 0)
	if at < 0 {
		return nil
	}
	row := 1 + bytes.Count(data[:at], []byte{'\n'})
	return refuse("nul_bytes", "Export the session again, as CSV, XLSX or JSON.",
		"There is a NUL byte in the text, so this is no text file or it was damaged on its way.").At(row, "")
}

// decode turns data into UTF-8 with a line feed at the end of every line.
func decode(data []byte, e encoding.Encoding) ([]byte, *analysis.Refusal) {
	text := data
	if e != encoding.Nop {
		var err error
		if text, err = e.NewDecoder().Bytes(data); err != nil {
			return nil, refuse("encoding", "Export the session again with the encoding UTF-8.", "The characters of this text file cannot be made out.")
		}
	}
	if bytes.IndexByte(text, '\n') < 0 { // line ends of the oldest kind
		text = bytes.ReplaceAll(text, []byte{'\r'}, []byte{'\n'})
	}
	return text, nil
}
