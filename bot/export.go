package bot

import (
	"context"
	"errors"
	"fmt"
	"strconv"

	"rangepost/analysis"
	"rangepost/store"
)

// runExport is /mine export: everything kept about the asker, as zip archives
// of the files as they were posted, the balls as they were read, and the rest
// as JSON.
func runExport(ctx context.Context, b *Bot, r Call) (Reply, error) {
	part := 1
	if text := r.Options["part"]; text != "" {
		var err error
		if part, err = strconv.Atoi(text); err != nil || part < 1 {
			return Reply{}, analysis.Refuse("The first is 1.", "there is no such part.").Of("part")
		}
	}
	archive, parts, err := b.records.Export(ctx, r.Server, r.Asker.ID, part)
	if errors.Is(err, store.ErrNotFound) {
		return private("Nothing is kept about you here."), nil
	}
	if err != nil {
		return Reply{}, err
	}
	if archive == nil {
		return Reply{}, analysis.Refuse(fmt.Sprintf("The last is %d.", parts), "there is no such part.").Of("part")
	}
	text := "Everything kept about you: each session's file as you posted it, its balls as they were read (SI units, right of target positive), and everything else as JSON."
	if parts > 1 {
		text += fmt.Sprintf(" This is part %d of %d; `/mine export part:%d` has the next.", part, parts, part%parts+1)
	}
	return Reply{Text: text, Files: []File{{Name: fmt.Sprintf("rangepost-%d.zip", part), Bytes: archive}}}, nil
}
