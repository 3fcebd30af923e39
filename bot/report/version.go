package report

import (
	"runtime/debug"

	"rangepost/analysis"
	"rangepost/analysis/flight"
	"rangepost/analysis/impact"
)

// Version is the version of the program, as the build recorded it.
func Version() string {
	info, ok := debug.ReadBuildInfo()
	if !ok {
		return "unknown"
	}
	version := info.Main.Version
	for _, s := range info.Settings {
		if s.Key == "vcs.revision" {
			version += " " + s.Value
		}
	}
	return version
}

// modelObject is the constants the figures rest on, so that they can be made
// again.
func modelObject() object {
	m := flight.Standard()
	heads := object{}
	for _, name := range []string{"driver", "7i", "pw"} {
		c, err := analysis.ParseClub(name)
		if err != nil {
			continue
		}
		heads = append(heads, member{name, impact.HeadOf(c)})
	}
	return object{{"air_density_kg_per_m3", figure(m.Air.Density, 1)}, {"heads", heads}}
}
