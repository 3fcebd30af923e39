package plan

import "math/rand/v2"

// draw lays out blocks with a turn of every set in each, in an order drawn by
// chance for each block, and deals the blocks out to visits as evenly as they go.
func draw(blocks, turn, sets int, seed uint64) []Turn {
	rng := rand.New(rand.NewPCG(seed, 0x706c_616e))
	perVisit := max(1, mostAVisit/(turn*sets))
	visits := ceil(blocks, perVisit)
	turns := make([]Turn, 0, blocks*sets)
	for b := range blocks {
		for _, set := range rng.Perm(sets) {
			turns = append(turns, Turn{Set: set, Balls: turn, Block: b, Visit: b * visits / blocks})
		}
	}
	return turns
}
