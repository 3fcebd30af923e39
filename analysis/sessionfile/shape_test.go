package sessionfile

import (
	"archive/zip"
	"bytes"
	"compress/gzip"
	"encoding/csv"
	"encoding/json"
	"fmt"
	"maps"
	"math"
	"math/rand/v2"
	"slices"
	"strconv"
	"strings"

	"github.com/xuri/excelize/v2"
	"golang.org/x/text/encoding"
	"golang.org/x/text/encoding/charmap"
	"golang.org/x/text/encoding/japanese"
	"golang.org/x/text/encoding/korean"
	"golang.org/x/text/encoding/unicode"

	"rangepost/analysis"
)

// A shape is one way of writing the known session down.
type shape struct {
	hand      analysis.Hand
	language  int              // into wordings
	strange   bool             // or into strangeWordings
	headings  map[field]string // instead of both
	container string
	encoding  string
	separator rune
	comma     bool // decimal comma
	thousands string
	units     map[dimension]string
	apexFeet  bool
	unitPlace string // bracket, row, suffix, value, none
	preamble  int
	fields    []field           // columns, in order
	extra     int               // columns nobody knows
	signs     map[field]float64 // what a plus means, +1 right of target
	letters   map[field]bool    // written with side letters instead
	faceLoose bool              // the face column holds face-to-path under a bare name
	summary   string            // "", named, unnamed
	blanks    bool
	repeat    bool // header again in the middle
	answers   map[string]string
	shots     int
}

func (s shape) String() string {
	var signs []string
	for _, f := range sideways {
		if s.signs[f] < 0 {
			signs = append(signs, "-"+f.key())
		}
	}
	return fmt.Sprintf("%s %s sep %q lang %d units %s hand %s comma %v thousands %q summary %q left %v letters %v loose %v answers %v shots %d",
		s.container, s.encoding, s.separator, s.language, s.unitPlace, s.hand, s.comma, s.thousands, s.summary, signs, s.letters, s.faceLoose, s.answers, s.shots)
}

func pick[T any](rng *rand.Rand, of ...T) T { return of[rng.IntN(len(of))] }

// drawShape samples over everything a file can vary in. What no reader could
// tell is left out: a file mirrored as a whole, and a convention most columns
// break, come with the answer their owner gave.
func drawShape(rng *rand.Rand) shape {
	s := shape{
		language:  rng.IntN(len(wordings)),
		container: pick(rng, "csv", "csv", "csv", "csv", "xlsx", "json", "zip", "gz"),
		separator: pick(rng, ',', ';', '\t', '|'),
		units: map[dimension]string{
			speed: pick(rng, "mph", "m/s", "km/h"), length: pick(rng, "yd", "m"), angle: "deg", rate: "rpm", duration: "s",
		},
		apexFeet:  rng.IntN(3) == 0,
		unitPlace: pick(rng, "bracket", "bracket", "row", "suffix", "value"),
		preamble:  rng.IntN(4),
		extra:     rng.IntN(4),
		signs:     map[field]float64{},
		letters:   map[field]bool{},
		summary:   pick(rng, "", "named", "unnamed"),
		blanks:    rng.IntN(3) == 0,
		repeat:    rng.IntN(6) == 0,
		answers:   map[string]string{},
		shots:     pick(rng, 12, 20, 40, 60),
	}
	s.comma = s.separator != ',' && rng.IntN(2) == 0
	if rng.IntN(3) == 0 {
		s.thousands = map[bool]string{true: ".", false: ","}[s.comma]
		if rng.IntN(3) == 0 {
			s.thousands = pick(rng, " ", "\u00a0", "'")
		}
	}
	s.encoding = pick(rng, "utf-8", "utf-8", "utf-8 bom", "utf-16le", "utf-16be", "local")
	if s.container == "xlsx" || s.container == "json" {
		s.comma, s.thousands, s.encoding = false, "", "utf-8"
	}
	if rng.IntN(33) == 0 {
		s.unitPlace = "none"
	}

	all := []field{clubField, labelField, shotField, timeField, clubSpeed, attack, path, face, faceToPath, dynamicLoft,
		ballSpeed, smash, launch, direction, spin, spinAxis, carry, total, lateral, lateralTotal, apex, descent, flightTime, strikeToe, strikeUp}
	core := []field{path, face, direction, spinAxis, lateral, carry}
	for _, f := range all {
		if slices.Contains(core, f) && rng.IntN(14) > 0 || !slices.Contains(core, f) && rng.IntN(3) > 0 {
			s.fields = append(s.fields, f)
		}
	}
	if len(s.fields) == 0 || !slices.ContainsFunc(s.fields, func(f field) bool { return !f.text() && f != shotField }) {
		s.fields = append(s.fields, carry)
	}
	if s.has(spinAxis) && s.has(spin) && rng.IntN(6) == 0 { // as its two parts instead
		for i, f := range s.fields {
			switch f {
			case spin:
				s.fields[i] = backSpin
			case spinAxis:
				s.fields[i] = sideSpin
			}
		}
	}
	rng.Shuffle(len(s.fields), func(i, j int) { s.fields[i], s.fields[j] = s.fields[j], s.fields[i] })

	for _, f := range append(slices.Clone(sideways), sideSpin) {
		s.signs[f] = 1
	}
	// Most devices write every column alike; some turn one, a few two.
	for range flipsOf[rng.IntN(len(flipsOf))] {
		f := pick(rng, path, face, spinAxis, lateral, direction, faceToPath)
		s.signs[f] = -1
		if f == spinAxis {
			s.signs[sideSpin] = -1
		}
		if f == lateral {
			s.signs[lateralTotal] = -1
		}
	}
	// Three turned of five are, but for the mirror, two turned of five: only
	// asking tells them apart.
	if five := []field{path, face, spinAxis, lateral, direction}; s.hasAll(five) && rng.IntN(60) == 0 {
		for _, f := range append(slices.Clone(sideways), sideSpin) {
			s.signs[f] = 1
		}
		rng.Shuffle(len(five), func(i, j int) { five[i], five[j] = five[j], five[i] })
		for _, f := range five[:3] {
			s.signs[f] = -1
		}
		s.signs[lateralTotal] = s.signs[lateral]
	}
	if rng.IntN(8) == 0 {
		for _, f := range sideways {
			if rng.IntN(2) == 0 {
				s.letters[f] = true
			}
		}
	}
	if s.has(path) && s.has(face) && !s.has(faceToPath) && s.has(direction) && rng.IntN(12) == 0 {
		s.faceLoose = true
	}
	// One golfer in eight is left-handed, and a header is new once: of five of
	// their files four come after the question was answered.
	switch rng.IntN(40) {
	case 0: // a left-hander's first file: must be asked
		s.hand = analysis.LeftHanded
		if rng.IntN(2) == 0 {
			s.mirror()
		}
	case 1, 2, 3, 4: // the same, asked before
		s.hand = analysis.LeftHanded
		if rng.IntN(2) == 0 {
			s.mirror()
		}
		s.answer()
	case 5: // a right-hander with a device of the other persuasion
		s.mirror()
		s.answer()
	}
	return s
}

func (s *shape) has(f field) bool { return slices.Contains(s.fields, f) }

func (s *shape) hasAll(fs []field) bool {
	return !slices.ContainsFunc(fs, func(f field) bool { return !s.has(f) })
}

// plusses reports whether some sideways number leaves its side to a sign, and
// none beside it tells it in letters.
func (s *shape) plusses() bool {
	letters := slices.ContainsFunc(s.fields, func(f field) bool { return s.letters[f] })
	return !letters && slices.ContainsFunc(s.fields, func(f field) bool { return f.sideways() && f != sideSpin })
}

func (s *shape) mirror() {
	for f := range s.signs {
		s.signs[f] = -s.signs[f]
	}
}

// answer is the golfer answering, truly, what the reader asked of this header:
// once where every column counts alike, else column by column.
func (s *shape) answer() {
	said := map[string]string{}
	for _, f := range append(slices.Clone(sideways), sideSpin) {
		key := f
		switch {
		case f == spinAxis && s.has(sideSpin), f == sideSpin && !s.has(sideSpin):
			continue
		case f == sideSpin:
			key = spinAxis
		}
		switch {
		case s.signs[f] > 0:
			said["signs:"+key.key()] = signTarget
		case s.hand == analysis.LeftHanded:
			said["signs:"+key.key()] = signGolfer
		default:
			said["signs:"+key.key()] = signTargetLeft
		}
	}
	s.answers = said
	if values := slices.Compact(slices.Sorted(maps.Values(said))); len(values) == 1 {
		s.answers = map[string]string{"signs": values[0]}
	}
}

// unit is the unit the shape writes field f in.
func (s shape) unit(f field) unit {
	switch {
	case f == strikeToe || f == strikeUp:
		return unitNamed("mm", length)
	case f == apex && s.apexFeet:
		return unitNamed("ft", length)
	case f.dimension() == ratio:
		return unitNamed("", ratio)
	}
	return unitNamed(s.units[f.dimension()], f.dimension())
}

func digits(f field) int {
	switch f {
	case spin, backSpin, sideSpin:
		return 0
	case smash, flightTime:
		return 2
	}
	return 1
}

// value is field f of a shot in SI, right of target.
func (s shape) value(shot analysis.Shot, f field) (float64, bool) {
	rpm, _ := shot.Value(analysis.Spin)
	axis, ok := shot.Value(analysis.SpinAxis)
	switch f {
	case backSpin:
		return rpm * math.Cos(axis), ok
	case sideSpin:
		return rpm * math.Sin(axis), ok
	case face:
		if s.faceLoose {
			f = faceToPath
		}
	}
	n, ok := f.number()
	if !ok {
		return 0, false
	}
	v, ok := shot.Derived().Value(n)
	return v, ok
}

// written is that value as the shape writes it, rounded.
func (s shape) written(shot analysis.Shot, f field) (v float64, ok bool) {
	v, ok = s.value(shot, f)
	if sign, turned := s.signs[f]; turned && !s.letters[f] {
		v *= sign
	}
	v /= s.unit(f).scale
	p := math.Pow(10, float64(digits(f)))
	return math.Round(v*p) / p, ok
}

func (s shape) format(f field, v float64) string {
	text := strconv.FormatFloat(math.Abs(v), 'f', digits(f), 64)
	if whole, rest, _ := strings.Cut(text, "."); s.thousands != "" && len(whole) == 4 {
		text = whole[:1] + "\x00" + whole[1:]
		if rest != "" {
			text += "." + rest
		}
	}
	if s.comma {
		text = strings.Replace(text, ".", ",", 1)
	}
	text = strings.Replace(text, "\x00", s.thousands, 1)
	switch {
	case s.letters[f] && v > 0:
		text += " " + sideLetters[s.language][0]
	case s.letters[f] && v < 0:
		text = sideLetters[s.language][1] + " " + text
	case v < 0:
		text = "-" + text
	}
	if s.unitPlace == "value" && s.unit(f).name != "" {
		text += " " + s.unit(f).name
	}
	return text
}

func (s shape) words() map[field]string {
	if s.headings != nil {
		return s.headings
	}
	if s.strange {
		return strangeWordings[s.language]
	}
	return wordings[s.language]
}

// under is the shape with other headings.
func (s shape) under(headings map[field]string) shape {
	s.headings = headings
	return s
}

// cells writes the session as rows of text, numbers as float64 where the
// container has numbers.
func (s shape) cells(rng *rand.Rand, shots []analysis.Shot) [][]any {
	var rows [][]any
	width := len(s.fields) + s.extra
	for i := range s.preamble {
		rows = append(rows, []any{fmt.Sprintf("Saltmarsh Links line %d", i)})
	}
	header, unitRow := make([]any, width), make([]any, width)
	for i, f := range s.fields {
		h := s.words()[f]
		u := s.unit(f).name
		if f == shotField {
			u = ""
		}
		if u != "" {
			switch s.unitPlace {
			case "bracket":
				h += pick(rng, " (", " [", "(") + u + ")"
			case "row":
				unitRow[i] = u
			case "suffix":
				h += pick(rng, " ", "_") + u
			}
		}
		header[i] = h
	}
	for i := range s.extra {
		header[len(s.fields)+i] = fmt.Sprintf("Zeta %c", 'A'+i)
	}
	rows = append(rows, header)
	if s.unitPlace == "row" {
		rows = append(rows, unitRow)
	}
	line := func(shot analysis.Shot, stat string) []any {
		r := make([]any, width)
		for i, f := range s.fields {
			switch f {
			case clubField:
				r[i] = clubWordings[s.language][0]
				if shot.Club.Family == analysis.Iron {
					r[i] = clubWordings[s.language][1]
				}
				if stat != "" {
					r[i] = ""
				}
			case labelField:
				r[i] = shot.Label
			case shotField:
				r[i] = strconv.Itoa(shot.N)
				if stat != "" {
					r[i] = ""
				}
			case timeField:
				r[i] = fmt.Sprintf("2026-05-%02d 10:%02d:00", 1+shot.N/60, shot.N%60)
				if stat != "" {
					r[i] = ""
				}
			default:
				v, ok := s.written(shot, f)
				if stat != "" {
					v, ok = s.mean(shots, f)
				}
				switch {
				case !ok:
					r[i] = ""
				case (s.container == "json" || s.container == "xlsx") && !s.letters[f] && s.unitPlace != "value":
					r[i] = v
				default:
					r[i] = s.format(f, v)
				}
			}
		}
		for i := range s.extra {
			r[len(s.fields)+i] = pick(rng, "x", "", "12", "ok 7")
		}
		if stat == "named" {
			word := meanWords[s.language]
			at := slices.IndexFunc(s.fields, func(f field) bool { return f == shotField || f == clubField || f == timeField })
			if at < 0 {
				at = width
				r = append(r, "")
			}
			r[at] = word
		}
		return r
	}
	for i, shot := range shots {
		if s.blanks && i == len(shots)/3 {
			rows = append(rows, make([]any, width))
		}
		if s.repeat && i == len(shots)/2 {
			rows = append(rows, header)
		}
		rows = append(rows, line(shot, ""))
	}
	if s.summary != "" && (s.summary == "named" && slices.ContainsFunc(s.fields, func(f field) bool { return f == shotField || f == clubField || f == timeField }) || s.summary == "unnamed") {
		rows = append(rows, line(analysis.Shot{}, s.summary))
	}
	return rows
}

// mean is the mean of a column as written.
func (s shape) mean(shots []analysis.Shot, f field) (float64, bool) {
	sum, n := 0.0, 0
	for _, shot := range shots {
		if v, ok := s.written(shot, f); ok {
			sum += v
			n++
		}
	}
	if n == 0 {
		return 0, false
	}
	p := math.Pow(10, float64(digits(f)))
	return math.Round(sum/float64(n)*p) / p, true
}

// bytes writes the file.
func (s shape) bytes(rng *rand.Rand, shots []analysis.Shot) (name string, data []byte) {
	rows := s.cells(rng, shots)
	switch s.container {
	case "xlsx":
		return "session.xlsx", writeXLSX(rows)
	case "json":
		return "session.json", s.writeJSON(rng, rows)
	}
	var text bytes.Buffer
	w := csv.NewWriter(&text)
	w.Comma = s.separator
	w.UseCRLF = rng.IntN(2) == 0
	for _, r := range rows {
		cells := make([]string, len(r))
		for i, c := range r {
			if c != nil {
				cells[i] = fmt.Sprint(c)
			}
		}
		if err := w.Write(cells); err != nil {
			panic(err)
		}
	}
	w.Flush()
	data, err := s.encoder().NewEncoder().Bytes(text.Bytes())
	if err != nil { // a letter the encoding lacks
		data = text.Bytes()
	}
	switch s.container {
	case "zip":
		var b bytes.Buffer
		z := zip.NewWriter(&b)
		f, _ := z.Create("export/session.csv")
		f.Write(data)
		z.Close()
		return "session.zip", b.Bytes()
	case "gz":
		var b bytes.Buffer
		z := gzip.NewWriter(&b)
		z.Write(data)
		z.Close()
		return "session.csv.gz", b.Bytes()
	}
	return "session.csv", data
}

func (s shape) encoder() encoding.Encoding {
	switch s.encoding {
	case "utf-8 bom":
		return unicode.UTF8BOM
	case "utf-16le":
		return unicode.UTF16(unicode.LittleEndian, unicode.UseBOM)
	case "utf-16be":
		return unicode.UTF16(unicode.BigEndian, unicode.UseBOM)
	case "local":
		switch s.language {
		case 8:
			return japanese.ShiftJIS
		case 9:
			return korean.EUCKR
		}
		return charmap.Windows1252
	}
	return encoding.Nop
}

func writeXLSX(rows [][]any) []byte {
	f := excelize.NewFile()
	for i, r := range rows {
		if err := f.SetSheetRow("Sheet1", fmt.Sprintf("A%d", i+1), &r); err != nil {
			panic(err)
		}
	}
	b, err := f.WriteToBuffer()
	if err != nil {
		panic(err)
	}
	return b.Bytes()
}

// writeJSON writes the rows under the header as objects, bare or in a holder,
// some of them with one level of nesting.
func (s shape) writeJSON(rng *rand.Rand, rows [][]any) []byte {
	header := rows[s.preamble]
	var shots []map[string]any
	for _, r := range rows[s.preamble+1:] {
		o := map[string]any{}
		for i, c := range r {
			if c == nil || i >= len(header) {
				continue
			}
			o[fmt.Sprint(header[i])] = c
		}
		if len(o) > 0 {
			shots = append(shots, o)
		}
	}
	var top any = shots
	if rng.IntN(2) == 0 {
		top = map[string]any{"place": "Saltmarsh Links", "session": map[string]any{"shots": shots, "version": 2}}
	}
	b, err := json.Marshal(top)
	if err != nil {
		panic(err)
	}
	return b
}

// flipsOf is how many columns a device turns against the rest: 16 in 25 none,
// 8 one, 1 two. No register of devices exists, so this is a guess; turning two
// is what must be asked about.
var flipsOf = slices.Concat(make([]int, 16), slices.Repeat([]int{1}, 8), []int{2})
