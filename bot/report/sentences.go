package report

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// lesser is how many of the smaller sets a reply names; the menu has the rest.
const lesser = 3

// First is the first layer of the reply to a posted session, about set i: what
// its sets changed where they were compared, else what happened with set i: what
// must be said and what may be, a line each. tool is the setup that it suggests,
// "" for none.
func (r Report) First(i int, past timeline.Past) (must, may []string, tool analysis.Tool) {
	s := r.Sets[i]
	if r.Asks(i) {
		for j := range r.Sets {
			if r.Sets[j].Club == s.Club {
				must = append(must, r.askedLines(r.Voice, j, true)...)
			}
		}
		return append(must, r.unclear(r.Voice)...), r.controlLines(r.Voice, i, true), ""
	}
	must = r.unclear(r.Voice)
	if t := r.TrialOf(i); t != nil {
		lines := r.Voice.FirstTrial(*t, r.misses(*t))
		lines[0] = headed(r.clubName(r.Voice, s.Club), lines[0])
		if also := r.Voice.AlsoCompared(r.othersCompared(t)); also != "" {
			may = append(may, also)
		}
		return append(lines, must...), may, ""
	}
	name := r.name(r.Voice, s)
	unclear := must
	must, may = r.Voice.First(name, s.Pattern, s.Cause, past)
	must = append(must, unclear...)
	if left := r.Voice.NotJudged(r.Left); left != "" {
		must = append(must, left)
	}
	if l := r.Lone; l != nil && len(l.Clubs) != 1 {
		must = append(must, r.Voice.LoneTarget(l.Carry, l.Clubs))
	}
	if w := s.Cause.WorkBack; w.OK && words.Suggests(s.Cause.Verdict) {
		tool = w.Tool
	}
	return must, may, tool
}

// othersCompared are the clubs of the other trials.
func (r Report) othersCompared(t *trial.Result) (clubs []analysis.Club) {
	for _, other := range r.Trials {
		if club := other.Sets[0].Club; club != t.Sets[0].Club {
			clubs = append(clubs, club)
		}
	}
	return clubs
}

// misses are where the middle of each set of a trial finished, m.
func (r Report) misses(t trial.Result) (all []float64) {
	for _, side := range t.Sets {
		for _, s := range r.Sets {
			if s.Club == side.Club && s.Label == side.Label {
				all = append(all, s.Cause.Miss.Mean)
				break
			}
		}
	}
	return all
}

// Text is the layer of figures of the reply to a posted session, about set i first, in at most limit
// characters: what matters most stands first, so what does not fit is what
// matters least. "" without any set.
func (r Report) Text(i, limit int) string {
	if i < 0 || i >= len(r.Sets) {
		return ""
	}
	return fit(words.Plainly(r.lines(r.Voice, i)), limit)
}

// lines are the sentences of a reply about set i, those that matter most first.
func (r Report) lines(v words.Voice, i int) []string {
	lines := append(r.setLines(v, i), r.leftOut(v)...)
	others := 0
	for j := range r.Sets {
		if j == i {
			continue
		}
		if others++; others > lesser {
			break
		}
		lines = append(lines, r.inShort(v, j)...)
	}
	lines = append(lines, r.sessionLines(v)...)
	return append(lines, r.caveats(v, i)...)
}

// setLines are what is said of set i alone.
func (r Report) setLines(v words.Voice, i int) []string {
	s := r.Sets[i]
	lines := r.askedLines(v, i, false)
	add := func(line string) {
		if line != "" {
			lines = append(lines, line)
		}
	}
	if s.Asked == nil {
		add(v.Cause(r.name(v, s), s.Pattern, s.Cause))
	}
	for _, line := range r.controlLines(v, i, false) {
		add(headed(r.clubName(v, s.Club), line))
	}
	own := func(line string) { add(headed(r.name(v, s), line)) } // of several sets, each line says of which it is
	if s.Asked == nil {
		for _, line := range v.Each(s.Pattern, s.Cause) {
			own(line)
		}
		own(v.Split(s.Cause))
		own(v.WorkBack(s.Cause))
	}
	if s.Brief != nil {
		own(v.Brief(*s.Brief))
	}
	if s.Asked == nil {
		own(v.Carry(s.Cause))
	}
	own(v.Wind(s.Cause))
	own(v.SetAside(s.Shots, s.Pattern))
	if s.Club.Unknown() && r.clubName(v, s.Club) != "" {
		own(words.Clubless(s.Shots))
	}
	return lines
}

// inShort is what a reply about another set says of set i.
func (r Report) inShort(v words.Voice, i int) []string {
	if lines := r.askedLines(v, i, true); lines != nil {
		return lines
	}
	s := r.Sets[i]
	return []string{v.Cause(r.name(v, s), s.Pattern, s.Cause)}
}

// sessionLines are what is said of the session as a whole.
func (r Report) sessionLines(v words.Voice) []string {
	lines := r.unclear(v)
	if l := r.Lone; l != nil {
		lines = append(lines, v.LoneTarget(l.Carry, l.Clubs))
	}
	if len(r.Unhit) > 0 {
		lines = append(lines, words.NotHit(r.Unhit))
	}
	if left := v.NotJudged(r.Left); left != "" {
		lines = append(lines, left)
	}
	for _, n := range r.NoTrial {
		lines = append(lines, headed(r.clubName(v, n.Club), "No comparison: "+n.Why.Error()+" "+n.Why.Hint))
	}
	return append(lines, words.Cautions(len(r.Session.Shots), false)...)
}

// caveats are what somebody who reads about set i should know of its figures.
func (r Report) caveats(v words.Voice, i int) (lines []string) {
	s := r.Sets[i]
	for _, c := range v.Caveats(s.Pattern.Warnings, s.Cause.Warnings) {
		lines = append(lines, headed(r.name(v, s), c))
	}
	return lines
}

// mostLeftOut is how many numbers left out a reply tells one by one; the
// explanation has all.
const mostLeftOut = 2

// leftOut are the sentences about numbers that were not believed.
func (r Report) leftOut(v words.Voice) (lines []string) {
	for i, d := range r.Reading.LeftOut {
		if i == mostLeftOut {
			return append(lines, words.MoreLeftOut(len(r.Reading.LeftOut)-mostLeftOut))
		}
		lines = append(lines, escaped(v, words.Sentence(d))+".")
	}
	return lines
}

// Explain is the long explanation of set i, to be followed line by line, in at
// most limit characters. What does not fit goes into whole, which then has
// every line, free of markup; it is "" when everything fits.
func (r Report) Explain(i, limit int) (text, whole string) {
	lines := words.Plainly(r.explanation(r.Voice, i))
	text = strings.Join(lines, "\n")
	if len([]rune(text)) <= limit {
		return text, ""
	}
	const more = "Every line is in the file below."
	return fit(lines, limit-len(more)-1) + "\n" + more, strings.Join(words.Plainly(r.explanation(r.plain(), i)), "\n") + "\n"
}

func (r Report) explanation(v words.Voice, i int) []string {
	s := r.Sets[i]
	lines := []string{v.Cause(r.name(v, s), s.Pattern, s.Cause)}
	lines = append(lines, v.Each(s.Pattern, s.Cause)...)
	lines = append(lines, v.Explain(s.Shots, s.Pattern, s.Cause)...)
	lines = append(lines, r.caveats(v, i)...)
	for _, d := range r.Reading.Decisions {
		lines = append(lines, "How the file was read: "+escaped(v, d)+".")
	}
	return lines
}

// TrialText says what a trial of the report shows, in at most limit characters.
func (r Report) TrialText(t trial.Result, limit int) string {
	return fit(words.Plainly(r.trialLines(r.Voice, t)), limit)
}

func (r Report) trialLines(v words.Voice, t trial.Result) (lines []string) {
	name := r.clubName(v, t.Sets[0].Club)
	for _, line := range append(v.Trial(t), v.Caveats(t.Warnings)...) {
		lines = append(lines, headed(name, line))
	}
	return lines
}

// Verdict is the one sentence of a set, free of markup.
func (r Report) Verdict(s Set) string {
	v := r.plain()
	return v.Cause(r.name(v, s), s.Pattern, s.Cause)
}

// Warnings are what a reader of the whole report should know, free of markup.
func (r Report) Warnings() []string {
	var all [][]analysis.Warning
	for _, s := range r.Sets {
		all = append(all, s.Pattern.Warnings, s.Cause.Warnings)
	}
	for _, t := range r.Trials {
		all = append(all, t.Warnings)
	}
	return r.plain().Caveats(all...)
}

// Sentences are the whole answer for people, free of markup: for each set what
// the reply says of it, then the trial.
func (r Report) Sentences() []string {
	v := r.plain()
	var all []string
	seen := map[string]bool{}
	keep := func(lines []string) {
		for _, line := range lines {
			if !seen[line] {
				seen[line] = true
				all = append(all, line)
			}
		}
	}
	for i := range r.Sets {
		keep(r.setLines(v, i))
		keep(r.caveats(v, i))
	}
	keep(r.leftOut(v))
	keep(r.sessionLines(v))
	for _, t := range r.Trials {
		keep(r.trialLines(v, t))
	}
	return words.Plainly(all)
}

// Explanations are the long explanations of every set, free of markup.
func (r Report) Explanations() []string {
	var all []string
	for i := range r.Sets {
		all = append(all, r.explanation(r.plain(), i)...)
	}
	return words.Plainly(all)
}

func (r Report) plain() words.Voice {
	v := r.Voice
	v.Plain = true
	return v
}

// name heads a sentence about a set when there are several.
func (r Report) name(v words.Voice, s Set) string {
	if len(r.Sets) < 2 {
		return ""
	}
	return v.SetName(s.Club, s.Label)
}

// clubName heads a sentence about a club when there are several.
func (r Report) clubName(v words.Voice, club analysis.Club) string {
	for _, s := range r.Sets {
		if s.Club != club {
			return v.SetName(club, "")
		}
	}
	return ""
}

// headed is a line with the name of what it is about before it, "" for none.
func headed(name, line string) string {
	if name == "" || line == "" {
		return line
	}
	return name + ": " + strings.ToLower(line[:1]) + line[1:]
}

func escaped(v words.Voice, text string) string {
	text = strings.TrimSuffix(text, ".")
	if v.Plain {
		return text
	}
	return words.Escape(text)
}

// fit joins as many of the lines, from the first, as limit characters hold.
func fit(lines []string, limit int) string {
	var b strings.Builder
	left := limit
	for _, line := range lines {
		n := len([]rune(line)) + 1
		if n > left {
			continue
		}
		left -= n
		b.WriteString(line)
		b.WriteByte('\n')
	}
	return strings.TrimSuffix(b.String(), "\n")
}
