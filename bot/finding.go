package bot

import (
	"fmt"
	"strings"

	"rangepost/analysis/plan"
	"rangepost/analysis/tally"
	"rangepost/bot/record"
	"rangepost/bot/words"
)

// findingText says a finding in a few words: "the stronger grip closed the face
// 2.2°, the path undid it".
func findingText(g record.Golfer, f record.Finding) string {
	voice := voiceOf(g)
	switch f.Kind {
	case record.BriefMissed, record.BriefOver:
		return f.Brief.Number.Short() + " " + voice.Stands(f.Brief.Kept, f.Brief.Standing)
	case record.NeverPosted:
		return "never posted"
	case record.SilentSinceLesson, record.Silent:
		return voice.Silent(f.Silent, f.Kind == record.SilentSinceLesson)
	case record.Drifting:
		return voice.Drifted(f.Series)
	case record.LessonTold:
		return voice.Taught(f.Series)
	case record.TallyAgainst:
		return voice.TallyAgainst(f.Tally.Club, tally.Of(f.Tally.Flights).Start, tally.Starts(f.Starts))
	case record.FileWaits:
		return words.FileWaits(f.At)
	case record.PlanStuck:
		return words.PlanStuck(f.Begun, f.At)
	case record.PlanSettled:
		return voice.PlanSettled(plan.Status(f.Plan.Status), f.Plan.Found)
	case record.TrialFound:
		return voice.TrialFound(*f.Gist.Trial)
	}
	if f.Gist == nil {
		return words.Posts(f.Posts, f.Oldest)
	}
	text := voice.Found(f.Gist.Set)
	if again := voice.Again(f.Again, f.Before); again != "" {
		text += ", " + again
	}
	return text
}

// findingAsk is what a finding asks of the coach, "" if no more than a look.
func findingAsk(f record.Finding) words.Ask {
	switch f.Kind {
	case record.BriefMissed:
		if f.Brief.Kept.Enough {
			return words.AskEasier
		}
		return words.AskWhy
	case record.BriefOver:
		return words.AskAnother
	case record.NeverPosted:
		return words.AskFirst
	case record.SilentSinceLesson, record.Silent:
		return words.AskWrite
	case record.Drifting, record.LessonTold:
		return words.AskTimeline
	case record.TallyAgainst:
		return words.AskMeasure
	case record.TrialFound:
		return words.TrialAsk(*f.Gist.Trial)
	case record.SameAgain:
		return words.AskElse
	case record.FileWaits:
		return words.AskAnswer
	case record.PlanStuck:
		return words.AskWhy
	case record.PlanSettled:
		return words.AskTrial
	}
	return ""
}

// findingLine says the most pressing of some findings about a student, at most
// so many and the rest counted, what the first of them asks, and how many posts
// there are to look at.
func findingLine(g record.Golfer, found []record.Finding, most int) string {
	var says []string
	posts, told, more := "", "", 0
	for _, f := range found {
		if f.Kind == record.ToLookAt {
			if posts = words.Posts(f.Posts, f.Oldest); f.Gist == nil || f.Session == told {
				continue
			}
		}
		if len(says) == most {
			more++
			continue
		}
		told = f.Session
		says = append(says, findingText(g, f))
	}
	text := ""
	if len(says) > 0 {
		text = words.Sentence(strings.Join(says, "; ")) + "."
		if more > 0 {
			text += fmt.Sprintf(" And %d more.", more)
		}
		if ask := findingAsk(found[0]); ask != "" {
			text += " " + string(ask) + "."
		}
		text += " "
	}
	if posts != "" {
		text += words.Sentence(posts) + "."
	}
	return strings.TrimSpace(text)
}
