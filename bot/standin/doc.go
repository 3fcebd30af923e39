// Package standin is a chat platform in a box: a server on loopback that speaks
// as much of the platform's REST interface (version 10) and gateway protocol as
// Rangepost uses, with people who can be told what to type and press. The demo
// and the end-to-end tests run the real bot against it.
//
// It is strict on purpose. What the platform refuses it refuses, with the same
// status and code: texts too long, too many buttons, an answer after three
// seconds, a second answer to the same press, a token that has died. Request
// fields it does not know are refused too, where the platform would quietly
// ignore them, because to us they are always mistakes.
//
// It can also be made to misbehave (faults.go, gatewayfaults.go): rate limits, server
// errors, slow and cut connections, lost sessions, events twice or out of
// order, files that are gone.
//
// A test or a script creates a world and then acts in it:
//
//	s, err := standin.Start(standin.Config{})
//	server := s.Server("Saltmarsh Links")
//	range_ := server.Channel("range")
//	wren := server.Join(s.User("Wren"))
//	out, err := wren.Slash(ctx, range_, "post", standin.Options{"file": file})
//
// The outcome is what that person then sees. Transcript gives everything
// anybody saw, in order.
//
// The rules come from the platform's public documentation (Discord developer
// documentation: Interactions, Message, Application Commands, Gateway, Rate
// Limits; API version 10).
package standin
