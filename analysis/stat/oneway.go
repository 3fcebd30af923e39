package stat

import "math"

// OneWay is the one-way random model: value j of group i is
//
//	mu + s(i) + e(i,j),  s ~ N(0, Between), e ~ N(0, Within)
//
// fitted by restricted maximum likelihood (Patterson & Thompson 1971,
// Biometrika 58:545). With theta = Between/Within and w = n/(1 + n theta) the
// criterion needs only each group's size, mean and sum of squares:
//
//	(N-1)(log(2 pi s2) + 1) + Sum log(1 + n theta) + log Sum w,
//	s2 = [SSW + Sum w (m - mu)^2]/(N-1),  mu = Sum w m / Sum w
type OneWay struct {
	Mean, SE        float64
	Between, Within float64   // variances
	Groups          []float64 // each group's best prediction less Mean
	Criterion       float64   // -2 log restricted likelihood at the fit
}

// NewOneWay fits the model; empty samples are skipped. ok is false under two
// groups, when no group has two values, or when no value within a group
// differs.
func NewOneWay(groups []Sample) (o OneWay, ok bool) {
	within, df, ok := Pooled(groups...)
	if !ok || !(within > 0) {
		return OneWay{}, false
	}
	ssw := within * float64(df)
	k, n := 0, 0
	for _, g := range groups {
		if g.N > 0 {
			k++
			n += g.N
		}
	}
	if k < 2 {
		return OneWay{}, false
	}
	at := func(theta float64) (mu, sw, rss, slope float64) {
		var swm, logs, sw2 float64
		for _, g := range groups {
			m := float64(g.N)
			w := m / (1 + m*theta)
			sw += w
			sw2 += w * w
			swm += w * g.Mean
			logs += w // d log(1 + m theta)/d theta
		}
		mu = swm / sw
		rss = ssw
		drss := 0.0
		for _, g := range groups {
			m := float64(g.N)
			w := m / (1 + m*theta)
			d := g.Mean - mu
			rss += w * d * d
			drss -= w * w * d * d
		}
		return mu, sw, rss, float64(n-1)*drss/rss + logs - sw2/sw
	}
	// The criterion falls while its slope is negative; where it rises from the
	// start the groups do not differ.
	slope := func(theta float64) float64 { _, _, _, s := at(theta); return s }
	theta := 0.0
	if slope(0) < 0 {
		high := 1.0
		for slope(high) < 0 && high < 1e12 {
			high *= 4
		}
		theta = root(slope, 0, high, 1e-13)
	}
	mu, sw, rss, _ := at(theta)
	o.Mean = mu
	o.Within = rss / float64(n-1)
	o.Between = theta * o.Within
	o.SE = math.Sqrt(o.Within / sw)
	o.Criterion = float64(n-1)*(math.Log(2*math.Pi*o.Within)+1) + math.Log(sw)
	for _, g := range groups {
		m := float64(g.N)
		o.Criterion += math.Log1p(m * theta)
		o.Groups = append(o.Groups, m*theta/(1+m*theta)*(g.Mean-mu))
	}
	return o, true
}
