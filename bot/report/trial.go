package report

import (
	"errors"
	"slices"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// An Uncompared club has sets that make no trial: too many of them, say.
type Uncompared struct {
	Club analysis.Club
	Why  *analysis.Refusal
}

// compare runs the trial of every club with two sets or more, the club with the most
// sets first. A baseline that only some clubs have a set of is theirs alone; that none
// has is refused, and so is one that was asked for where no trial came of it.
func compare(sets []Set, baseline string, seed uint64) (trials []trial.Result, not []Uncompared, err error) {
	var clubs [][]Set
	at := map[analysis.Club]int{}
	for _, s := range sets {
		i, ok := at[s.Club]
		if !ok {
			i = len(clubs)
			at[s.Club], clubs = i, append(clubs, nil)
		}
		clubs[i] = append(clubs[i], s)
	}
	clubs = slices.DeleteFunc(clubs, func(of []Set) bool { return len(of) < 2 })
	slices.SortStableFunc(clubs, func(a, b []Set) int { return len(b) - len(a) })
	has := slices.ContainsFunc(clubs, func(of []Set) bool { return baselineOf(of, baseline) >= 0 })
	switch {
	case baseline == "":
	case len(clubs) == 0:
		return nil, nil, analysis.Refuse("Name the sets first, as in 1-10 normal, 11-20 strong grip.", "There is only one set, so there is nothing to compare.")
	case !has:
		return nil, nil, analysis.Refuse("Name one of them.", "No set is called \"%s\": the sets are %s.", baseline, names(plainSets(clubs[0])))
	}
	for _, of := range clubs {
		base := baselineOf(of, baseline)
		if base < 0 {
			base = baselineOf(of, "")
		}
		t, err := compareClub(of, base, seed)
		var why *analysis.Refusal
		switch {
		case errors.As(err, &why):
			not = append(not, Uncompared{of[0].Club, why})
		case err != nil:
			return nil, nil, err
		default:
			trials = append(trials, t)
		}
	}
	if baseline != "" && len(trials) == 0 {
		return nil, nil, not[0].Why
	}
	return trials, not, nil
}

// baselineOf is the set with a label among those of one club, -1 without one.
func baselineOf(of []Set, label string) int {
	if i, ok := trial.BaselineIndex(plainSets(of), label); ok {
		return i
	}
	return -1
}

func plainSets(of []Set) (sets []analysis.Set) {
	for _, s := range of {
		sets = append(sets, s.Set)
	}
	return sets
}

// compareClub is the trial of the sets of one club.
func compareClub(of []Set, base int, seed uint64) (trial.Result, error) {
	c := trial.Config{Seed: seed, Split: map[int]trial.Metres{}}
	var causes []cause.Result
	for _, s := range of {
		causes = append(causes, s.Cause)
		for _, b := range s.Cause.Balls {
			c.Split[b.N] = trial.Metres{Face: b.FaceM, Path: b.PathM}
		}
	}
	c.FaceWorth, c.PathWorth, c.WorthDoubt = cause.WorthBetween(causes...)
	return trial.Of(plainSets(of), base, c)
}

func names(sets []analysis.Set) string {
	var labels []string
	for _, s := range sets {
		if s.Label == "" {
			labels = append(labels, "the one without a name")
			continue
		}
		labels = append(labels, `"`+words.Clean(s.Label)+`"`) // made safe where the refusal is shown
	}
	return strings.Join(labels[:len(labels)-1], ", ") + " and " + labels[len(labels)-1]
}
