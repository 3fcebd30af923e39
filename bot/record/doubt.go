package record

import (
	"context"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/challenge"
	"rangepost/analysis/integrity"
	"rangepost/store"
)

// Pasted is the name of a session that came without a file.
const Pasted = "pasted rows"

// ahead is how far a file's clock may be ahead of its posting: any clock on
// earth, and an hour set wrongly.
const ahead = 27 * time.Hour

// alwaysDated is of how many sessions somebody's files say when they were hit
// before one that does not is odd.
const alwaysDated = 3

// doubts are what the files of an entry themselves tell, as far as a host is to
// look at it before it counts.
func (rs *Records) doubts(ctx context.Context, e Entered, player string) (why []analysis.Warning, err error) {
	for _, s := range e.Sessions {
		written, err := rs.written(ctx, s)
		if err != nil {
			return nil, err
		}
		why = append(why, integrity.Doubtful(integrity.Of(written, s.Reading.Session), s.Reading.Session)...)
		for _, at := range written.Times {
			if at.After(s.Posted.Add(ahead)) {
				why = append(why, analysis.Warning{Code: challenge.DatedAhead})
				break
			}
		}
		if s.Name == Pasted {
			why = append(why, analysis.Warning{Code: challenge.TypedIn})
		}
		if s.Dated == analysis.Undated {
			infos, err := rs.db.Sessions(ctx, s.Server, player, store.SessionFilter{})
			if err != nil {
				return nil, err
			}
			dated := 0
			for _, info := range infos {
				switch {
				case info.ID == s.ID:
				case info.Dated == analysis.Undated:
					dated = -len(infos) // their files never say
				default:
					dated++
				}
			}
			if dated >= alwaysDated {
				why = append(why, analysis.Warning{Code: challenge.Undated})
			}
		}
	}
	return why, nil
}

// Accept lets an entry count that waits. Its error is store.ErrNotFound if it
// does not, store.ErrExpired once the challenge is closed.
func (rs *Records) Accept(ctx context.Context, server, entry, host string) error {
	return rs.db.AcceptEntry(ctx, server, entry, host)
}
