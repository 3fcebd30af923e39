package bot

import (
	"context"

	"rangepost/analysis"
	"rangepost/bot/report"
	"rangepost/bot/words"
)

// runWorkBack is /work-back: what a shot asks of the club, or what becomes of the
// ball if the club changes, from the swing of a session.
func runWorkBack(ctx context.Context, b *Bot, r Call) (Reply, error) {
	shot, change := r.Options["shot"], r.Options["change"]
	switch {
	case shot == "" && change == "":
		return Reply{}, analysis.Refuse("Say shot: start 3 right, curve 8 left; or change: face 2 left, path 3 right.", "From which shot, or with which change?")
	case shot != "" && change != "":
		return Reply{}, analysis.Refuse("Ask one after the other.", "A shot and a change are two questions.")
	}
	club, err := clubAsked(r.Options["club"])
	if err != nil {
		return Reply{}, err
	}
	answer, err := b.records.Reread(ctx, r.Session)
	if err != nil {
		return Reply{}, err
	}
	if len(answer.Reading.Questions) > 0 {
		return askQuestions(r.Session, answer.Reading.Questions, Reply{about: r.Session.Student}), nil
	}
	var w report.WorkBack
	if shot != "" {
		if w, err = answer.ForShot(club, shot); err != nil {
			return Reply{}, of("shot", err)
		}
	} else if w, err = answer.ForChange(club, change); err != nil {
		return Reply{}, of("change", err)
	}
	reply := Reply{about: r.Session.Student, Text: words.Clip(words.Lines(w.Lines()...), MaxText)}
	b.illustrate(ctx, &reply, "work-back.png", func(ctx context.Context) (report.Picture, error) {
		return w.Picture(ctx, shownName(ctx, b, r.Session))
	})
	return reply, nil
}

// asShot is the sets of a session with the balls that nothing else is said of named
// as a shot that was asked for.
func asShot(ctx context.Context, b *Bot, r Call, sets, shot string) (string, error) {
	golfer, err := b.records.Golfer(ctx, r.Server, r.Student)
	if err != nil {
		return "", err
	}
	if shot, err = report.ShotAsked(shot, golfer.Shown); err != nil {
		return "", of("shot", err)
	}
	if sets != "" {
		sets += "; "
	}
	return sets + "all " + shot, nil
}
