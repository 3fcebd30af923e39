package sessionfile

import (
	"fmt"
	"math"
	"slices"
	"strconv"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// setAside marks the shots that were misread: impossible ones, those whose
// numbers disagree, and rows that are there twice. Nothing is deleted.
func setAside(shots []analysis.Shot) (decisions []string) {
	for i := range shots {
		if why := impossible(shots[i]); why != "" {
			shots[i].Aside, shots[i].Why = analysis.Impossible, why
		}
	}
	duplicates(shots)
	decisions = carries(shots)
	startLines(shots)
	landings(shots)
	for i := range shots {
		if why := contradiction(shots[i]); why != "" {
			mark(&shots[i], analysis.Inconsistent, why)
		}
	}
	return decisions
}

// mark sets a shot aside unless it is already.
func mark(s *analysis.Shot, aside analysis.Aside, why string) {
	if s.Aside == analysis.Used {
		s.Aside, s.Why = aside, why
	}
}

func impossible(s analysis.Shot) string {
	if !slices.ContainsFunc(analysis.Numbers(), s.Has) {
		return "nothing was measured of it"
	}
	for _, n := range analysis.Numbers() {
		v, ok := s.Value(n)
		switch info := n.Info(); {
		case !ok:
		case n == analysis.Smash && v > info.Most:
			return fmt.Sprintf("the ball came off at %.2f times the club's speed; %.2f is the most there is", v, info.Most)
		case v < info.Least:
			return fmt.Sprintf("no shot has so little %s", n)
		case v > info.Most:
			return fmt.Sprintf("no shot has so much %s", n)
		}
	}
	return ""
}

// contradiction says where a shot's own numbers break a definition.
func contradiction(s analysis.Shot) string {
	v := func(n analysis.Number) float64 { x, _ := s.Value(n); return x }
	has := func(ns ...analysis.Number) bool {
		return !slices.ContainsFunc(ns, func(n analysis.Number) bool { return !s.Has(n) })
	}
	switch {
	case has(analysis.Face, analysis.Path, analysis.FaceToPath) && math.Abs(v(analysis.Face)-v(analysis.Path)-v(analysis.FaceToPath)) > 1.6*degree:
		return "face-to-path is not face minus path"
	case has(analysis.Smash, analysis.BallSpeed, analysis.ClubSpeed) && math.Abs(v(analysis.Smash)*v(analysis.ClubSpeed)-v(analysis.BallSpeed)) > 0.06*v(analysis.BallSpeed)+0.5:
		return "smash factor is not ball speed over club speed"
	case has(analysis.Carry, analysis.Total) && v(analysis.Total) < 0.9*v(analysis.Carry)-5:
		return "total is shorter than carry"
	}
	return ""
}

// duplicates marks every row but the first that repeats all the numbers of
// another. Five numbers with a dozen digits between them do not come twice.
func duplicates(shots []analysis.Shot) {
	seen := map[string]bool{}
	var key, digits []byte
	for i := range shots {
		key = append(key[:0], shots[i].Club.Key()+"|"+shots[i].Label...)
		known, told := 0, 0
		for _, n := range analysis.Numbers() {
			v, ok := shots[i].Value(n)
			key = append(key, '|')
			if ok {
				key = strconv.AppendFloat(key, v, 'g', 9, 64)
			}
			if ok && v != 0 {
				known++
				told += len(strconv.AppendFloat(digits[:0], math.Abs(v), 'g', 3, 64))
			}
		}
		if known < 5 || told < 12 {
			continue
		}
		if seen[string(key)] {
			mark(&shots[i], analysis.Duplicate, "the same row is there twice")
		}
		seen[string(key)] = true
	}
}

const (
	// carryOff is how far a carry may be off what the flight model makes of
	// the launch, beside what all of the session's are off.
	carryOff = 0.20
	// allOff is how far they may be off together before it is said.
	allOff = 0.20
	// enough shots show what a session's carries are off together.
	enough = 5
)

// carries sets aside shots whose carry does not belong to their launch. Range
// balls, thin air and a device's own model move all carries of a session
// alike, so each is held against the middle of its club's.
func carries(shots []analysis.Shot) (decisions []string) {
	m := flight.Standard()
	ratios := make([]float64, len(shots))
	byClub := map[analysis.Club][]float64{}
	var all []float64
	for i, s := range shots {
		l, missing := s.Launch()
		if slices.ContainsFunc(missing, func(n analysis.Number) bool { return n != analysis.Direction && n != analysis.SpinAxis }) || s.Aside != analysis.Used || !sane(l) {
			continue
		}
		if v, ok := s.Value(analysis.Carry); ok {
			ratios[i] = v / math.Max(1, m.Fly(l).Carry)
			byClub[s.Club] = append(byClub[s.Club], ratios[i])
			all = append(all, ratios[i])
		}
	}
	usual := func(rs []float64) float64 {
		if len(rs) < enough {
			return 1
		}
		return min(max(median(rs), 0.65), 1.3)
	}
	whole := usual(all)
	clubs := map[analysis.Club]float64{}
	for club, rs := range byClub {
		clubs[club] = whole
		if len(rs) >= enough {
			clubs[club] = usual(rs)
		}
	}
	for i, r := range ratios {
		if r == 0 {
			continue
		}
		if off := r/clubs[shots[i].Club] - 1; math.Abs(off) > carryOff {
			mark(&shots[i], analysis.Inconsistent, fmt.Sprintf("carry is %.0f %% %s what its ball speed, launch and spin give", 100*math.Abs(off), overUnder(off)))
		}
	}
	if off := whole - 1; math.Abs(off) > allOff {
		decisions = append(decisions, fmt.Sprintf("carries are about %.0f %% %s what ball speed, launch and spin give: short-flight balls, thin air or another unit than the file says", 100*math.Abs(off), overUnder(off)))
	}
	return decisions
}

func overUnder(off float64) string {
	if off < 0 {
		return "under"
	}
	return "over"
}

// outliers finds the gaps that stand out from the middle of all by more than
// least and more than six of their own noises. gaps are NaN where unknown.
func outliers(gaps []float64, least float64) (far []int) {
	known := slices.DeleteFunc(slices.Clone(gaps), math.IsNaN)
	if len(known) == 0 {
		return nil
	}
	middle := 0.0
	if len(known) >= enough {
		middle = median(known)
	}
	sizes := make([]float64, len(known))
	for i, g := range known {
		sizes[i] = math.Abs(g - middle)
	}
	// 1.4826 makes the median distance of a normal sample its deviation.
	limit := max(least, 6*1.4826*median(sizes))
	if len(known) < enough {
		limit = least
	}
	for i, g := range gaps {
		if !math.IsNaN(g) && math.Abs(g-middle) > limit {
			far = append(far, i)
		}
	}
	return far
}

// startLines sets aside balls that did not start between face and path.
func startLines(shots []analysis.Shot) {
	gaps := make([]float64, len(shots))
	for i, s := range shots {
		gaps[i] = math.NaN()
		f, okF := s.Value(analysis.Face)
		p, okP := s.Value(analysis.Path)
		d, okD := s.Value(analysis.Direction)
		if okF && okP && okD && s.Aside == analysis.Used {
			gaps[i] = d - min(max(d, min(f, p)), max(f, p))
		}
	}
	for _, i := range outliers(gaps, 4*degree) {
		mark(&shots[i], analysis.Inconsistent, "the ball did not start between face and path")
	}
}

// landings sets aside balls that did not come down where start and curve lead.
func landings(shots []analysis.Shot) {
	m := flight.Standard()
	gaps := make([]float64, len(shots))
	for i, s := range shots {
		gaps[i] = math.NaN()
		l, missing := s.Launch()
		carry, okC := s.Value(analysis.Carry)
		lateral, okL := s.Value(analysis.Lateral)
		if len(missing) == 0 && okC && okL && carry > 20 && s.Aside == analysis.Used && sane(l) {
			to := m.Fly(l)
			gaps[i] = math.Atan(lateral/carry) - math.Atan2(to.Lateral, to.Carry)
		}
	}
	for _, i := range outliers(gaps, 8*degree) {
		mark(&shots[i], analysis.Inconsistent, "the ball did not come down where its start line and curve lead")
	}
}
