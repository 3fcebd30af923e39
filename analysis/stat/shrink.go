package stat

// Shrink draws a mean with squared standard error v toward the group's mean,
// where the group's own variance is between: weight between/(between + v) on
// the mean itself, so that few balls count for little.
func Shrink(mean, v, group, between float64) float64 {
	if between+v <= 0 {
		return mean
	}
	w := between / (between + v)
	return group + w*(mean-group)
}
