package bot

import (
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"
)

// Processes come and go at random and look at random; between two of these events
// they share evenly in the end, nobody ever serves what another does, and no more
// shards move than must.
func TestShareOut(t *testing.T) {
	for seed := range uint64(300) {
		rng := rand.New(rand.NewPCG(seed, 22))
		var shards []string
		for i := range 1 + rng.IntN(20) {
			shards = append(shards, fmt.Sprint("shard ", i))
		}
		owners := map[string]string{}
		var lives []string
		owner := func(s string) string {
			if !slices.Contains(lives, owners[s]) {
				return ""
			}
			return owners[s]
		}
		counts := func() (most, fewest int) {
			serves := map[string]int{}
			for _, s := range shards {
				serves[owner(s)]++
			}
			if serves[""] > 0 {
				return 99, 0
			}
			fewest = 99
			for _, l := range lives {
				most, fewest = max(most, serves[l]), min(fewest, serves[l])
			}
			return most, fewest
		}
		born := 0
		for range 12 {
			before := len(lives)
			if len(lives) < 2 || rng.IntN(2) == 0 {
				born++
				lives = append(lives, fmt.Sprint("life ", born))
			} else {
				i := rng.IntN(len(lives))
				lives = slices.Delete(lives, i, i+1)
			}
			given := 0
			looks := 0
			for ; ; looks++ {
				if most, fewest := counts(); most-fewest < 2 {
					break
				}
				if looks > 100*len(shards)*len(lives) {
					t.Fatalf("seed %d: %d lives never share %d shards evenly: %v", seed, len(lives), len(shards), owners)
				}
				me := lives[rng.IntN(len(lives))]
				got := shareOut(me, lives, shards, owner)
				for _, s := range got.Take {
					if by := owner(s); by != "" {
						t.Fatalf("seed %d: %s takes %s, which %s serves", seed, me, s, by)
					}
					owners[s] = me
				}
				if got.Give != "" {
					if owner(got.Give) != me {
						t.Fatalf("seed %d: %s gives %s, which is not its own", seed, me, got.Give)
					}
					owners[got.Give] = ""
					given++
				}
			}
			// Whoever joins gets their share and nobody else anything; whoever leaves
			// costs nothing but at most one move a life, of shares they made uneven.
			must := len(lives)
			if len(lives) > before {
				must = len(shards) / len(lives)
			}
			if given > must {
				t.Errorf("seed %d: %d shards moved when %d lives became %d, want %d at most", seed, given, before, len(lives), must)
			}
		}
	}
}
