package plan

import (
	"fmt"
	"math"
	"strings"

	"rangepost/analysis"
	"rangepost/analysis/trial"
)

// Config is what a plan is made from.
type Config struct {
	Club   analysis.Club
	Labels []string // of the sets, the usual one first; one or two others

	// Number of interest, one that trials compare, and the smallest change of it
	// that matters, SI; 0 is its practical zero.
	Number analysis.Number
	Change float64

	// Earlier sessions of this golfer, whose balls with the club say how far
	// the number scatters from ball to ball. May be empty.
	Earlier []analysis.Session

	// Seed of the order of the turns.
	Seed uint64
}

// mostOthers is how many changes are tried beside the usual setup: with three the
// weakest of the promises would already want a hundred balls of each.
const mostOthers = 2

// checked is the config with its labels trimmed, or why no plan can be made of
// it: an *analysis.Refusal.
func (c Config) checked() (Config, error) {
	if c.Club.Unknown() {
		return c, analysis.Refuse("Name one, such as 7i or driver.", "A plan is for one club.").Of("club")
	}
	labels := make([]string, len(c.Labels))
	for i, l := range c.Labels {
		labels[i] = strings.Join(strings.Fields(l), " ")
		if labels[i] == "" {
			return c, analysis.Refuse("Name every set, such as \"normal\" and \"stronger grip\".", "A set has no name.").Of("against")
		}
		for _, other := range labels[:i] {
			if strings.EqualFold(other, labels[i]) {
				return c, analysis.Refuse("Give each set a name of its own.", "Two sets are called %q.", labels[i]).Of("against")
			}
		}
	}
	c.Labels = labels
	switch others := len(labels) - 1; {
	case others < 1:
		return c, analysis.Refuse("Say what to try, such as \"stronger grip\".", "A plan needs the usual setup and something to try against it.").Of("against")
	case others > mostOthers:
		return c, analysis.Refuse("Choose one or two; the others make the next plan.", "%d changes at once are too many.", others).Of("against")
	}
	if !compared(c.Number) {
		return c, analysis.Refuse("Choose one of: "+comparedList()+".", "Trials do not compare %s.", name(c.Number)).Of("number")
	}
	info := c.Number.Info()
	if math.IsNaN(c.Change) || c.Change < 0 || c.Change > (info.Most-info.Least)/2 {
		return c, analysis.Refuse("Say the smallest change that would matter to you.", "No change of %s is like that.", c.Number).Of("change")
	}
	return c, nil
}

// compared reports whether trials compare the number.
func compared(n analysis.Number) bool {
	for _, m := range trial.DefaultNumbers() {
		if m == n {
			return true
		}
	}
	return false
}

func comparedList() string {
	var names []string
	for _, n := range trial.DefaultNumbers() {
		names = append(names, n.String())
	}
	return strings.Join(names, ", ")
}

func name(n analysis.Number) string {
	if int(n) >= analysis.NumNumbers {
		return fmt.Sprintf("number %d", n)
	}
	return n.String()
}
