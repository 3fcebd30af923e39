// Package discord puts the conversations of package bot on Discord. It is the
// only package that knows the platform and the only importer of discordgo.
//
// What happens to an event:
//
//	gateway.go   a session of discordgo, kept alive; raw events only (link.go,
//	             and wire.go, which takes the events out before discordgo and
//	             gives it nothing that could harm it)
//	event.go     the event, decoded here, becomes a bot.Request
//	dispatch.go  written to the intake and acknowledged (ack.go), then handled:
//	             bounded workers, in order for each person, with a deadline
//	deliver.go   the bot.Reply becomes messages, by the interaction's token or,
//	             when that has died, in the channel
//	payload.go   the wire form of a reply
//	rest.go      the platform's REST interface, version 10
//	limits.go    patience: what is tried again, and the pauses, as a RoundTripper
//	holds.go     what the platform says must wait, and how long
//	budget.go    how many requests may be refused
//	slots.go     how many things go on at once, shared fairly over people
//	crew.go      serving as one of several processes: lives, leases, handing over
//	ledger.go    which events of a shard are written down, and so where another
//	             process goes on
//
// discordgo is used for the gateway alone. Its REST client keeps an entry for
// every interaction token it has seen, retries without bound, and puts tokens
// into its errors; its typed events lose a whole interaction to one component
// type it does not know, and its handlers run unordered and without recover.
//
// Visibility is settled at the acknowledgement and cannot change after it, so
// a reply that turns out private after a public acknowledgement (every error
// does) takes the public placeholder away and answers the asker alone.
//
// Nothing here logs a token, a person's id or a byte of a file: errors carry a
// route, never an address.
package discord
