package words

import (
	"fmt"

	"rangepost/analysis"
	"rangepost/analysis/plan"
)

// ClaimAsked asks what a claim means for the club.
func (v Voice) ClaimAsked(p plan.Plan, claim string) string {
	return "The claim: " + v.Note(claim) + ". If it is so, which way does the " + p.Number.Short() + " go with " + v.planLabel(p, 1) + "?"
}

// ClaimMeans says a claim as what the club has to do if it is so.
func (v Voice) ClaimMeans(p plan.Plan, claim string, way int) string {
	return "The claim: " + v.Note(claim) + ". If it is so, with " + v.planLabel(p, 1) + " the " + p.Number.Short() + " goes " + v.way(p.Number, way) + "."
}

// ClaimAnswered answers a claim in its own words.
func (v Voice) ClaimAnswered(p plan.Plan, claim string, way int, held, told bool) string {
	says := "These balls cannot tell whether the " + p.Number.Short() + " goes " + v.way(p.Number, way)
	switch {
	case told && held:
		says = "What it asks of the club happens: the " + p.Number.Short() + " goes " + v.way(p.Number, way) + "; why, the club does not tell"
	case told:
		says = "What it asks of the club does not happen: the " + p.Number.Short() + " does not go " + v.way(p.Number, way)
	}
	return "The claim: " + v.Note(claim) + ". " + says + "."
}

// way is the word for a change up or down.
func (v Voice) way(n analysis.Number, way int) string {
	lower, higher := n.Changes(v.Hand)
	if way < 0 {
		return lower
	}
	return higher
}

// Forecasts says how good somebody's forecasts were: Brier's score (1950, Monthly
// Weather Review 78:1), a mean squared error.
func Forecasts(n int, score float64) string {
	return fmt.Sprintf("Of your %s so far the score is %.2f: 0 is perfect, 0.25 is saying 50 %% each time.", Count(n, "forecast"), score)
}
