package sessionfile

import (
	"fmt"
	"math/rand/v2"
	"strings"
	"testing"

	"rangepost/analysis"
	"rangepost/analysis/flight"
)

// TestUnitByTheFlight writes sessions without units of carry and height, of balls
// that fly by other published coefficients than the reader's, shorter and
// longer, into and down the wind. None is read in a wrong unit; where height and
// time in the air are given, most are not asked about.
func TestUnitByTheFlight(t *testing.T) {
	balls := map[string]flight.Model{}
	for name, c := range map[string]flight.Coefficients{"blended": flight.Blended{}, "high spin": flight.HighSpin{}, "evidence": flight.Evidence{}} {
		m := flight.Standard()
		m.Coefficients = c
		balls[name] = m
		m.Coefficients = flight.Varied{Coefficients: c, Lift: 0.9, Drag: 1.12}
		balls[name+", short"] = m
		m.Coefficients, m.Wind = c, flight.Wind{Speed: 2}
		balls[name+", into the wind"] = m
		m.Wind.From = 180 * degree
		balls[name+", down the wind"] = m
	}
	rng := rand.New(rand.NewPCG(3, 2026))
	read, asked := 0, 0
	for name, m := range balls {
		for _, club := range []struct {
			name                string
			speed, launch, spin float64
		}{{"driver", 68, 12, 2700}, {"5i", 58, 14.5, 5200}, {"8i", 48, 19.5, 7800}} {
			for _, carried := range []string{"m", "yd"} {
				for _, high := range []string{carried, "ft"} { // as files give them
					var b strings.Builder
					b.WriteString("Club,Ball speed (m/s),Launch angle (deg),Spin (rpm),Carry,Apex,Descent angle (deg),Flight time (s)\n")
					for range 12 {
						l := analysis.Launch{Speed: club.speed + 1.2*rng.NormFloat64(), Angle: (club.launch + rng.NormFloat64()) * degree, Spin: (club.spin + 250*rng.NormFloat64()) * analysis.RevPerMinute}
						to := m.Fly(l)
						fmt.Fprintf(&b, "%s,%.1f,%.1f,%.0f,%.1f,%.1f,%.1f,%.2f\n", club.name, l.Speed, l.Angle/degree, l.Spin/analysis.RevPerMinute,
							to.Carry/unitNamed(carried, length).scale, to.Apex/unitNamed(high, length).scale, to.Descent/degree, to.Time)
					}
					r := reading(t, b.String(), Options{})
					if len(r.Questions) > 0 {
						asked++
						continue
					}
					read++
					said := strings.Join(r.Decisions, "; ")
					for heading, unit := range map[string]string{"Carry": carried, "Apex": high} {
						if !strings.Contains(said, "'"+heading+"': read in "+unit+",") {
							t.Errorf("%s, %s: %s in %s: %s", name, club.name, heading, unit, said)
						}
					}
				}
			}
		}
	}
	t.Logf("%d read, %d asked", read, asked)
	if read < asked {
		t.Errorf("%d read, %d asked; want most read", read, asked)
	}
}
