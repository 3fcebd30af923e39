package report

import (
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// compare runs the trial of the club with the most sets, nil when no club has
// two.
func compare(sets []Set, baseline string, seed uint64) (*trial.Result, error) {
	count := map[analysis.Club]int{}
	var club analysis.Club
	for _, s := range sets {
		if count[s.Club]++; count[s.Club] > count[club] {
			club = s.Club
		}
	}
	var compared []analysis.Set
	var causes []cause.Result
	for _, s := range sets {
		if s.Club == club {
			compared, causes = append(compared, s.Set), append(causes, s.Cause)
		}
	}
	if len(compared) < 2 {
		if baseline != "" {
			return nil, analysis.Refuse("Name the sets first, as in 1-10 normal, 11-20 strong grip.", "There is only one set, so there is nothing to compare.")
		}
		return nil, nil
	}
	base, ok := trial.BaselineIndex(compared, baseline)
	if !ok {
		return nil, analysis.Refuse("Name one of them.", "No set is called \"%s\": the sets are %s.", baseline, names(compared))
	}
	c := trial.Config{Seed: seed}
	c.FaceWorth, c.PathWorth, c.WorthDoubt = cause.WorthBetween(causes...)
	c.Split = map[int]trial.Metres{}
	for _, r := range causes {
		for _, b := range r.Balls {
			c.Split[b.N] = trial.Metres{Face: b.FaceM, Path: b.PathM}
		}
	}
	result, err := trial.Of(compared, base, c)
	if err != nil {
		return nil, err
	}
	return &result, nil
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
