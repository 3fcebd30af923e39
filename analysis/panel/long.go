package panel

import (
	"math/rand/v2"

	"rangepost/analysis"
)

// Sizes are the numbers of balls a study asks for.
func Sizes() []int { return []int{5, 8, 12, 20, 40, 60} }

// Cases is count cases spread evenly over worlds, clubs, columns, sizes and
// kinds: each of the five is dealt from its own shuffled pack, so that every
// value of each comes as often as any other, give or take one, and pairs of
// values meet about evenly. The same seed gives the same cases, and a longer
// list begins with a shorter one's.
func Cases(seed uint64, count int) []Case {
	rng := rand.New(rand.NewPCG(seed, 0x70616e656c))
	worlds, clubs, columns, sizes, kinds := Worlds(), Clubs(), AllColumns(), Sizes(), Kinds()
	world, club := deal(rng, len(worlds)), deal(rng, len(clubs))
	column, size, kind := deal(rng, len(columns)), deal(rng, len(sizes)), deal(rng, len(kinds))
	cases := make([]Case, count)
	for i := range cases {
		hand := analysis.RightHanded
		if rng.Float64() < 0.35 {
			hand = analysis.LeftHanded
		}
		cases[i] = Case{
			World: worlds[world()], Club: clubs[club()], Hand: hand, Balls: sizes[size()],
			Columns: columns[column()], Kind: kinds[kind()], Seed: rng.Uint64(),
		}
	}
	return cases
}

// deal gives the next of n values from a pack that is shuffled whenever it is
// used up.
func deal(rng *rand.Rand, n int) func() int {
	var pack []int
	return func() int {
		if len(pack) == 0 {
			pack = rng.Perm(n)
		}
		top := pack[0]
		pack = pack[1:]
		return top
	}
}
