package words_test

import (
	"flag"
	"fmt"
	"math"
	"regexp"
	"sort"
	"strconv"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/panel"
	"rangepost/analysis/pattern"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
)

var (
	replies     = flag.Int("replies", 120, "replies over the panel that are checked against the truth of their session; 1000 is the full run")
	repliesSeed = flag.Uint64("replies-seed", 20261126, "their seed")
	repliesLook = flag.Int("replies-look", 0, "how many of them to print")
)

// reply is what a golfer reads of one session, and what is true of it.
type reply struct {
	c     panel.Case
	truth panel.Truth
	file  []analysis.Shot
	said  cause.Result
	lines []string
}

func replyTo(c panel.Case) reply {
	session, truth := c.Play()
	for i, s := range session.Shots {
		session.Shots[i] = s.Derived()
	}
	config := cause.Config{Hand: session.Hand, Ball: session.Ball, Conditions: session.Conditions}
	set := pattern.Mishits(cause.Fill(session.Sets()[0], config))
	p := pattern.Of(set)
	r := cause.Of(set, p, config)
	v := words.Voice{Hand: session.Hand, Plain: true}
	lines := []string{v.Cause("", p, r), v.Split(r), v.WorkBack(r), v.Title(p, r), v.Needs(r)}
	lines = append(lines, v.Explain(set.Shots, p, r)...)
	lines = append(lines, v.Caveats(p.Warnings, r.Warnings)...)
	must, may := v.First("", p, r, timeline.Past{})
	lines = append(append(lines, must...), may...)
	return reply{c, truth, session.Shots, r, lines}
}

// claims counts the claims of one sort that replies made, and which are wrong.
type claims struct {
	made  map[string]int
	wrong map[string][]string
}

func (c *claims) check(sort string, right bool, r reply, line string) {
	c.made[sort]++
	if !right {
		c.wrong[sort] = append(c.wrong[sort], fmt.Sprintf("%s: %q", r.c, line))
	}
}

// What replies say, as the design has them said: sides as the golfer sees them,
// a figure with its unit, limits in brackets behind it.
var (
	saysSide       = regexp.MustCompile(`finished about [\d,]+ yards? (left|right)`)
	saysFace       = regexp.MustCompile(`face pointed ([\d.]+)° (left|right) of target`)
	saysPath       = regexp.MustCompile(`path went ([\d.]+)° (left|right) of target`)
	saysStrike     = regexp.MustCompile(`toward the (toe|heel)`)
	saysChange     = regexp.MustCompile(`the (face|path) about ([\d.]+)° further (left|right)(?: \(([^)]*)\))?`)
	saysLimits     = regexp.MustCompile(`^(?:under )?([\d.]+) to ([\d.]+)°$`)
	saysAim        = regexp.MustCompile(`aiming about ([\d.]+)° further (left|right)`)
	saysTool       = regexp.MustCompile(`(?:Worth a labelled trial: |Next: try )(a stronger grip|a weaker grip|aiming further left|aiming further right|the ball further forward|the ball further back)`)
	saysYards      = regexp.MustCompile(`(face|path) ([\d,]+)(?: (left|right))? \(([\d,]+)(?: (left|right))? to ([\d,]+)(?: (left|right))?\)`)
	saysMean       = regexp.MustCompile(`(?i)(face|path) (?:[\d.]+° (left|right) of target|square to the target|straight at the target) \((?:between )?(?:under |at most )?([\d.]+)°?(?: (left|right))?(?: (?:to|and) ([\d.]+)°(?: (left|right))?)?\)`)
	saysSure       = regexp.MustCompile(`^How sure: .* in (?:about )?(\d+)(?: or more)? of 100`)
	saysCorridor   = regexp.MustCompile(`target ([\d,]+) yards wide\): at this path, a face between ([\d.]+)°?(?: (left|right))? and ([\d.]+)° (left|right)`)
	saysOfRest     = regexp.MustCompile(`^Of the rest, the strike speaks for ([\d,]+) yards? (left|right)`)
	saysPerhaps    = regexp.MustCompile(`because the (face|path) .*; the (?:face|path) may (have a share in it|be off with it)`)
	saysRest       = regexp.MustCompile(`(?:not by face or path: they leave|: the rest,) [\d,]+ yards? (left|right)(?: over|, is)`)
	saysPart       = regexp.MustCompile(`only a part of that is the face \([\d,]+ yards? (left|right)\)`)
	saysPathPart   = regexp.MustCompile(`only a part of that is .*the path \([\d,]+ yards? (left|right)\)`)
	saysLeaning    = regexp.MustCompile(`the face is worth [\d,]+ yards? (left|right), the path [\d,]+ yards? (left|right)`)
	saysBoth       = regexp.MustCompile(`face and path both pointed about [\d.]+° (left|right) of target`)
	saysBring      = regexp.MustCompile(`Next: the (face|path) further (left|right)`)
	saysOnLine     = regexp.MustCompile(`^On line: the middle of the balls is on target`)
	saysBent       = regexp.MustCompile(`bent|bends the ball|curves the ball (left|right)`)
	saysCannotTell = regexp.MustCompile(`(?i)the (face|path)[a-z ]* cannot be told(?: yet)?[.,;:]`) // not "Ball by ball ... cannot be told (58 balls)"
)

func sign(side string) float64 {
	if side == "left" {
		return -1
	}
	return 1
}

func number(s string) float64 {
	v, _ := strconv.ParseFloat(strings.ReplaceAll(s, ",", ""), 64)
	return v
}

// onSide are two figures with their sides as limits, positive to the right; a
// figure without a side is on the other's, or on the one that was said before.
func onSide(first, firstSide, second, secondSide, before string) (low, high float64) {
	if secondSide == "" {
		secondSide = before
	}
	if firstSide == "" {
		firstSide = secondSide
	}
	a, b := sign(firstSide)*number(first), sign(secondSide)*number(second)
	return min(a, b), max(a, b)
}

// verdicts are the sentences that name a cause, and the label that makes each true.
var verdicts = map[string]panel.Label{
	"Check alignment first": panel.Aim, "because the face pointed": panel.Face, "because the path went": panel.Path,
	"two things share it": panel.FaceAndPath, "most of it from the strike": panel.Strike, "not by face or path": panel.Unexplained,
	"only a part of that is": panel.Unexplained, "Centred": panel.Centred,
}

// checkVerdict reads the sentence of the cause and how sure it is said to be.
func checkVerdict(r reply, c *claims, sure *sureness) {
	cause := r.lines[0]
	c.check("two patterns", !strings.HasPrefix(cause, "Two patterns"), r, cause)
	right, named := false, false
	for says, label := range verdicts {
		if !strings.Contains(cause, says) {
			continue
		}
		named, right = true, r.truth.Label == label
		if m := saysPerhaps.FindStringSubmatch(cause); m != nil {
			right = right || r.truth.Label == panel.FaceAndPath && m[2] != "be off with it" || r.truth.Label == panel.Aim && m[2] == "be off with it"
		} else {
			c.check("verdict: "+says, right, r, cause)
			c.check("a verdict is the one owed", right, r, cause)
		}
	}
	for _, line := range r.lines {
		if m := saysSure.FindStringSubmatch(line); m != nil && named {
			sure.add(number(m[1]), right)
		}
	}
}

// sureness is how often verdicts said to be right in so many of 100 are.
type sureness struct {
	said  [4]float64
	all   [4]int
	right [4]int
}

var sureFrom = [4]float64{0, 80, 90, 97}

func (s *sureness) add(of100 float64, right bool) {
	k := 0
	for k < 3 && of100 >= sureFrom[k+1] {
		k++
	}
	s.said[k] += of100
	s.all[k]++
	if right {
		s.right[k]++
	}
}

// checkFlown flies what a reply says would find the target in the session's world.
func checkFlown(r reply, c *claims) {
	d := r.truth.LongRunMean
	lateral := func(face, path float64) float64 {
		by := d
		by.Face, by.Path = face, path
		_, f := r.c.World.Hit(r.c.Club, r.c.Hand, by, r.truth.Wind)
		return f.Lateral / analysis.Yard
	}
	before := lateral(d.Face, d.Path)
	for _, line := range r.lines {
		if m := saysCorridor.FindStringSubmatch(line); m != nil {
			low, high := onSide(m[2], m[3], m[4], m[5], "")
			c.check("the corridor's middle finds the target", math.Abs(lateral((low+high)/2*analysis.Degree, d.Path)) <= number(m[1])/2, r, line)
		}
		if m := saysAim.FindStringSubmatch(line); m != nil {
			by := sign(m[2]) * number(m[1]) * analysis.Degree
			c.check("another aim brings the balls nearer", math.Abs(lateral(d.Face+by, d.Path+by)) < math.Abs(before), r, line)
		}
		if !strings.HasPrefix(line, "To bring the middle back: ") || math.Abs(before) < 3 {
			continue
		}
		face, path := d.Face, d.Path
		for _, m := range saysChange.FindAllStringSubmatch(line, -1) {
			if by := sign(m[3]) * number(m[2]) * analysis.Degree; m[1] == "face" {
				face += by
			} else {
				path += by
			}
		}
		c.check("a correction brings the balls nearer", math.Abs(lateral(face, path)) < math.Abs(before), r, line)
	}
}

// checkReply reads every sentence of a reply against the truth of its session.
// Where the truth itself is next to nothing, a side says nothing and is not
// checked.
func checkReply(r reply, c *claims, held map[string]*[2]int) {
	d, truth := r.truth.LongRunMean, r.truth
	deg := func(rad float64) float64 { return rad / analysis.Degree }
	golfers := r.c.Hand.Mirror()
	agrees := func(v, side, least float64) bool { return math.Abs(v) < least || v*side > 0 }
	measured, column := strikeColumn(r.file)
	for _, line := range r.lines {
		for _, m := range saysSide.FindAllStringSubmatch(line, -1) {
			c.check("side of the miss", agrees(truth.Sample.Miss, sign(m[1]), 2), r, line)
		}
		for _, m := range saysFace.FindAllStringSubmatch(line, -1) {
			c.check("side of the face", agrees(deg(d.Face), sign(m[2]), 0.7), r, line)
		}
		for _, m := range saysPath.FindAllStringSubmatch(line, -1) {
			c.check("side of the path", agrees(deg(d.Path), sign(m[2]), 0.7), r, line)
		}
		if strings.Contains(line, "most of it from the strike") {
			for _, m := range saysStrike.FindAllStringSubmatch(line, -1) {
				side := 1.0
				if m[1] == "heel" {
					side = -1
				}
				if column {
					c.check("side of the strike, against the file", agrees(measured, side, 0), r, line)
				}
				c.check("side of the strike, against the truth", agrees(1000*d.StrikeToe, side, 2), r, line)
			}
		}
		for _, m := range saysPerhaps.FindAllStringSubmatch(line, -1) {
			other := panel.FaceAndPath
			if m[2] == "be off with it" {
				other = panel.Aim
			}
			c.check("one of the two left open", truth.Label == panel.Label(m[1]) || truth.Label == other, r, line)
		}
		for _, m := range saysRest.FindAllStringSubmatch(line, -1) {
			c.check("side of the rest", agrees(truth.Sample.Miss-truth.Sample.Face-truth.Sample.Path, sign(m[1]), 2), r, line)
		}
		for _, m := range saysPart.FindAllStringSubmatch(line, -1) {
			c.check("side of the face's part", agrees(truth.Sample.Face, sign(m[1]), 2), r, line)
		}
		for _, m := range saysPathPart.FindAllStringSubmatch(line, -1) {
			c.check("side of the path's part", agrees(truth.Sample.Path, sign(m[1]), 2), r, line)
		}
		faces, _ := analysis.Values(r.file, analysis.Face)
		c.check("what was measured is not said to be missing", len(faces) == 0 || !strings.Contains(line, "hat the club did was not measured"), r, line)
		c.check("nothing is said to bend", !strings.Contains(line, "bent") && !strings.Contains(line, "bends the ball"), r, line)
		for _, m := range saysBent.FindAllStringSubmatch(line, -1) {
			if m[1] != "" {
				c.check("side of the curve", agrees(truth.Curve, sign(m[1]), 3), r, line)
			}
		}
		for _, m := range saysChange.FindAllStringSubmatch(line, -1) {
			by, side, off, alone := number(m[2]), sign(m[3]), d.Face, truth.FaceAlone
			if m[1] == "path" {
				off, alone = d.Path, truth.PathAlone
			}
			single := m[4] != ""
			if single && !math.IsNaN(alone) {
				c.check("direction of a correction", agrees(deg(alone), side, 1), r, line)
			}
			c.check("a correction goes toward the target", agrees(deg(off), -side, 0.7), r, line)
			l := saysLimits.FindStringSubmatch(m[4])
			if single {
				if l == nil {
					c.check("limits of a correction keep to one side", false, r, line)
					continue
				}
				low, high := number(l[1]), number(l[2])
				c.check("a correction lies in its limits", low <= by && by <= high, r, line)
				// A tenth of a degree is shown while limits are within a degree of
				// the middle; each is rounded outward by up to a tenth.
				c.check("a correction's digits are its limits'", high-low < 2.2 || by == math.Round(by), r, line)
				c.check("limits of a correction can be used", high <= 20 && high-low <= by+6, r, line)
				h := held[m[1]]
				h[1]++
				if v := deg(alone) * side; !math.IsNaN(alone) && low-0.05 <= v && v <= high+0.05 {
					h[0]++
				}
			}
		}
		for _, m := range saysBoth.FindAllStringSubmatch(line, -1) {
			c.check("side of an aim", agrees(deg(d.Face+d.Path)/2, sign(m[1]), 0.7), r, line)
		}
		for _, m := range saysBring.FindAllStringSubmatch(line, -1) {
			off := d.Face
			if m[1] == "path" {
				off = d.Path
			}
			c.check("what comes next goes toward the target", agrees(deg(off), -sign(m[2]), 0.7), r, line)
		}
		if saysOnLine.MatchString(line) {
			c.check("on line", math.Abs(truth.Sample.Miss) < 6, r, line)
		}
		for _, m := range saysAim.FindAllStringSubmatch(line, -1) {
			c.check("direction of an aim", agrees(deg(d.Face+d.Path)/2, -sign(m[2]), 0.7), r, line)
		}
		for _, m := range saysTool.FindAllStringSubmatch(line, -1) {
			// What the trade expects of each: grip and ball by the golfer's hand, aim
			// by the target.
			ok := true
			switch m[1] {
			case "a stronger grip":
				ok = agrees(golfers*deg(d.Face), 1, 0.7)
			case "a weaker grip":
				ok = agrees(golfers*deg(d.Face), -1, 0.7)
			case "the ball further forward":
				ok = agrees(golfers*deg(d.Path), 1, 0.7)
			case "the ball further back":
				ok = agrees(golfers*deg(d.Path), -1, 0.7)
			case "aiming further left":
				ok = agrees(deg(d.Face), 1, 0.7) && agrees(deg(d.Path), 1, 0.7)
			case "aiming further right":
				ok = agrees(deg(d.Face), -1, 0.7) && agrees(deg(d.Path), -1, 0.7)
			}
			c.check("tool for the hand", ok, r, line)
		}
		for _, m := range saysYards.FindAllStringSubmatch(line, -1) {
			v := truth.LongRun.Face
			if m[1] == "path" {
				v = truth.LongRun.Path
			}
			low, high := onSide(m[4], m[5], m[6], m[7], m[3])
			mean := sign(m[3]) * number(m[2])
			c.check("yards lie in their limits", low <= mean && mean <= high, r, line)
			h := held["yards of "+m[1]]
			h[1]++
			if v /= analysis.Yard; low-0.5 <= v && v <= high+0.5 {
				h[0]++
			}
		}
		for _, m := range saysMean.FindAllStringSubmatch(line, -1) {
			v := deg(d.Face)
			if strings.EqualFold(m[1], "path") {
				v = deg(d.Path)
			}
			first, second := m[3], m[5]
			if second == "" { // "at most"
				first, second = "0", m[3]
			}
			low, high := onSide(first, m[4], second, m[6], m[2])
			h := held["degrees of "+strings.ToLower(m[1])]
			h[1]++
			if low-0.05 <= v && v <= high+0.05 {
				h[0]++
			}
		}
		if m := saysOfRest.FindStringSubmatch(line); m != nil && number(m[1]) >= 2 {
			c.check("side of the strike's yards", agrees(truth.LongRun.Strike/analysis.Yard, sign(m[2]), 2), r, line)
		}
		for _, m := range saysLeaning.FindAllStringSubmatch(line, -1) {
			c.check("numbers that lean", agrees(truth.LongRun.Face, sign(m[1]), 2) && agrees(truth.LongRun.Path, sign(m[2]), 2), r, line)
		}
		c.check("no cause that cannot be told", !(strings.Contains(line, "because the path") && saysCannotTell.MatchString(strings.Join(r.lines, " "))), r, line)
	}
}

// strikeColumn is the mean of the file's own column of strikes, m.
func strikeColumn(shots []analysis.Shot) (mean float64, ok bool) {
	v, _ := analysis.Values(shots, analysis.StrikeToe)
	for _, x := range v {
		mean += x / float64(len(v))
	}
	return mean, len(v) > 0
}

// TestReplies checks what replies over the panel say, sentence by sentence,
// against the truth of their sessions. A verdict is right 19 times of 20, so a
// claim that hangs on it may be wrong that often; what a program can know (the
// file's own column, a figure in its limits, digits, the golfer's hand) never.
func TestReplies(t *testing.T) {
	c := claims{map[string]int{}, map[string][]string{}}
	kinds := []string{"face", "path", "yards of face", "yards of path", "degrees of face", "degrees of path"}
	held := map[string]*[2]int{}
	for _, k := range kinds {
		held[k] = &[2]int{}
	}
	var sure sureness
	for i, k := range panel.Cases(*repliesSeed, *replies) {
		r := replyTo(k)
		checkReply(r, &c, held)
		checkVerdict(r, &c, &sure)
		checkFlown(r, &c)
		if i < *repliesLook {
			t.Logf("%s\nowed %s\n%s", k, r.truth.Label, strings.Join(r.lines, "\n"))
		}
	}
	never := map[string]bool{
		"side of the strike, against the file": true, "nothing is said to bend": true, "a correction lies in its limits": true,
		"a correction's digits are its limits'": true, "limits of a correction can be used": true, "yards lie in their limits": true,
		"limits of a correction keep to one side": true, "what was measured is not said to be missing": true, "no cause that cannot be told": true,
	}
	var sorts []string
	for s := range c.made {
		sorts = append(sorts, s)
	}
	sort.Strings(sorts)
	for _, s := range sorts {
		wrong := c.wrong[s]
		t.Logf("%-42s %5d made, %d wrong", s, c.made[s], len(wrong))
		most := c.made[s]/20 + 1
		if never[s] {
			most = 0
		}
		if strings.HasPrefix(s, "verdict: ") {
			continue // held all together: the border of one is another's
		}
		if len(wrong) > most {
			t.Errorf("%s: %d of %d wrong, first %s", s, len(wrong), c.made[s], wrong[0])
		}
	}
	for k, n := range sure.all {
		if n == 0 {
			continue
		}
		said, right := sure.said[k]/float64(n)/100, float64(sure.right[k])/float64(n)
		t.Logf("said to be right in %.1f of 100: %d of %d, %.1f %%", 100*said, sure.right[k], n, 100*right)
		if right < sureFrom[k]/100-2*math.Sqrt(said*(1-said)/float64(n))-0.01 {
			t.Errorf("said to be right in %.1f of 100 and right in %d of %d", 100*said, sure.right[k], n)
		}
	}
	for _, s := range kinds {
		h := held[s]
		t.Logf("limits said of %s hold the truth in %d of %d", s, h[0], h[1])
		if float64(h[0]) < 0.88*float64(h[1])-2 {
			t.Errorf("limits said of %s hold the truth in %d of %d", s, h[0], h[1])
		}
	}
}
