package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runBrief is /brief: what a student is to work on, in a line of plain words;
// without one, what they are working on and how far they are.
func runBrief(ctx context.Context, b *Bot, r Request) (Reply, error) {
	student, err := b.pupil(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	if r.Options["text"] == "" {
		return b.showBrief(ctx, r.Server, student)
	}
	return b.setBrief(ctx, r, student, r.Options["text"])
}

// noBrief are the texts that end a brief.
var noBrief = []string{"none", "no brief", "end", "stop", "off", "done", "nothing"}

func (b *Bot) setBrief(ctx context.Context, r Request, id, text string) (Reply, error) {
	if slices.Contains(noBrief, strings.ToLower(strings.TrimSpace(text))) {
		if err := b.db.EndBrief(ctx, r.Server, id); err != nil && !errors.Is(err, store.ErrNotFound) {
			return Reply{}, err
		}
		return Reply{about: id, Text: "There is no brief any more."}, nil
	}
	student, voice, err := b.spokenTo(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	zone, err := b.zone(ctx, r.Server, r.Asker.ID)
	if err != nil {
		return Reply{}, err
	}
	asked, err := brief.Parse(text, brief.Options{Hand: voice.Hand, Units: voice.Units, Now: b.now().In(zone)})
	if err != nil {
		return Reply{}, err
	}
	set := store.Brief{Server: r.Server, Student: id, Coach: r.Asker.ID, Brief: asked}
	before, err := b.before(ctx, set)
	if err != nil {
		return Reply{}, err
	}
	replaced, err := b.db.LastBrief(ctx, r.Server, id)
	none := errors.Is(err, store.ErrNotFound)
	if err != nil && !none {
		return Reply{}, err
	}
	if set, err = b.db.SetBrief(ctx, set); err != nil {
		return Reply{}, err
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	wanted := voice.Wanted(briefIn(zone, set)) + "."
	told := fmt.Sprintf("<@%s>, your brief: %s Every post's reply says how far you are.", id, wanted)
	said := func(first string, more ...string) string {
		lines := slices.Concat([]string{first}, more, cautions(asked.Number))
		return strings.Join(words.Plainly(slices.DeleteFunc(lines, func(l string) bool { return l == "" })), "\n")
	}
	if b.Ack(r) == AckPublic && binding.Thread == r.Channel {
		return Reply{about: id, Text: said(told, before), Notify: []string{id}}, nil
	}
	// How the one before it ended is for the coach: to the student it would be
	// nagging. In the student's thread that is left to the digest.
	until := ""
	if !none {
		if until, err = b.until(ctx, voice, replaced); err != nil {
			return Reply{}, err
		}
	}
	return Reply{
		about: id,
		Text:  said("Brief for "+nameOf(student)+": "+wanted, before, until) + fmt.Sprintf("\nTo be posted in <#%s>.", binding.Thread),
		Also:  []Post{{Channel: binding.Thread, Reply: Reply{Text: said(told), Notify: []string{id}}}},
	}, nil
}

// until tells a coach how a brief stood when another took its place.
func (b *Bot) until(ctx context.Context, voice words.Voice, k store.Brief) (string, error) {
	k.Ended = b.now()
	done, err := b.db.Progress(ctx, k)
	if err != nil {
		return "", err
	}
	kept := keptOf(briefIn(time.UTC, k), done)
	standing := kept.Standing(over(k, k.Ended))
	if standing != timeline.Running {
		if err := b.db.Tell(ctx, store.Told{Brief: k.ID, Standing: string(standing)}); err != nil {
			return "", err
		}
	}
	return "Until now, " + voice.Stands(kept, standing) + ".", nil
}

// cautions are what a brief on a number calls for.
func cautions(n analysis.Number) []string {
	return words.Cautions(0, n == analysis.ClubSpeed || n == analysis.BallSpeed)
}

// before says how the balls of the last sessions would have kept a brief, so
// that a coach sees how much it asks.
func (b *Bot) before(ctx context.Context, k store.Brief) (string, error) {
	values, err := b.db.Values(ctx, k.Server, k.Student, store.ValuesFilter{Number: k.Number, Club: k.Club})
	if err != nil || len(values) == 0 {
		return "", err
	}
	const sessions = 3
	asked := briefIn(time.UTC, k)
	inside, of := 0, 0
	for _, v := range values[max(0, len(values)-sessions):] {
		for _, x := range v.Values {
			if of++; asked.Holds(x) {
				inside++
			}
		}
	}
	return fmt.Sprintf("For comparison: of the last %s, %d were inside.", ballsOf(of), inside), nil
}

// sessionText is what a reply says of set i of a session in so many characters,
// and how far the brief is with it.
func (b *Bot) sessionText(ctx context.Context, s store.Session, answer report.Report, i, room int) (string, error) {
	soFar := ""
	if answer.Sets[i].Brief != nil {
		kept, done, err := b.progress(ctx, s.Server, s.Student)
		if err != nil {
			return "", err
		}
		// Only the latest session of the brief says how far it is: an older one
		// looked at again would say what came after it.
		if kept != nil && done.Of > 0 && s.At.Equal(done.Last) {
			soFar = answer.Voice.SoFar(*kept, done.Sessions)
		}
	}
	if soFar == "" {
		return answer.Text(i, room), nil
	}
	return answer.Text(i, room-len([]rune(soFar))-1) + "\n" + soFar, nil
}

func (b *Bot) showBrief(ctx context.Context, server, id string) (Reply, error) {
	student, voice, err := b.spokenTo(ctx, server, id)
	if err != nil {
		return Reply{}, err
	}
	set, err := b.db.LastBrief(ctx, server, id)
	if errors.Is(err, store.ErrNotFound) {
		return Reply{about: id, Text: nameOf(student) + " has no brief. Set one in a line: `/brief text:face to path within 2, 7-iron, 40 balls by Sunday`.", Rows: briefRow(id, "Set a brief")}, nil
	}
	if err != nil {
		return Reply{}, err
	}
	done, err := b.db.Progress(ctx, set)
	if err != nil {
		return Reply{}, err
	}
	asked, err := b.briefOf(ctx, set)
	if err != nil {
		return Reply{}, err
	}
	kept := keptOf(asked, done)
	lines := []string{
		nameOf(student) + ", since " + day(set.At) + ": " + voice.Wanted(asked) + ".",
		words.Sentence(voice.Stands(kept, kept.Standing(over(set, b.now())))) + ".",
	}
	return Reply{about: id, Text: strings.Join(words.Plainly(lines), "\n"), Rows: briefRow(id, "Set another brief")}, nil
}

func briefRow(student, label string) []Row {
	return []Row{{Buttons: []Button{{Path: path("brief", student), Label: label}}}}
}

// pressBrief opens the form of a brief, with the one there is in it.
func pressBrief(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	if err := b.coaches(ctx, r, args[0]); err != nil {
		return Reply{}, err
	}
	student, voice, err := b.spokenTo(ctx, r.Server, args[0])
	if err != nil {
		return Reply{}, err
	}
	voice.Plain = true
	field := Field{
		ID: "text", Label: "One number, limits, club, balls, until when", Required: true, Max: 300,
		Placeholder: "face to path within 2, 7-iron, 40 balls by Sunday",
	}
	switch set, err := b.db.ActiveBrief(ctx, r.Server, args[0]); {
	case err == nil:
		asked, err := b.briefOf(ctx, set)
		if err != nil {
			return Reply{}, err
		}
		field.Value = words.Cut(voice.Wanted(asked), field.Max)
	case !errors.Is(err, store.ErrNotFound):
		return Reply{}, err
	}
	return Reply{Modal: &Modal{Path: path("briefed", args[0]), Title: words.Cut("Brief for "+titleName(student), 45), Fields: []Field{field}}}, nil
}

// submitBrief is that form filled in.
func submitBrief(ctx context.Context, b *Bot, r Request, args []string) (Reply, error) {
	if err := b.coaches(ctx, r, args[0]); err != nil {
		return Reply{}, err
	}
	return b.setBrief(ctx, r, args[0], r.Fields["text"])
}

// titleName names a student where nothing is marked up or mentioned.
func titleName(s store.Student) string {
	if s.Name == "" {
		return "this student"
	}
	return words.Clean(s.Name)
}
