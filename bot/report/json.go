package report

import (
	"bytes"
	"encoding/json"
	"math"

	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/pattern"
	"rangepost/analysis/sessionfile"
	"rangepost/analysis/timeline"
	"rangepost/analysis/trial"
	"rangepost/bot/words"
)

// Schema names the JSON document; its number changes only if a key changes
// meaning or goes.
const Schema = "rangepost.read/1"

// JSON is the whole report as one object: SI lengths and speeds, angles in
// degrees, signs as in package analysis. What was not measured or could not be
// told is null. Keys are kept; new ones may be added.
func (r Report) JSON() ([]byte, error) {
	return indent(r.document())
}

// RefusalJSON is the document of a file that could not be read.
func RefusalJSON(refusal *analysis.Refusal) ([]byte, error) {
	var row, column any
	if refusal.Row > 0 {
		row = refusal.Row
	}
	if refusal.Column != "" {
		column = refusal.Column
	}
	return indent(object{
		{"schema", Schema},
		{"error", object{
			{"code", refusal.Code},
			{"message", refusal.What()},
			{"row", row},
			{"column", column},
			{"hint", refusal.Hint},
		}},
	})
}

func indent(v any) ([]byte, error) {
	flat, err := json.Marshal(v)
	if err != nil {
		return nil, err
	}
	var buf bytes.Buffer
	if err := json.Indent(&buf, flat, "", "  "); err != nil {
		return nil, err
	}
	buf.WriteByte('\n')
	return buf.Bytes(), nil
}

// An object is a JSON object whose keys keep their order: the numbers of a
// shot come from the table of numbers, which no struct type can follow.
type object []member

type member struct {
	key   string
	value any
}

// MarshalJSON writes the members in order.
func (o object) MarshalJSON() ([]byte, error) {
	var buf bytes.Buffer
	buf.WriteByte('{')
	for i, m := range o {
		if i > 0 {
			buf.WriteByte(',')
		}
		key, err := json.Marshal(m.key)
		if err != nil {
			return nil, err
		}
		value, err := json.Marshal(m.value)
		if err != nil {
			return nil, err
		}
		buf.Write(key)
		buf.WriteByte(':')
		buf.Write(value)
	}
	buf.WriteByte('}')
	return buf.Bytes(), nil
}

// figure rounds to a millionth of the unit, below anything measured, so that
// the conversion to degrees does not print its rounding error.
func figure(v, scale float64) any {
	v /= scale
	if math.IsNaN(v) || math.IsInf(v, 0) {
		return nil
	}
	return math.Round(v*1e6) / 1e6
}

// estimate is the E of the schema.
func estimate(e analysis.Estimate, scale float64) any {
	switch {
	case e.N == 0:
		return nil
	case !e.OK:
		return object{{"mean", figure(e.Mean, scale)}, {"low", nil}, {"high", nil}, {"sd", nil}}
	}
	return object{
		{"mean", figure(e.Mean, scale)},
		{"low", figure(e.Low, scale)},
		{"high", figure(e.High, scale)},
		{"sd", figure(e.SD, scale)},
	}
}

func (r Report) document() object {
	shots := make([]object, 0, len(r.Session.Shots))
	for _, s := range r.Session.Shots {
		shots = append(shots, shotObject(s))
	}
	sets := make([]object, 0, len(r.Sets))
	for _, s := range r.Sets {
		sets = append(sets, r.setObject(s))
	}
	return object{
		{"schema", Schema},
		{"version", Version()},
		{"seed", r.Seed},
		{"model", r.modelObject()},
		{"file", fileObject(r.Reading)},
		{"hand", r.Session.Hand.String()},
		{"ball", string(r.Session.Ball)},
		{"shots", shots},
		{"sets", sets},
		{"trial", r.trialObject()},
		{"control", r.controlObjects()},
		{"warnings", orEmpty(r.Warnings())},
		{"sentences", orEmpty(r.Sentences())},
	}
}

func fileObject(r sessionfile.Reading) object {
	questions := make([]object, 0, len(r.Questions))
	for _, q := range r.Questions {
		choices := make([]object, 0, len(q.Choices))
		for _, c := range q.Choices {
			choices = append(choices, object{{"value", c.Value}, {"text", c.Text}})
		}
		questions = append(questions, object{{"key", q.Key}, {"text", q.Text}, {"choices", choices}})
	}
	return object{
		{"name", r.File.Name},
		{"sha256", r.File.SHA256},
		{"rows_read", r.File.RowsRead},
		{"summary_rows_dropped", r.File.SummaryRowsDropped},
		{"decisions", orEmpty(r.Decisions)},
		{"questions", questions},
	}
}

func shotObject(s analysis.Shot) object {
	o := object{
		{"n", s.N},
		{"row", s.Row},
		{"club", s.Club.Key()},
		{"set", s.Label},
		{"used", s.Aside == analysis.Used},
		{"set_aside", string(s.Aside)},
		{"why", s.Why},
	}
	inferred := []string{}
	for _, n := range analysis.Numbers() {
		var value any
		if v, ok := s.Value(n); ok {
			value = figure(v, n.JSONScale())
		}
		o = append(o, member{n.JSONKey(), value})
		if s.Inferred(n) {
			inferred = append(inferred, n.JSONKey())
		}
	}
	return append(o, member{"inferred", inferred})
}

func (r Report) setObject(s Set) object {
	parts := make([]object, 0, len(s.Pattern.Parts))
	for i, part := range s.Pattern.Parts {
		n := make([]int, len(part.Shots))
		for k, shot := range part.Shots {
			n[k] = shot.N
		}
		its := Set{Set: part.Set, Pattern: part.Pattern, Cause: s.Cause.Parts[i]}
		parts = append(parts, object{
			{"shots", n},
			{"pattern", patternObject(its.Pattern)},
			{"delivery", deliveryObject(its.Cause)},
			{"cause", r.causeObject(its)},
		})
	}
	return object{
		{"club", s.Club.Key()},
		{"set", s.Label},
		{"balls", len(s.Shots)},
		{"used", len(s.Used())},
		{"pattern", patternObject(s.Pattern)},
		{"delivery", deliveryObject(s.Cause)},
		{"cause", r.causeObject(s)},
		{"parts", parts},
		{"distance", distanceObject(s.Target, s.Cause.Distance)},
		{"work_back", workBackObject(s.Cause.WorkBack)},
		{"brief", briefObject(s.Brief)},
		{"asked", askedObject(s)},
	}
}

func patternObject(p pattern.Pattern) object {
	var ellipse, width any
	if e := p.Ellipse80; e != nil {
		// Full axes, as a ruler on the picture would find them.
		ellipse = object{{"major_m", figure(2*e.Major, 1)}, {"minor_m", figure(2*e.Minor, 1)}, {"angle_deg", figure(e.Angle, analysis.Degree)}}
	}
	if p.Width80OK {
		width = figure(p.Width80, 1)
	}
	return object{
		{"lateral_m", estimate(p.Lateral, 1)},
		{"carry_m", estimate(p.Carry, 1)},
		{"width80_m", width},
		{"ellipse80", ellipse},
		{"mishits", orEmpty(p.Mishits)},
		{"with_mishits", object{{"lateral_m", estimate(p.WithMishits.Lateral, 1)}, {"carry_m", estimate(p.WithMishits.Carry, 1)}}},
	}
}

func deliveryObject(c cause.Result) (delivery object) {
	for _, n := range analysis.Numbers() {
		if n.Info().Of == analysis.OfClub {
			delivery = append(delivery, member{n.JSONKey(), estimate(c.Delivery[n], n.JSONScale())})
		}
	}
	return delivery
}

func (r Report) causeObject(s Set) object {
	c := s.Cause
	var scatter, confidence any
	if sh := c.Scatter; sh != nil {
		scatter = object{
			{"face", figure(sh.Face, 1)},
			{"path", figure(sh.Path, 1)},
			{"strike", figure(sh.Strike, 1)},
			{"speed", figure(sh.Speed, 1)},
			{"unexplained", figure(sh.Unexplained, 1)},
		}
	}
	if c.Verdict != cause.TwoPatterns {
		confidence = figure(c.Confidence, 1)
	}
	missing := []string{}
	for _, n := range c.Missing {
		missing = append(missing, n.JSONKey())
	}
	return object{
		{"verdict", string(c.Verdict)},
		{"or", orNull(c.Or)},
		{"confidence", confidence},
		{"inferred", c.Inferred},
		{"miss_m", estimate(c.Miss, 1)},
		{"face_m", estimate(c.Face, 1)},
		{"path_m", estimate(c.Path, 1)},
		{"rest_m", estimate(c.Rest, 1)},
		{"face_worth_m_per_deg", figure(c.FaceWorth*analysis.Degree, 1)},
		{"path_worth_m_per_deg", figure(c.PathWorth*analysis.Degree, 1)},
		{"practical_zero_m", figure(c.PracticalZero, 1)},
		{"scatter_share", scatter},
		{"more_balls", c.MoreBalls},
		{"missing", missing},
		{"sentence", r.Verdict(s)},
	}
}

func workBackObject(w cause.WorkBack) any {
	if !w.OK {
		return nil
	}
	var tool, grounds any
	if w.Tool != "" {
		tool, grounds = string(w.Tool), string(w.Grounds)
	}
	return object{
		{"smallest", object{{"face_deg", figure(w.FaceBy, analysis.Degree)}, {"path_deg", figure(w.PathBy, analysis.Degree)}}},
		{"face_alone_deg", estimate(w.FaceAlone, analysis.Degree)},
		{"path_alone_deg", estimate(w.PathAlone, analysis.Degree)},
		{"number", w.Number.Info().Key},
		{"tool", tool},
		{"tool_share", figure(w.ToolShare, 1)},
		{"tool_grounds", grounds},
	}
}

// orNull is a neighbour of the verdict, null for none.
func orNull(v cause.Verdict) any {
	if v == "" {
		return nil
	}
	return string(v)
}

func distanceObject(target float64, d cause.Distance) any {
	if !d.Known {
		return nil
	}
	return object{
		{"verdict", string(d.Verdict)},
		{"confidence", figure(d.Confidence, 1)},
		{"target_m", figure(target, 1)},
		{"miss_m", estimate(d.Miss, 1)},
		{"speed_m", estimate(d.Speed, 1)},
		{"strike_m", estimate(d.Strike, 1)},
		{"loft_m", estimate(d.Loft, 1)},
		{"spin_m", estimate(d.Spin, 1)},
		{"air_m", estimate(d.Air, 1)},
		{"rest_m", estimate(d.Rest, 1)},
		{"usual_sessions", d.Against},
	}
}

func briefObject(k *timeline.Kept) any {
	if k == nil {
		return nil
	}
	scale := k.Brief.Number.JSONScale()
	bound := func(v *float64) any {
		if v == nil {
			return nil
		}
		return figure(*v, scale)
	}
	return object{
		{"number", k.Brief.Number.JSONKey()},
		{"low", bound(k.Brief.Low)},
		{"high", bound(k.Brief.High)},
		{"inside", k.Inside},
		{"of", k.Of},
		{"share", figure(k.Share, 1)},
		{"share_low", figure(k.ShareLow, 1)},
		{"share_high", figure(k.ShareHigh, 1)},
	}
}

// trialObject has the rows of every club's trial; the baseline of the first stands
// before them.
func (r Report) trialObject() any {
	if len(r.Trials) == 0 {
		return nil
	}
	var rows, compensation []object
	for _, t := range r.Trials {
		rows = append(rows, rowObjects(t)...)
		compensation = append(compensation, compensationObjects(r.plain(), t)...)
	}
	return object{{"baseline", r.Trials[0].Sets[0].Label}, {"rows", orEmpty(rows)}, {"compensation", orEmpty(compensation)}}
}

func rowObjects(t trial.Result) []object {
	rows := make([]object, 0, len(t.Rows))
	for _, row := range t.Rows {
		side := t.Sets[row.Set]
		scale := row.Number.JSONScale()
		var low, high, p any
		if row.OK {
			low, high, p = figure(row.Low, scale), figure(row.High, scale), figure(row.PAdjusted, 1)
		}
		rows = append(rows, object{
			{"club", side.Club.Key()},
			{"baseline", t.Sets[0].Label},
			{"set", side.Label},
			{"number", row.Number.JSONKey()},
			{"difference", figure(row.Difference, scale)},
			{"low", low},
			{"high", high},
			{"p_adjusted", p},
			{"verdict", string(row.Verdict)},
			{"more_balls", object{{"baseline", row.MoreBase}, {"set", row.MoreSet}}},
		})
	}
	return rows
}

func compensationObjects(v words.Voice, t trial.Result) []object {
	compensation := make([]object, 0, len(t.Compensations))
	for _, c := range t.Compensations {
		side := t.Sets[c.Set]
		var cancelled, low, high any
		if c.Opposed {
			cancelled, low, high = figure(c.Cancelled, 1), figure(c.Low, 1), figure(c.High, 1)
		}
		compensation = append(compensation, object{
			{"club", side.Club.Key()},
			{"set", side.Label},
			{"face_effect_m", figure(c.FaceM, 1)},
			{"path_effect_m", figure(c.PathM, 1)},
			{"cancelled", cancelled},
			{"low", low},
			{"high", high},
			{"sentence", v.Compensation(t, c.Set)},
		})
	}
	return compensation
}

func orEmpty[T any](s []T) []T {
	if s == nil {
		return []T{}
	}
	return s
}
