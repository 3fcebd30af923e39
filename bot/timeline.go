package bot

import (
	"context"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// runTimeline is /timeline: numbers over the sessions, with the lessons
// marked.
func runTimeline(ctx context.Context, b *Bot, r Call) (Reply, error) {
	if strings.EqualFold(strings.TrimSpace(r.Options["number"]), tallyNumber) {
		return tallies(ctx, b, r)
	}
	q, note, err := queryAsked(ctx, b, r)
	if err != nil {
		return Reply{}, err
	}
	results, err := b.records.Timelines(ctx, r.Server, r.Student, q)
	if err != nil {
		return Reply{}, err
	}
	if len(results) == 0 {
		return Reply{}, analysis.Refuse("Ask for another number, club or time, or post a session that has it.", "No session has %s there yet.", numberList(q.Numbers))
	}
	student, voice, err := spokenTo(ctx, b, r.Server, r.Student)
	if err != nil {
		return Reply{}, err
	}
	lines := append(voice.Timelines(results), voice.Setups(results)...)
	told, err := plansTold(ctx, b, r, voice, results)
	if err != nil {
		return Reply{}, err
	}
	lines = append(lines, told...)
	if slices.Contains(q.Numbers, analysis.AskedDone) {
		gains, err := b.records.ControlOver(ctx, r.Server, r.Student, results[0].Club)
		if err != nil {
			return Reply{}, err
		}
		lines = append(lines, voice.ControlOver(results[0].Club, gains))
	}
	if note != "" {
		lines = append([]string{words.Sentence(note) + "."}, lines...)
	}
	reply := Reply{about: r.Student, Text: words.Clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}
	return withTimeline(ctx, b, reply, student, results)
}

func numberList(numbers []analysis.Number) string {
	names := make([]string, len(numbers))
	for i, n := range numbers {
		names[i] = n.String()
	}
	return strings.Join(names, " or ")
}

// withTimeline adds the picture of some timelines to a reply.
func withTimeline(ctx context.Context, b *Bot, reply Reply, student record.Golfer, results []timeline.Result) (Reply, error) {
	in, err := timelineInput(ctx, b, student, results)
	if err != nil {
		return Reply{}, err
	}
	b.illustrate(ctx, &reply, "timeline.png", func(ctx context.Context) (report.Picture, error) {
		png, err := pictures.Timeline(ctx, in)
		return report.Picture{PNG: png, Alt: in.Voice.AltTimelines(results)}, err
	})
	return reply, nil
}

func timelineInput(ctx context.Context, b *Bot, student record.Golfer, results []timeline.Result) (in pictures.TimelineInput, err error) {
	in = pictures.TimelineInput{Voice: voiceOf(student), Who: student.Name, Numbers: results}
	in.Voice.Plain = true
	brief, err := b.records.ActiveBrief(ctx, student.Server, student.ID)
	if err != nil {
		return in, err
	}
	if brief != nil {
		in.Briefs = append(in.Briefs, *brief)
	}
	settled, err := b.records.SettledPlans(ctx, student.Server, student.ID, clubsOf(results))
	if err != nil {
		return in, err
	}
	for _, p := range settled {
		in.Plans = append(in.Plans, pictures.SettledPlan{At: p.Settled, Sets: p.Card.Labels[1:]})
	}
	if in.Title = in.Voice.TimelineTitle(results[0]); len(results) > 1 {
		in.Title = in.Voice.TimelinesTitle(results)
	}
	return in, nil
}

// clubsOf are the clubs that some timelines are of.
func clubsOf(results []timeline.Result) (clubs []analysis.Club) {
	for _, r := range results {
		clubs = append(clubs, r.Club)
	}
	return clubs
}
