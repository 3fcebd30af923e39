package shapes

import (
	"math/rand/v2"
	"strings"

	"rangepost/analysis"
)

// A Shape is a session as it might be handed over, with its truth.
type Shape struct {
	Seed      uint64
	I         int    // its place: Make(Seed, I, ...) makes it again
	Format    string // "csv", "aligned", "xlsx", "json", "paste", "typed"
	Separator string // of "csv" and "paste": ",", ";", "\t", "|", "  "
	Encoding  string // "utf-8", "utf-8-bom", "utf-16le", "utf-16be", "windows-1252", "shift_jis", "euc-kr"
	Packed    string // "", "gz", "zip"
	Name      string // of the file, "" for a message
	Data      []byte // the file, or the text of the message
	Truth     Truth
}

// Shapes makes n files, the tiers in turn, all three if none is named. The
// same seed gives the same shapes, whatever n.
func Shapes(seed uint64, n int, tiers ...Tier) []Shape {
	return each(seed, n, tiers, Make)
}

// Pastes makes n messages with a pasted table of up to 2,000 characters.
func Pastes(seed uint64, n int, tiers ...Tier) []Shape {
	return each(seed, n, tiers, MakePaste)
}

func each(seed uint64, n int, tiers []Tier, make1 func(uint64, int, Tier) Shape) []Shape {
	if len(tiers) == 0 {
		tiers = []Tier{Ordinary, Unseen, Wordless}
	}
	out := make([]Shape, n)
	for i := range out {
		out[i] = make1(seed, i, tiers[i%len(tiers)])
	}
	return out
}

func source(seed uint64, i int, kind uint64) *rand.Rand {
	return rand.New(rand.NewPCG(seed^kind*0x9e3779b97f4a7c15, uint64(i)))
}

// Make makes file i of a seed. The languages come in turn.
func Make(seed uint64, i int, tier Tier) Shape {
	r := source(seed, i, 1)
	l := languages[r.IntN(len(languages))]
	s := Shape{Seed: seed, I: i, Format: "csv", Encoding: "utf-8"}
	switch p := r.Float64(); {
	case p < 0.66:
		s.delimited(r, l, tier)
	case p < 0.72:
		s.aligned(r, l, tier)
	case p < 0.87:
		s.xlsx(r, l, tier)
	default:
		s.json(r, l, tier)
	}
	if s.Format != "xlsx" && chance(r, 0.06) {
		s.Packed = pick(r, []string{"gz", "zip"})
		s.Data, s.Name = pack(s.Data, s.Name, s.Packed)
	}
	return s
}

func (s *Shape) delimited(r *rand.Rand, l *language, tier Tier) {
	usual := []rune{',', ',', ',', ',', ';', '\t', '|'}
	if l.comma {
		usual = []rune{';', ';', ';', ',', ',', '\t', '\t', '|'}
	}
	comma := pick(r, usual)
	o := options{tier: tier, comma: comma != ',' || chance(r, 0.15)}
	tab, truth := makeTable(r, l, o)
	text := newDelimited(r, comma).write(tab.rows())
	s.Separator = string(comma)
	s.Name = pick(r, []string{"session.csv", "session.csv", "export.csv", "session.txt"})
	if comma == '\t' {
		s.Name = pick(r, []string{"session.tsv", "session.txt", "session.csv"})
	}
	s.Data, s.Encoding = encode(text, l.pickEncoding(r))
	s.Truth = truth
}

func (s *Shape) aligned(r *rand.Rand, l *language, tier Tier) {
	tab, truth := makeTable(r, l, options{tier: tier, comma: true, noGrouped: true})
	s.Format, s.Separator, s.Name = "aligned", "  ", "session.txt"
	s.Data, s.Encoding = encode(aligned(tab.rows(), chance(r, 0.5)), l.pickEncoding(r))
	oneSpace(&truth)
	s.Truth = truth
}

// oneSpace makes the truth's headings those of a text in which two spaces
// part the cells.
func oneSpace(t *Truth) {
	for i := range t.Columns {
		t.Columns[i].Heading = strings.Join(strings.Fields(t.Columns[i].Heading), " ")
	}
}

// Values is number n of every ball that has it and is no misreading.
func (t *Truth) Values(n analysis.Number) []float64 {
	var out []float64
	for _, s := range t.Shots {
		if v, ok := s.Values[n]; ok && !s.Misread {
			out = append(out, v)
		}
	}
	return out
}
