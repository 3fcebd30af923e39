package report

import (
	"context"

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

// TrialPicture draws the trial; there must be one.
func (r Report) TrialPicture(ctx context.Context, who string) (Picture, error) {
	v := r.plain()
	png, err := pictures.Trial(ctx, pictures.TrialInput{Voice: v, Title: v.TrialTitle(*r.Trial), Who: who, Result: *r.Trial})
	return Picture{PNG: png, Alt: v.AltTrial(*r.Trial)}, err
}
