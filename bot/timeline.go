package bot

import (
	"context"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/pictures"
	"rangepost/bot/words"
	"rangepost/store"
)

// runTimeline is /timeline: numbers over the sessions, with the lessons
// marked.
func runTimeline(ctx context.Context, b *Bot, r Request) (Reply, error) {
	id, err := b.subject(ctx, r)
	if err != nil {
		return Reply{}, err
	}
	if strings.EqualFold(strings.TrimSpace(r.Options["number"]), tallyNumber) {
		since, err := b.spanAsked(ctx, r, id)
		if err != nil {
			return Reply{}, err
		}
		return b.tallies(ctx, r, id, since)
	}
	q, err := b.question(ctx, r, id)
	if err != nil {
		return Reply{}, err
	}
	results, err := b.timelines(ctx, r.Server, id, q)
	if err != nil {
		return Reply{}, err
	}
	if len(results) == 0 {
		return Reply{}, analysis.Refuse("Ask for another number, club or time, or post a session that has it.", "No session has %s there yet.", numberList(q.numbers))
	}
	student, voice, err := b.spokenTo(ctx, r.Server, id)
	if err != nil {
		return Reply{}, err
	}
	lines := voice.Timelines(results)
	if q.since.note != "" {
		lines = append([]string{words.Sentence(q.since.note) + "."}, lines...)
	}
	reply := Reply{about: id, Text: clip(strings.Join(words.Plainly(lines), "\n"), MaxText)}
	return b.withTimeline(ctx, reply, student, results)
}

func numberList(numbers []analysis.Number) string {
	names := make([]string, len(numbers))
	for i, n := range numbers {
		names[i] = n.String()
	}
	return strings.Join(names, " or ")
}

// timelines answers a question: a timeline for each number and club that has
// sessions, at most as many as a picture shows.
func (b *Bot) timelines(ctx context.Context, server, student string, q question) (results []timeline.Result, err error) {
	lessons, err := b.lessonsSince(ctx, server, student, q.since)
	if err != nil {
		return nil, err
	}
	for _, number := range q.numbers {
		kept, err := b.db.Values(ctx, server, student, store.ValuesFilter{Number: number, Since: q.since.at})
		if err != nil {
			return nil, err
		}
		if !q.until.IsZero() {
			kept = slices.DeleteFunc(kept, func(v analysis.SessionValues) bool { return v.At.After(q.until) })
		}
		clubs := q.clubs
		if len(clubs) == 0 && len(kept) > 0 {
			clubs = []analysis.Club{commonest(kept)}
		}
		air, err := b.airOf(ctx, server, student, number)
		if err != nil {
			return nil, err
		}
		for _, club := range clubs {
			if len(results) == pictures.MaxPanels {
				return results, nil
			}
			var sessions []analysis.SessionValues
			for _, v := range kept {
				if v.Club == club {
					sessions = append(sessions, air.session(v))
				}
			}
			if n := q.since.last; n > 0 && len(sessions) > n {
				sessions = sessions[len(sessions)-n:]
			}
			if len(sessions) > 0 {
				results = append(results, timeline.Of(number, club, sessions, lessons))
			}
		}
	}
	return results, nil
}

func (b *Bot) lessonsSince(ctx context.Context, server, student string, s span) (lessons []analysis.Lesson, err error) {
	marked, err := b.db.Lessons(ctx, server, student)
	if err != nil {
		return nil, err
	}
	for _, l := range marked {
		if !l.At.Before(s.at) {
			lessons = append(lessons, l.Lesson)
		}
	}
	return lessons, nil
}

// commonest is the club most sessions have; the one hit last among equals.
func commonest(values []analysis.SessionValues) analysis.Club {
	count := map[analysis.Club]int{}
	var most analysis.Club
	for _, v := range values {
		if count[v.Club]++; count[v.Club] >= count[most] {
			most = v.Club
		}
	}
	return most
}

// An air is what was known of the air of each session and of how its balls
// left: enough to bring a distance from one air to another.
type air struct {
	conditions map[string]analysis.Conditions
	launches   map[string]map[analysis.Club]analysis.Launch // by session
}

// airOf is empty for numbers the air does not touch, and where no session says
// anything of its air.
func (b *Bot) airOf(ctx context.Context, server, student string, n analysis.Number) (a air, err error) {
	if !timeline.Flown(n) {
		return a, nil
	}
	if a.conditions, err = b.db.Airs(ctx, server, student); err != nil || len(a.conditions) == 0 {
		return air{}, err
	}
	a.launches = map[string]map[analysis.Club]analysis.Launch{}
	for _, part := range []struct {
		number analysis.Number
		set    func(l *analysis.Launch, v float64)
	}{
		{analysis.BallSpeed, func(l *analysis.Launch, v float64) { l.Speed = v }},
		{analysis.LaunchAngle, func(l *analysis.Launch, v float64) { l.Angle = v }},
		{analysis.Direction, func(l *analysis.Launch, v float64) { l.Direction = v }},
		{analysis.Spin, func(l *analysis.Launch, v float64) { l.Spin = v }},
		{analysis.SpinAxis, func(l *analysis.Launch, v float64) { l.Axis = v }},
	} {
		means, err := b.db.Values(ctx, server, student, store.ValuesFilter{Number: part.number, MeansOnly: true})
		if err != nil {
			return air{}, err
		}
		for _, v := range means {
			of := a.launches[v.Session]
			if of == nil {
				of = map[analysis.Club]analysis.Launch{}
				a.launches[v.Session] = of
			}
			l := of[v.Club]
			part.set(&l, v.Mean)
			of[v.Club] = l
		}
	}
	for _, of := range a.launches {
		for club, l := range of {
			if l.Speed <= 0 || l.Angle == 0 || l.Spin <= 0 {
				delete(of, club) // not enough to fly
			}
		}
	}
	return a, nil
}

// session is a session's values with the air they were hit in.
func (a air) session(v analysis.SessionValues) analysis.SessionValues {
	v.Conditions, v.Launch = a.conditions[v.Session], a.launches[v.Session][v.Club]
	return v
}
