package report

import (
	"rangepost/analysis"
	"rangepost/analysis/cause"
	"rangepost/analysis/flight"
	"rangepost/analysis/impact"
)

// modelObject is the constants the figures rest on, so that they can be made
// again: of the verdict, of the air, and of the head of every club there is.
func (r Report) modelObject() object {
	c := causeConfig(r.Session, nil, r.Seed)
	air := cause.ModelOf(analysis.Club{}, c).Flight
	heads := object{}
	written := map[string]bool{}
	for _, set := range r.Sets {
		if key := set.Club.Key(); !written[key] {
			written[key] = true
			heads = append(heads, member{key, headObject(cause.ModelOf(set.Club, c).Head)})
		}
	}
	return object{
		{"draws", cause.DefaultDraws},
		{"level", cause.DefaultLevel},
		{"coefficients", "evidence"}, // flight.Evidence
		{"lift_doubt", flight.LiftSpread},
		{"drag_doubt", flight.DragSpread},
		{"air_density_kg_per_m3", figure(air.Air.Density, 1)},
		{"air_viscosity_pa_s", air.Air.Viscosity},
		{"wind_mps", figure(air.Wind.Speed, 1)},
		{"wind_from_deg", figure(air.Wind.From, analysis.Degree)},
		{"spin_decay", air.SpinDecay},
		{"heads", heads},
	}
}

// headObject is a head with the units of the schema: metres, degrees.
func headObject(h impact.Head) object {
	const degree = analysis.Degree
	return object{
		{"mass_kg", h.Mass},
		{"restitution", h.Restitution},
		{"tangential_restitution", h.Tangential},
		{"friction", h.Friction},
		{"sideways", h.Sideways},
		{"spin_scale", h.SpinScale},
		{"inertia_across_kg_m2", h.InertiaAcross},
		{"inertia_up_kg_m2", h.InertiaUp},
		{"depth_m", h.Depth},
		{"gear_scale", h.GearScale},
		{"bulge_m", h.Bulge},
		{"roll_m", h.Roll},
		{"usual", object{
			{"club_speed_mps", h.Usual.ClubSpeed},
			{"attack_deg", figure(h.Usual.Attack, degree)},
			{"attack_sd_deg", figure(h.Usual.AttackSD, degree)},
			{"spin_loft_deg", figure(h.Usual.SpinLoft, degree)},
			{"spin_loft_sd_deg", figure(h.Usual.SpinLoftSD, degree)},
			{"strike_bias_m", h.Usual.StrikeBias},
			{"strike_spread_m", h.Usual.StrikeSpread},
		}},
		{"doubt", object{
			{"face_share", h.Uncertainty.FaceShare},
			{"spin_scale", h.Uncertainty.SpinScale},
			{"restitution", h.Uncertainty.Restitution},
			{"friction", h.Uncertainty.Friction},
			{"gear_scale", h.Uncertainty.GearScale},
		}},
	}
}
