package bot

import (
	"context"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/brief"
	"rangepost/bot/pictures"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// queryAsked reads what a timeline is asked for. note says since when, "" if
// nothing was asked of that.
func queryAsked(ctx context.Context, b *Bot, r Call) (q record.Query, note string, err error) {
	if q.Numbers, err = numbersAsked(r.Options["number"]); err != nil {
		return q, "", err
	}
	if q.Clubs, err = clubsAsked(r.Options["club"]); err != nil {
		return q, "", err
	}
	if len(q.Numbers) == 0 {
		usual, err := b.records.UsualNumber(ctx, r.Server, r.Student)
		if err != nil {
			return q, "", err
		}
		q.Numbers = []analysis.Number{usual}
	}
	if n := len(q.Numbers) * max(1, len(q.Clubs)); n > pictures.MaxPanels {
		return q, "", analysis.Refuse("Ask in two goes.", "That makes %d timelines, and a picture has room for %d.", n, pictures.MaxPanels)
	}
	q.Zone = r.Zone
	q.Since, q.Last, note, err = spanAsked(ctx, b, r)
	return q, note, err
}

// pieces cuts a list somebody typed at its commas.
func pieces(text string) (all []string) {
	for piece := range strings.SplitSeq(text, ",") {
		if piece = strings.TrimSpace(piece); piece != "" {
			all = append(all, piece)
		}
	}
	return all
}

func numbersAsked(text string) (numbers []analysis.Number, err error) {
	for _, piece := range pieces(text) {
		n, ok := brief.Number(piece)
		if !ok {
			return nil, analysis.Refuse("Choose from what is offered while you type: face, path, face-to-path, carry ...", "\"%s\" is not a number I know.", words.Cut(piece, 40)).Of("number")
		}
		if !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	return numbers, nil
}

func clubsAsked(text string) (clubs []analysis.Club, err error) {
	for _, piece := range pieces(text) {
		c, err := clubAsked(piece)
		if err != nil {
			return nil, err
		}
		if !slices.Contains(clubs, c) {
			clubs = append(clubs, c)
		}
	}
	return clubs, nil
}

// spanAsked reads the option "since": a day, "lesson", or how many of the
// latest sessions. note says what it is, "" if nothing was asked.
func spanAsked(ctx context.Context, b *Bot, r Call) (at time.Time, last int, note string, err error) {
	text := strings.ToLower(strings.TrimSpace(r.Options["since"]))
	switch {
	case text == "":
		return at, 0, "", nil
	case text == "lesson" || text == "last lesson" || text == "the lesson":
		at, err = b.records.LastLesson(ctx, r.Server, r.Student)
		if err == nil && at.IsZero() {
			err = analysis.Refuse("A coach marks one with `/lesson`; until then ask from a day on.", "no lesson is marked yet.").Of("since")
		}
		return at, 0, "since the lesson on " + r.day(at), err
	}
	if n, ok := sessionsAsked(text); ok {
		return at, n, "the last " + words.Count(n, "session"), nil
	}
	if _, err := time.Parse(time.DateOnly, text); err != nil {
		return at, 0, "", analysis.Refuse("Write a day as 2026-09-30, or lesson, or last 8.", "\"%s\" is neither a day, a lesson nor a number of sessions.", words.Cut(text, 40)).Of("since")
	}
	if at, err = record.PastDay(text, r.Zone, b.now()); err != nil {
		return at, 0, "", of("since", err)
	}
	return at, 0, "since " + day(at), nil
}

// sessionsAsked reads "last 8", "8 sessions" or "8".
func sessionsAsked(text string) (int, bool) {
	text = strings.TrimSpace(strings.TrimSuffix(strings.TrimSuffix(strings.TrimPrefix(text, "last "), "sessions"), "session"))
	n, err := strconv.Atoi(text)
	return n, err == nil && n >= 1 && n <= 9999
}

// completeTimeline offers numbers and clubs the student's sessions have, and
// days to begin with.
func completeTimeline(ctx context.Context, b *Bot, r Call) ([]Choice, error) {
	typed := r.Options[r.Focused]
	if r.Focused == "since" {
		return completeSince(ctx, b, r, typed)
	}
	measured, err := b.db.Measured(ctx, r.Server, r.Student)
	if err != nil {
		return nil, err
	}
	before, last := lastPiece(typed)
	if r.Focused == "club" {
		return completeClub(measured, before, last), nil
	}
	choices := completeNumber(measured, before, last)
	if before == "" && len(choices) < 25 && contains(last, tallyNumber) {
		choices = append(choices, choice(tallyNumber, "ball flights counted by eye"))
	}
	return choices, nil
}

// lastPiece cuts what is typed of a list at its last comma: what stands before is
// chosen already.
func lastPiece(typed string) (before, last string) {
	last = typed
	if i := strings.LastIndexByte(typed, ','); i >= 0 {
		before, last = strings.TrimSpace(typed[:i])+", ", typed[i+1:]
	}
	return before, strings.ToLower(strings.TrimSpace(last))
}

func completeNumber(measured []store.Measured, before, typed string) (choices []Choice) {
	count := map[analysis.Number]int{}
	for _, m := range measured {
		count[m.Number] += m.Sessions
	}
	exact, known := brief.Number(typed)
	for _, n := range analysis.Numbers() {
		if count[n] == 0 || !(known && n == exact || contains(typed, n.Info().Key, n.Info().Name, n.Info().Plain)) {
			continue
		}
		choices = append(choices, choice(before+n.Info().Key, before+n.Info().Name))
	}
	return choices[:min(len(choices), 25)]
}

func completeClub(measured []store.Measured, before, typed string) (choices []Choice) {
	count := map[analysis.Club]int{}
	var clubs []analysis.Club
	for _, m := range measured {
		if count[m.Club] == 0 && !m.Club.Unknown() {
			clubs = append(clubs, m.Club)
		}
		count[m.Club] = max(count[m.Club], m.Sessions)
	}
	slices.SortStableFunc(clubs, func(a, b analysis.Club) int { return count[b] - count[a] })
	for _, c := range clubs {
		if contains(typed, c.Key(), c.String()) {
			choices = append(choices, choice(before+c.Key(), fmt.Sprintf("%s%s (%s)", before, c, words.Count(count[c], "session"))))
		}
	}
	return choices[:min(len(choices), 25)]
}

func completeSince(ctx context.Context, b *Bot, r Call, typed string) (choices []Choice, err error) {
	typed = strings.ToLower(strings.TrimSpace(typed))
	add := func(value, text string) {
		if len(choices) < 25 && contains(typed, value, text) {
			choices = append(choices, choice(value, text))
		}
	}
	lessons, err := b.db.Lessons(ctx, r.Server, r.Student)
	if err != nil {
		return nil, err
	}
	if n := len(lessons); n > 0 {
		add("lesson", "the last lesson, "+r.day(lessons[n-1].At))
	}
	for _, n := range []int{5, 10, 20, 50} {
		add(fmt.Sprintf("last %d", n), fmt.Sprintf("the last %d sessions", n))
	}
	for i, l := range slices.Backward(lessons) {
		if i == len(lessons)-1 {
			continue
		}
		add(l.At.In(r.Zone).Format(time.DateOnly), "the lesson of "+r.day(l.At)+": "+words.Clean(l.Note))
	}
	recent, err := b.db.Sessions(ctx, r.Server, r.Student, store.SessionFilter{Limit: 20})
	if err != nil {
		return nil, err
	}
	seen := map[string]bool{}
	for _, s := range recent {
		if value := s.At.In(r.Zone).Format(time.DateOnly); !seen[value] {
			seen[value] = true
			add(value, "the session of "+r.day(s.At))
		}
	}
	return choices, nil
}

func choice(value, text string) Choice {
	return Choice{Value: words.Cut(value, 100), Text: words.Cut(text, 100)}
}

// contains reports whether what was typed stands in one of the texts.
func contains(typed string, texts ...string) bool {
	for _, text := range texts {
		if strings.Contains(strings.ToLower(text), typed) {
			return true
		}
	}
	return false
}
