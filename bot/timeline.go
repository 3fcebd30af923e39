package bot

import (
	"context"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/report"
	"rangepost/bot/words"
	"rangepost/store"
)

// runTimeline is /timeline: a number over the sessions, with the lessons
// marked.
func runTimeline(ctx context.Context, b *Bot, r Request) (Reply, error) {
	student, err := b.subject(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	q, err := b.question(ctx, r, student)
	if err != nil {
		return Reply{}, err
	}
	result, err := b.timeline(ctx, r.Server, student, q)
	if err != nil {
		return Reply{}, err
	}
	return b.timelineReply(ctx, r.Server, student, result)
}

// A question is what a timeline is asked for.
type question struct {
	number analysis.Number
	club   analysis.Club // the zero club: the one with the most sessions
	since  time.Time
}

func (b *Bot) question(ctx context.Context, r Request, student string) (q question, err error) {
	if q.club, err = club(r); err != nil {
		return q, err
	}
	if q.since, err = date(r, "since"); err != nil {
		return q, err
	}
	key := r.Options["number"]
	if key == "" {
		q.number, err = b.usualNumber(ctx, r.Server, student)
		return q, err
	}
	var ok bool
	if q.number, ok = analysis.NumberByKey(key); !ok {
		return q, problemf("Choose one from the list.", "I do not know that number.")
	}
	return q, nil
}

// usualNumber is the number a timeline shows unless another is asked for: the
// one the coach's brief is about, else face-to-path, else what there is.
func (b *Bot) usualNumber(ctx context.Context, server, student string) (analysis.Number, error) {
	briefs, err := b.briefs(ctx, server, student)
	if err != nil {
		return 0, err
	}
	for _, brief := range briefs {
		return brief.Number, nil
	}
	for _, n := range []analysis.Number{analysis.FaceToPath, analysis.Direction} {
		values, err := b.db.Values(ctx, server, student, store.ValuesFilter{Number: n, MeansOnly: true})
		if err != nil || len(values) > 0 {
			return n, err
		}
	}
	return analysis.Lateral, nil
}

func (b *Bot) timeline(ctx context.Context, server, student string, q question) (timeline.Result, error) {
	kept, err := b.db.Values(ctx, server, student, store.ValuesFilter{Number: q.number, Club: q.club, Since: q.since})
	if err != nil {
		return timeline.Result{}, err
	}
	if q.club.Unknown() {
		q.club = commonest(kept)
	}
	var sessions []timeline.SessionValues
	for _, v := range kept {
		if v.Club == q.club {
			sessions = append(sessions, timeline.SessionValues{Session: v.Session, When: v.At, Values: v.Values, Inferred: v.Inferred > 0, Ball: v.Ball})
		}
	}
	if len(sessions) == 0 {
		return timeline.Result{}, problemf("Ask for another number, club or time, or post a session that has it.", "No session has %s there yet.", q.number)
	}
	marked, err := b.db.Lessons(ctx, server, student)
	if err != nil {
		return timeline.Result{}, err
	}
	var lessons []timeline.Lesson
	for _, l := range marked {
		if !l.At.Before(q.since) {
			lessons = append(lessons, timeline.Lesson{When: l.At, Note: l.Note})
		}
	}
	return timeline.Of(q.number, q.club, sessions, lessons), nil
}

// commonest is the club most sessions have; the one hit last among equals.
func commonest(values []store.SessionValues) analysis.Club {
	count := map[analysis.Club]int{}
	var most analysis.Club
	for _, v := range values {
		if count[v.Club]++; count[v.Club] >= count[most] {
			most = v.Club
		}
	}
	return most
}

func (b *Bot) timelineReply(ctx context.Context, server, student string, result timeline.Result) (Reply, error) {
	about, err := b.db.Student(ctx, server, student)
	if err != nil {
		return Reply{}, err
	}
	voice, err := b.voice(ctx, about)
	if err != nil {
		return Reply{}, err
	}
	briefs, err := b.briefs(ctx, server, student)
	if err != nil {
		return Reply{}, err
	}
	lines := append(voice.Timeline(result), voice.Caveats(result.Warnings)...)
	reply := Reply{about: student, Text: clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}
	plain := voice
	plain.Plain = true
	b.illustrate(ctx, &reply, "timeline.png", func(ctx context.Context) (report.Picture, error) {
		png, err := pictures.Timeline(ctx, pictures.TimelineInput{
			Voice: plain, Title: plain.TimelineTitle(result), Who: about.Name, Numbers: []timeline.Result{result}, Briefs: briefs,
		})
		return report.Picture{PNG: png, Alt: plain.AltTimeline(result)}, err
	})
	return reply, nil
}
