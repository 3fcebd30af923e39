package report

import (
	"context"

	"rangepost/analysis/trial"
	"rangepost/bot/pictures"
)

// A Picture is a PNG and the text that says what it shows.
type Picture struct {
	PNG []byte
	Alt string // at most 1,024 characters
}

// Picture draws set i: where its balls finished, and its delivery. who is
// whose balls they are, "" to leave it out.
func (r Report) Picture(ctx context.Context, i int, who string) (Picture, error) {
	if r.Asks(i) {
		return r.askedPicture(ctx, i, who)
	}
	s, v := r.Sets[i], r.plain()
	png, err := pictures.Post(ctx, pictures.PostInput{
		Voice: v, Title: v.Title(s.Pattern, s.Cause), Who: who,
		Set: s.Set, Pattern: s.Pattern, Cause: s.Cause, Target: s.Target, Brief: s.Brief,
	})
	return Picture{PNG: png, Alt: v.AltPost(r.name(v, s), s.Pattern, s.Cause)}, err
}

// TrialPicture draws a trial of the report.
func (r Report) TrialPicture(ctx context.Context, t trial.Result, who string) (Picture, error) {
	v := r.plain()
	png, err := pictures.Trial(ctx, pictures.TrialInput{Voice: v, Title: v.TrialTitle(t), Who: who, Result: t})
	return Picture{PNG: png, Alt: v.AltTrial(t)}, err
}
