package stat_test

import (
	"testing"

	"rangepost/analysis/stat"
)

// Ten invented sessions with a tie, and the flow of the Nile at Aswan
// 1871-1970 (R's datasets::Nile; Cobb 1978, Biometrika 65:243). R package
// trend 1.1.6, mk.test and sens.slope [C]; without ties, R's
// cor.test(method = "kendall") [C].
var (
	sessions = []float64{11.8, 12.4, 10.9, 11.2, 10.1, 10.6, 9.8, 9.9, 10.1, 8.7}
	nile     = []float64{1120, 1160, 963, 1210, 1160, 1160, 813, 1230, 1370, 1140, 995, 935, 1110, 994, 1020, 960, 1180, 799, 958, 1140, 1100, 1210, 1150, 1250, 1260, 1220, 1030, 1100, 774, 840, 874, 694, 940, 833, 701, 916, 692, 1020, 1050, 969, 831, 726, 456, 824, 702, 1120, 1100, 832, 764, 821, 768, 845, 864, 862, 698, 845, 744, 796, 1040, 759, 781, 865, 845, 944, 984, 897, 822, 1010, 771, 676, 649, 846, 812, 742, 801, 1040, 860, 874, 848, 890, 744, 749, 838, 1050, 918, 986, 797, 923, 975, 815, 1020, 906, 901, 1170, 912, 746, 919, 718, 714, 740}
)

func TestMannKendall(t *testing.T) {
	for _, c := range []struct {
		name          string
		values        []float64
		s             int
		varS, z, p, e float64
	}{
		{"sessions", sessions, -32, 124, -2.78388218141501, 0.00537125412158011, 0},
		{"Nile", nile, -1387, 112728.333333333, -4.1280665228441, 3.65826292166433e-05, 0},
	} {
		m, ok := stat.NewMannKendall(c.values)
		if !ok || m.S != c.s || m.PExact {
			t.Fatalf("%s: ok, S, PExact = %v, %d, %v; want true, %d, false", c.name, ok, m.S, m.PExact, c.s)
		}
		near(t, c.name+" Var S", m.VarS, c.varS, 1e-12)
		near(t, c.name+" Z", m.Z, c.z, 1e-12)
		near(t, c.name+" p", m.P, c.p, 1e-12)
	}
	m, _ := stat.NewMannKendall(sessions[:8])
	if m.S != -20 || !m.PExact {
		t.Fatalf("eight sessions: S, PExact = %d, %v; want -20, true", m.S, m.PExact)
	}
	near(t, "eight sessions p", m.P, 0.0141369047619048, 1e-14)
}

func TestTheilSen(t *testing.T) {
	for _, c := range []struct {
		name             string
		y                []float64
		slope, low, high float64
	}{
		{"sessions", sessions, -0.325, -0.45, -0.166666666666667},
		{"Nile", nile, -2.6, -3.62790697674419, -1.42857142857143},
	} {
		x := make([]float64, len(c.y))
		for i := range x {
			x[i] = float64(i)
		}
		got, ok := stat.NewTheilSen(x, c.y, 0.95)
		if !ok {
			t.Fatalf("%s: not ok", c.name)
		}
		near(t, c.name+" slope", got.Slope, c.slope, 1e-12)
		near(t, c.name+" low", got.Low, c.low, 1e-12)
		near(t, c.name+" high", got.High, c.high, 1e-12)
	}
}
