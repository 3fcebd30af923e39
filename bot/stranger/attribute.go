package stranger

import (
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"
)

var ballCount = regexp.MustCompile(`(\d+) balls`)

// balls are the numbers of balls that a text speaks of.
func balls(text string) map[int]bool {
	n := map[int]bool{}
	for _, m := range ballCount.FindAllStringSubmatch(text, -1) {
		v, _ := strconv.Atoi(m[1])
		n[v] = true
	}
	return n
}

// recall is what an answer that comes elsewhere than it was asked for says of
// the ask in its first line: when, the command's name, and the file's.
type recall struct {
	at           int64
	what         string // how its Ask.What begins
	file         string
	perhapsAgain bool
}

var recalls = regexp.MustCompile("^(?:<@\\d+> )?(Your (?:`([^`]*)`|message)|The button you pressed|What you chose|The form you sent)(?: with (.*))?, asked <t:(\\d+):T>([^\n]*)")

// begins is how an ask of that description begins.
var begins = map[string]string{"Your message": "a message", "The button you pressed": "presses", "What you chose": "chooses", "The form you sent": "submits"}

func recallOf(text string) (r recall, ok bool) {
	m := recalls.FindStringSubmatch(text)
	if m == nil {
		return r, false
	}
	r.at, _ = strconv.ParseInt(m[4], 10, 64)
	r.what, r.file = m[2], strings.NewReplacer("\u200b", "", `\`, "").Replace(m[3])
	if m[2] == "" {
		r.what = begins[m[1]]
	}
	r.perhapsAgain = strings.Contains(m[5], again)
	return r, true
}

// of says whether it speaks of a.
func (r recall) of(a *Ask) bool {
	return max(a.sent.Unix()-r.at, r.at-a.sent.Unix()) <= 1 && strings.HasPrefix(a.What, r.what) &&
		(r.file == "" || a.File == nil || a.File.Name == r.file)
}

// owner is whom a message outside of any interaction speaks to.
func (p *Platform) owner(m *Message) *Person {
	if ref := p.messages[str(m.body, "message_reference", "message_id")]; ref != nil && ref.Author != p.Bot {
		return ref.Author
	}
	if m.Channel.Type == directMessage {
		for _, id := range m.Channel.Members {
			if id != p.Bot.ID {
				return p.people[id]
			}
		}
	}
	// Who is named first is spoken to; others may be spoken of.
	var named *Person
	first := -1
	for _, q := range p.people {
		at := strings.Index(str(m.body, "content"), "<@"+q.ID+">")
		if q != p.Bot && at >= 0 && (named == nil || at < first) {
			named, first = q, at
		}
	}
	if named != nil {
		return named
	}
	for _, s := range m.Channel.in.Students {
		if m.Channel.in.Threads[s.ID] == m.Channel {
			return s
		}
	}
	return nil
}

// attribute gives every message that the bot wrote outside of an interaction
// to the ask that it answers: the one it refers to; else one of the same
// person that has no answer yet, of the same file if it speaks of one; one that
// says in its first line what it answers, to that. It starts afresh each time.
func (j *Judge) attribute() (nothing []*Message) {
	p := j.p
	p.mu.Lock()
	defer p.mu.Unlock()
	j.mu.Lock()
	defer j.mu.Unlock()
	carried := map[*Message]bool{} // what somebody wrote in a form, brought to somebody else
	for _, a := range j.asks {
		a.alone = nil
		if a.wrote == "" {
			continue
		}
		for _, m := range p.order {
			if m.Author == p.Bot && m.Ask == nil && !carried[m] && m.At.After(a.sent) && strings.Contains(p.text(m), "> "+a.wrote) {
				carried[m] = true
				break
			}
		}
	}
	// Those that name a message or a file first: what is left over may answer
	// anything of the same person's.
	for _, vague := range []bool{false, true} {
		for _, m := range p.order {
			if m.Author != p.Bot || m.Ask != nil || m.Deleted || carried[m] || stands(m) || j.notice != nil && j.notice(m) {
				continue
			}
			who, about := p.owner(m), balls(p.text(m))
			ref := str(m.body, "message_reference", "message_id")
			said, recalled := recallOf(p.text(m))
			if (ref == "" && len(about) == 0 && !recalled) != vague {
				continue
			}
			var best *Ask
			rank := 0
			for _, a := range j.asks {
				if a.sent.After(m.At) {
					continue
				}
				r := 0
				open := !a.told() && len(a.alone) == 0
				sameFile := a.File != nil && about[a.File.Balls]
				switch {
				case ref != "" && a.Source != nil && a.Source.ID == ref && a.Kind == byMention:
					r = 9
				case ref != "" || a.Who != who || a.Kind == autocompletes:
				case recalled && said.of(a) && open && (a.acked() || a.Kind == byMention):
					r = 11
				case recalled && said.of(a) && open:
					r = 10
				case recalled && said.of(a) && !said.perhapsAgain: // answered a second time
					r = 9
				case recalled:
				case sameFile && open && (a.acked() || a.Kind == byMention):
					r = 8
				case sameFile && open:
					r = 7
				case open && (a.acked() || a.Kind == byMention) && (vague || a.File == nil):
					r = 6
				case open && (vague || a.File == nil):
					r = 5
				case sameFile: // answered a second time
					r = 4
				}
				if r > rank {
					best, rank = a, r
				}
			}
			if best == nil {
				nothing = append(nothing, m)
				continue
			}
			best.alone = append(best.alone, m)
		}
	}
	return nothing
}

// open counts the asks that must be answered and are not.
func (j *Judge) open() (n int) {
	j.attribute()
	j.p.mu.Lock()
	defer j.p.mu.Unlock()
	j.mu.Lock()
	defer j.mu.Unlock()
	for _, a := range j.asks {
		if a.due() && !a.told() && len(a.alone) == 0 {
			n++
		}
	}
	return n
}

// due says whether an ask must be answered: it was acknowledged; or it is a
// message that was brought to a process that then lived on undisturbed.
func (a *Ask) due() bool {
	return a.acked() || a.Kind == byMention && a.delivered && !a.shaky
}

// disturbed marks the messages of the last seconds: whether they were taken
// in, nobody outside can know.
func (j *Judge) disturbed() {
	j.p.mu.Lock()
	defer j.p.mu.Unlock()
	j.mu.Lock()
	defer j.mu.Unlock()
	for _, a := range j.asks {
		if a.Kind == byMention && time.Since(a.sent) < 10*time.Second {
			a.shaky = true
		}
	}
}

// answers judges, at the end, that everything acknowledged was answered
// visibly once.
func (j *Judge) answers() (missed, acked int, slowest time.Duration) {
	nothing := j.attribute()
	j.p.mu.Lock()
	defer j.p.mu.Unlock()
	for _, m := range nothing {
		if j.copied(m) {
			j.p.record.addf("note", "an answer came once more, and said so: %s", cutTo(j.p.text(m), 120))
			continue
		}
		j.break_("a message out of nothing", "in %s: %s", j.where(m), cutTo(j.p.text(m), 200))
	}
	for _, a := range j.asks {
		if a.acked() {
			acked++
		} else if a.Kind != byMention {
			missed++
		}
		if a.told() && a.Kind != autocompletes {
			slowest = max(slowest, a.toldAt.Sub(a.sent))
		}
		kind := "never answered"
		if a.Kind == byMention {
			kind = "message never answered"
		}
		if a.due() && !a.told() && len(a.alone) == 0 {
			j.break_(kind, "ask %d of %s, %s, sent at %.3f, response type %d", a.N, a.Who.Name, a.What, a.sent.Sub(j.start).Seconds(), a.ackType)
		}
		seen := len(a.alone)
		if a.told() {
			seen++
		}
		if seen > 1 {
			var texts []string
			for _, m := range a.alone {
				texts = append(texts, j.where(m)+": "+cutTo(j.p.text(m), 120))
			}
			j.break_("answered twice", "ask %d of %s, %s: its own answer %v, and %d messages (%s)", a.N, a.Who.Name, a.What, a.told(), len(a.alone), strings.Join(texts, "; "))
		}
		shown := map[string]bool{}
		for _, m := range append([]*Message{a.original}, a.follow...) {
			if m == nil || m.Deleted || m.Loading || m == a.Source {
				continue // the message of a button may say what its press answers
			}
			text := j.p.text(m)
			if shown[text] {
				j.break_("answered twice", "ask %d of %s, %s: the same follow-up twice", a.N, a.Who.Name, a.What)
			}
			shown[text] = true
		}
	}
	return missed, acked, slowest
}

// again is what the first line says of a copy of an answer whose first copy may
// be lost. Nobody outside the platform can look up what was shown to one person
// alone, so where its answer never came back a copy that says so is the least
// harm.
const again = "in case my answer did not reach you there:"

// copied says whether a message answers once more, and says so, what its reader
// had an answer to. It may be another answer: a file that was gone at first may
// be there later.
func (j *Judge) copied(m *Message) bool {
	said, ok := recallOf(j.p.text(m))
	if !ok || !said.perhapsAgain {
		return false
	}
	who := j.p.owner(m)
	return slices.ContainsFunc(j.asks, func(a *Ask) bool { return a.Who == who && (a.told() || len(a.alone) > 0) && said.of(a) })
}
