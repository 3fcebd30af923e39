package bot

import (
	"context"
	"errors"
	"fmt"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/analysis/timeline"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runBrief is /brief: what a student is to work on, in a line of plain words;
// without one, what they are working on and how far they are.
func runBrief(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if r.Options["text"] == "" {
		return showBrief(ctx, b, r)
	}
	return setBrief(ctx, b, r, r.Options["text"])
}

// noBrief are the texts that end a brief.
var noBrief = []string{"none", "no brief", "end", "stop", "off", "done", "nothing"}

func setBrief(ctx context.Context, b *Bot, r Call, text string) (Reply, error) {
	id := r.Student
	if slices.Contains(noBrief, strings.ToLower(strings.TrimSpace(text))) {
		if err := b.db.EndBrief(ctx, r.Server, id); err != nil && !errors.Is(err, store.ErrNotFound) {
			return Reply{}, err
		}
		return Reply{about: id, Text: "There is no brief any more."}, nil
	}
	student, voice, err := spokenTo(ctx, b, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	asked, err := brief.Parse(text, brief.Options{Hand: voice.Hand, Units: voice.Units, Now: b.now().In(r.Zone)})
	if err != nil {
		return Reply{}, err
	}
	if asked.Share > 0 {
		if _, err := report.ShotAsked(asked.Label, voice.Units); err != nil {
			return Reply{}, err
		}
	}
	asked.Balls = asked.Asked() // one that would never end ends with a session's balls
	inside, of, err := b.records.Before(ctx, r.Server, id, asked)
	if err != nil {
		return Reply{}, err
	}
	before := ""
	if of > 0 {
		before = fmt.Sprintf("For comparison: of the last %s, %d were inside.", words.Count(of, "ball"), inside)
	}
	_, replaced, err := b.records.SetBrief(ctx, store.Brief{Server: r.Server, Student: id, Coach: r.Asker.ID, Brief: asked})
	if err != nil {
		return Reply{}, err
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	wanted := voice.Wanted(asked) + "."
	told := fmt.Sprintf("<@%s>, your brief: %s Every post's reply says how far you are.", id, wanted)
	said := func(first string, more ...string) string {
		lines := slices.Concat([]string{first}, more, cautions(asked.Number))
		return words.Lines(words.Plainly(lines)...)
	}
	if b.Ack(r.Request) == AckPublic && binding.Thread == r.Channel {
		return Reply{about: id, Text: said(told, before), Notify: []string{id}}, nil
	}
	// How the one before it ended is for the coach: to the student it would be
	// nagging. In the student's thread that is left to the digest.
	until := ""
	if replaced != nil {
		until = "Until now, " + voice.Stands(replaced.Kept, replaced.Standing) + "."
		if replaced.Standing != timeline.Running {
			if err := b.db.Tell(ctx, store.Told{Brief: replaced.ID, Standing: string(replaced.Standing)}); err != nil {
				return Reply{}, err
			}
		}
	}
	return Reply{
		about: id,
		Text:  said("Brief for "+nameOf(student.Student)+": "+wanted, before, until) + fmt.Sprintf("\nTo be posted in <#%s>.", binding.Thread),
		Also:  []Notice{{Channel: binding.Thread, Reply: Reply{Text: said(told), Notify: []string{id}}}},
	}, nil
}

// cautions are what a brief on a number calls for.
func cautions(n analysis.Number) []string {
	return words.Cautions(0, n == analysis.ClubSpeed || n == analysis.BallSpeed)
}

func showBrief(ctx context.Context, b *Bot, r Call) (Reply, error) {
	student, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	set, err := b.records.LastBrief(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	name := nameOf(student.Student)
	if set == nil {
		return Reply{about: r.Student, Text: name + " has no brief. Set one in a line: `/brief text:face to path within 2, 7-iron, 40 balls by Sunday`.", Rows: briefRow(r.Student, "Set a brief")}, nil
	}
	lines := []string{
		name + ", since " + r.day(set.At) + ": " + voice.Wanted(set.Kept.Brief) + ".",
		words.Sentence(voice.Stands(set.Kept, set.Standing)) + ".",
	}
	return Reply{about: r.Student, Text: strings.Join(words.Plainly(lines), "\n"), Rows: briefRow(r.Student, "Set another brief")}, nil
}

func briefRow(student, label string) []Row {
	return []Row{{Buttons: []Button{{Path: path("brief", student), Label: label}}}}
}

// pressBrief opens the form of a brief, with the one there is in it.
func pressBrief(ctx context.Context, b *Bot, r Call) (Reply, error) {
	student, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	field := Field{
		ID: "text", Label: "One number, limits, club, balls, until when", Required: true, Max: 300,
		Placeholder: "face to path within 2, 7-iron, 40 balls by Sunday",
	}
	set, err := b.records.ActiveBrief(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	if set != nil {
		voice.Plain = true
		field.Value = words.Cut(voice.Wanted(*set), field.Max)
	}
	return Reply{Modal: &Modal{Path: path("briefed", r.Student), Title: words.Cut("Brief for "+titleName(student.Student), 45), Fields: []Field{field}}}, nil
}

// submitBrief is that form filled in.
func submitBrief(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return setBrief(ctx, b, r, r.Fields["text"])
}

// chooseAbout keeps which set of a session the running brief is about.
func chooseAbout(ctx context.Context, b *Bot, r Call) (Reply, error) {
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	if len(answer.Trials) == 0 {
		return Reply{}, errOldButton
	}
	sets := answer.Trials[0].Sets
	i, err := index(r.Values, len(sets))
	if err != nil {
		return Reply{}, err
	}
	if err := b.records.BriefAbout(ctx, r.Server, r.Session.Student, strings.TrimSpace(sets[i].Label)); err != nil {
		return Reply{}, err
	}
	return first(ctx, b, r, r.Session, answer, answer.MainOf(sets[0].Club), "")
}
