package timeline

import (
	"math"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// sameAir brings a distance of every session whose air and launch are known to
// one air: that of the latest session that says its own, without wind. What a
// launch does in either air is the flight model's; the difference is added to
// every ball. other counts sessions that could not be brought there, their air
// or their launch being unknown, while others could.
func sameAir(number analysis.Number, sessions []analysis.SessionValues) (brought []analysis.SessionValues, other int) {
	if _, ok := flown(number, flight.Landing{}, nil); !ok {
		return sessions, 0
	}
	latest := -1
	for i, s := range sessions {
		if len(s.Values) > 0 && known(s.Conditions) && (latest < 0 || !s.At.Before(sessions[latest].At)) {
			latest = i
		}
	}
	if latest < 0 {
		return sessions, 0
	}
	still := sessions[latest].Conditions
	still.WindSpeed, still.WindFrom = nil, nil
	reference := flight.Of(still)
	for _, s := range sessions {
		if len(s.Values) == 0 {
			continue
		}
		if !known(s.Conditions) || s.Launch.Speed <= 0 {
			other++
			brought = append(brought, s)
			continue
		}
		own := flight.Of(s.Conditions)
		there, _ := flown(number, own.Fly(s.Launch), &own)
		here, _ := flown(number, reference.Fly(s.Launch), &reference)
		moved := make([]float64, len(s.Values))
		for i, v := range s.Values {
			moved[i] = v + here - there
		}
		s.Values, s.Normalised, s.AirDoubt = moved, true, airDoubt*(here-there)
		brought = append(brought, s)
	}
	return brought, other
}

// airDoubt is how far what another air does to a flight may be off, as a fraction
// of it, a standard deviation: from sea level to 1600 m published drag and lift
// give an iron 9.7 to 15.2 m more where the model gives 11.3, a driver 11.1 to
// 17.2 of 12.0, a wedge 6.2 to 10.4 of 6.9 [C]. A flight model that makes too
// much of it in one session does in all.
const airDoubt = 0.3

// widened is a mean that is off by a standard deviation more.
func widened(e analysis.Estimate, by float64) analysis.Estimate {
	if e.OK && by != 0 {
		e.Low, e.High = e.Mean-math.Hypot(e.Mean-e.Low, normal95*by), e.Mean+math.Hypot(e.High-e.Mean, normal95*by)
	}
	return e
}

// normal95 is the standard normal's 0.975 quantile.
const normal95 = 1.959964

// known reports whether a session says anything of its air.
func known(c analysis.Conditions) bool {
	return c.Temperature != nil || c.Altitude != nil || c.WindSpeed != nil
}

// flown is the number of a flight; ok is false for numbers that the air does
// not touch. A nil model is asked only whether it does.
func flown(n analysis.Number, l flight.Landing, m *flight.Model) (v float64, ok bool) {
	switch n {
	case analysis.Carry:
		return l.Carry, true
	case analysis.Lateral:
		return l.Lateral, true
	case analysis.Apex:
		return l.Apex, true
	case analysis.Descent:
		return l.Descent, true
	case analysis.FlightTime:
		return l.Time, true
	case analysis.Total, analysis.LateralTotal:
		if m == nil {
			return 0, true
		}
		x, y := m.Rest(l)
		if n == analysis.Total {
			return x, true
		}
		return y, true
	}
	return 0, false
}
