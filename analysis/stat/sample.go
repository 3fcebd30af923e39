package stat

import "gonum.org/v1/gonum/stat"

// A Sample is what the two-sample methods need of some values: how many, their
// mean and their sample variance. Variance means nothing when N < 2.
type Sample struct {
	N        int
	Mean     float64
	Variance float64

	// Counted is how many independent values these count for where each
	// resembles the one before, 0 where they are independent; see Streaky.
	Counted float64
}

// SampleOf summarises values. No values give the zero Sample.
func SampleOf(values []float64) Sample {
	switch len(values) {
	case 0:
		return Sample{}
	case 1:
		return Sample{N: 1, Mean: values[0]}
	}
	mean, variance := stat.MeanVariance(values, nil)
	return Sample{N: len(values), Mean: mean, Variance: variance}
}

// df is the sample's degrees of freedom.
func (s Sample) df() float64 { return float64(s.N - 1) }

// ofMean is the squared standard error of the sample's mean.
func (s Sample) ofMean() float64 {
	if s.Counted > 0 {
		return s.Variance / s.Counted
	}
	return s.Variance / float64(s.N)
}

// Streaky is the sample of values that came in such streaks.
func (s Sample) Streaky(k Streak) Sample {
	if k.N > 0 {
		s.Counted = float64(s.N) * k.Effective() / float64(k.N)
	}
	return s
}

// Pooled is the sample variance of several samples taken to share one
// variance, and its degrees of freedom; samples under two values add nothing.
// ok is false when none has two.
func Pooled(samples ...Sample) (variance float64, df int, ok bool) {
	sum := 0.0
	for _, s := range samples {
		if s.N >= 2 {
			sum += s.Variance * s.df()
			df += s.N - 1
		}
	}
	if df == 0 {
		return 0, 0, false
	}
	return sum / float64(df), df, true
}
