package sessionfile

import (
	"fmt"
	"math"
	"strings"

	"rangepost/analysis"
)

// The values of a question about signs.
const (
	signTarget     = "target"
	signTargetLeft = "target-left"
	signGolfer     = "golfer"
)

// why is the reason for asking about signs, as the start of a sentence.
func (s *settle) why(sure bool, open int, best pose) string {
	switch {
	case s.disagrees(best):
		return "The sideways numbers of this file disagree with each other"
	case open > 1 && s.hand != analysis.LeftHanded:
		return "These shots cannot tell which way each column counts, so that the answer is taken for all"
	case open > 1:
		return "These shots cannot tell which way each column counts"
	case len(s.unheard) > 0 && sure && s.hand != analysis.LeftHanded:
		return "I do not know what " + strings.Join(s.unheard, ", ") + " holds, which might have told"
	case !sure:
		return "Some columns of this file count the other way round than others"
	case s.hand == analysis.LeftHanded:
		return "Nothing in a left-hander's file can tell whether it is mirrored"
	}
	return "These shots cannot tell which way this column counts"
}

// wentTo asks, by what a golfer saw of a ball, to which side a number of it is.
var wentTo = map[field]struct{ ask, right, left string }{
	lateral:      {"did it finish left or right of the target?", "right of the target", "left of the target"},
	lateralTotal: {"did it finish left or right of the target?", "right of the target", "left of the target"},
	direction:    {"did it start left or right of the target?", "right of the target", "left of the target"},
	face:         {"did the face point left or right of the target?", "right of the target", "left of the target"},
	path:         {"did the club go to the left or to the right?", "to the right", "to the left"},
	faceToPath:   {"did the face point left or right of the path?", "right of the path", "left of the path"},
	spinAxis:     {"did it curve to the left or to the right?", "to the right", "to the left"},
}

// signsQuestion asks what a plus means in the first column of a cluster, by the
// ball that tells it best: the one that lies furthest to a side.
func signsQuestion(key, why string, c cluster) analysis.Question {
	column := c.columns[0]
	says := wentTo[column.field]
	most := 0
	for i, cell := range column.cells {
		if cell.ok && math.Abs(cell.v) > math.Abs(column.cells[most].v) {
			most = i
		}
	}
	shown := column.cells[most].v
	text := fmt.Sprintf("Ball %d of the file shows %+.4g in '%s': %s %s.", most+1, shown, column.text, says.ask, why)
	if len(c.columns) > 1 {
		text += " The other columns follow from it."
	}
	same, other := says.right, says.left
	if shown < 0 {
		same, other = other, same
	}
	return analysis.Question{Key: key, Text: text, Choices: []analysis.Choice{
		{Value: signTarget, Text: sentenceCase(same)},
		{Value: signTargetLeft, Text: sentenceCase(other)},
		{Value: signGolfer, Text: "That goes by the hand: the device mirrors it for left-handers"},
	}}
}

func sentenceCase(s string) string { return strings.ToUpper(s[:1]) + s[1:] }
