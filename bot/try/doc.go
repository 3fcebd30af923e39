// Package try is a page on which somebody plays with the bot before they invite
// it anywhere: the real bot on the stand-in, with people to be and places to
// write in, commands with their options, buttons, menus and forms.
//
// # How it works
//
// Every page is made by the server from what the stand-in shows that person in
// that place (view.go), and everything that is done is a form sent to it
// (act.go), which does it on the stand-in and leads back to the page. So the
// page works without script. What is pinned stands above the other messages.
// With it (page.js) nothing is loaded anew: the script sends the form, reads
// the page that comes back, and puts in what changed; and it reads the page
// again whenever the server says that something did (watch.go). The forms of
// commands are made from the bot's list of commands (forms.go), so a new
// command appears by itself.
//
// # Who gets in
//
// Door (door.go) lets in who has the key in the address that was printed, once,
// and whoever is in by a cookie. It refuses names that are not its own, so that
// no other page can lead a browser here, and sends a policy under which no page
// of ours runs a script but the one file, loads anything from elsewhere, or is
// shown inside another. All text goes through html/template; what the chat
// platform would show as markup is made of the few marks the bot uses
// (markup.go).
package try
