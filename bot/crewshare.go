package bot

import "slices"

// A share is what a process does next so that each of a crew comes to serve as
// many shards as any other, give or take one.
type share struct {
	Take []string // that nobody serves and fall to it
	Give string   // that it hands over, "" for none
}

// shareOut reckons a process's share. Everybody who looks at the same crew reckons
// the same, so nobody needs to be in charge: what is free falls to whoever serves
// the fewest, in the order of their lives; when nothing is free and somebody
// serves two more than somebody else, the first who serves the most hands one
// over. So shards move one at a time, each is served again before the next moves,
// and no more of them move than must. lives holds me.
func shareOut(me string, lives, shards []string, owner func(shard string) string) (s share) {
	serves := map[string]int{}
	for _, shard := range shards {
		serves[owner(shard)]++
	}
	least := func(a, b string) int { return serves[a] - serves[b] }
	moving := false
	for _, shard := range shards {
		if slices.Contains(lives, owner(shard)) {
			continue
		}
		moving = true
		to := slices.MinFunc(lives, least)
		serves[to]++
		if to == me {
			s.Take = append(s.Take, shard)
		}
	}
	if moving {
		return s
	}
	most, fewest := slices.MaxFunc(lives, least), slices.MinFunc(lives, least)
	if most != me || serves[most]-serves[fewest] < 2 {
		return s
	}
	for _, shard := range shards {
		if owner(shard) == me {
			s.Give = shard // the last one: the first are the oldest
		}
	}
	return s
}
