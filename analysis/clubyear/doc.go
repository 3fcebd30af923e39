// Package clubyear is test support: a year of challenges at the invented
// Saltmarsh Links, by another hand than the challenges'. Sixty members hit, post
// and enter, forget, leave, err and now and then cheat; what they did is known,
// and a referee holds what the product said of it against that.
//
// # Who is judged
//
// The product is a [Product]: bytes, times and plain words go in, what a member or
// a host would read comes out. The package knows neither its scoring nor its
// tables; its balls fly by package panel, its files are written by a hand of their
// own, and its own [Rule.Score] is the plainest reading of each rule.
//
// # What is played
//
//   - [New] is a club and its calendar: 60 members, two seasons of 12 challenges.
//   - [Links.Parts] is what each member does about each challenge, with the truth of
//     it, and [Links.Play] does it to a product. The [Year] that makes is for the
//     mishaps, the catches, the seasons and the chances of an ordinary field.
//   - A [Contest] is a challenge among equals of whom one may game it: for the share
//     of wins of a [Way], and whether equals win equally.
//
// A [Mishap] is what befalls the honest, a [Way] what somebody does to win. Both
// rewrite an honest [Part]: which sessions are hit, what their files hold, what is
// posted and entered, and when.
//
// # What is asked
//
// A way's fair share is one in the size of its field, since all in it are equal.
// An honest entry that is due and is made to wait or turned away is held wrongly;
// a gamed one that waits, is refused or is left out of the score is caught. Whom a
// host lets in who is asked is the host's: [Careful] knows the truth and is the
// best there can be, [Trusting] accepts whatever waits.
//
// # A study
//
//	y := clubyear.New(seed, zone).Play(adapter(), clubyear.Careful)
//	clubyear.TallyTable(clubyear.Tallies(y.Entries))  // kinds caught and not caught
//	clubyear.WronglyHeld(y.Entries)                   // honest entries held
//	y.Calibration()                                   // chances of being the best
//	y.Follow(1, 6, seed)                              // points against plain counts
//
//	for i := range n {                                // of every Way of every RuleKind
//		c := clubyear.Contest{Rule: rule, Size: 5, Way: way, Seed: seed + i, Zone: zone}
//		outcomes = append(outcomes, c.Play(adapter(), host))
//	}
//	clubyear.ShareOf(outcomes)                        // wins against the fair share
//	clubyear.Tallies(outcomes[i].Entries)             // or of all of them together
//	clubyear.Equal(honest, false, group)              // Way "": do equals win equally
//	clubyear.ConfidenceOf(honest)                     // what is said of the best of them
//
// What is not here: outages of the bot, play-offs, a host who removes an entry
// or calls a challenge off, members who take consent back.
//
// The figures of golfers and devices are common practice, no source, where nothing
// else is said.
package clubyear
