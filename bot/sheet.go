package bot

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/record"
	"rangepost/bot/words"
)

// runSheet is /sheet: one page about a student before a lesson, in text and as
// the timeline of the numbers they work on.
func runSheet(ctx context.Context, b *Bot, r Call) (Reply, error) {
	binding, err := b.db.StudentBinding(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	s, err := b.records.Sheet(ctx, binding)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{about: r.Student, Text: words.Clip(strings.Join(sheetLines(r, s), "\n"), MaxText)}
	reply.Rows = []Row{{Buttons: []Button{
		{Path: path("brief", r.Student), Label: "Brief", Style: Main},
		{Path: path("review", r.Student, "0"), Label: "Review"},
		{Path: path("take", r.Student, "1"), Label: "Take the numbers away"},
	}}}
	if len(s.States) == 0 {
		return reply, nil
	}
	return withTimeline(ctx, b, reply, s.Golfer, s.States)
}

// sheetLines are the lines of a sheet: what was found, where each number stands,
// the last trial, the brief, what was promised, and what to try.
func sheetLines(r Call, s record.Sheet) []string {
	voice := voiceOf(s.Golfer)
	lines := []string{fmt.Sprintf("**%s** before the lesson.", nameOf(s.Student))}
	if found := findingLine(s.Golfer, s.Findings, 2); found != "" {
		lines = append(lines, found)
	}
	for _, state := range s.States {
		lines = append(lines, "- "+words.Sentence(voice.State(state))+".")
	}
	open := 0
	for _, state := range s.States {
		if state.Effect.Change == timeline.NotYet || state.Effect.Change == timeline.TooEarly {
			open++
		}
	}
	switch {
	case open > 0 && open == len(s.States):
		lines = append(lines, "Whether the last lesson moved them cannot be told yet.")
	case open > 0:
		lines = append(lines, "Whether it moved the others cannot be told yet.")
	}
	for i, f := range s.Trials {
		head := "Last trial, "
		if i > 0 {
			head = "Before it, "
		}
		lines = append(lines, fmt.Sprintf("%s%s: %s.", head, words.ShortDate(f.At), voice.TrialFound(*f.Gist.Trial)))
	}
	if len(s.Trials) == 0 {
		lines = append(lines, "No trial yet.")
	}
	switch b := s.Line.Brief; {
	case b == nil:
		lines = append(lines, "No brief.")
	case b.Standing == timeline.Running:
		lines = append(lines, words.Sentence(voice.Stands(b.Kept, b.Standing))+". It asks for "+voice.Wanted(b.Kept.Brief)+".")
	default: // how it ended stands above
		lines = append(lines, "The brief asked for "+voice.Wanted(b.Kept.Brief)+".")
	}
	if s.Promised != nil {
		lines = append(lines, fmt.Sprintf("Promised on %s: %s.", words.ShortDate(s.Promised.At), voice.Note(s.Promised.Note)))
	}
	if s.Latest == nil {
		return lines
	}
	if note := s.Latest.Reading.Session.Note; note != "" {
		lines = append(lines, fmt.Sprintf("Their own note, %s: %s.", words.ShortDate(s.Latest.At.In(r.Zone)), voice.Note(note)))
	}
	if needs := strings.TrimPrefix(voice.Needs(s.Needs), "Needs: "); needs != "" {
		text := "To work on: " + needs + "."
		if try := words.ToTry(s.Needs.WorkBack.Tool, s.Needs.WorkBack.Grounds, slices.Contains(s.Tried, s.Needs.WorkBack.Tool)); try != "" {
			text += " To try: " + try + "."
		}
		lines = append(lines, text)
	} else if s.Needs.Verdict != "" {
		lines = append(lines, "The last session asks for nothing to be moved.")
	}
	return lines
}

// pressTake hands a student's numbers to the coach they agreed to: their balls
// as they were read, lessons, briefs and tallies. The files stay the student's.
func pressTake(ctx context.Context, b *Bot, r Call) (Reply, error) {
	part, err := strconv.Atoi(r.Args[1])
	if err != nil || part < 1 {
		return Reply{}, analysis.Refuse("Use `/sheet` again.", "There is no such part.")
	}
	binding, err := b.db.StudentBinding(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	archive, parts, err := b.records.ExportNumbers(ctx, binding, part)
	if err != nil {
		return Reply{}, err
	}
	if archive == nil {
		return Reply{}, analysis.Refuse("Use `/sheet` again.", "There is no such part.")
	}
	student, err := b.db.Student(ctx, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	reply := Reply{
		about: r.Student,
		Text: fmt.Sprintf("The numbers of %s, who agreed that you see them: the balls of each session as they were read (SI units, right of target positive), lessons, briefs and tallies. They are theirs: keep them to yourself, and delete them when they ask.",
			nameOf(student)),
		Files: []File{{Name: fmt.Sprintf("numbers-%d.zip", part), Bytes: archive}},
	}
	if part < parts {
		reply.Rows = []Row{{Buttons: []Button{{Path: path("take", r.Student, strconv.Itoa(part+1)), Label: fmt.Sprintf("Part %d of %d", part+1, parts)}}}}
	}
	return reply, nil
}
