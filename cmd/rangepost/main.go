// Command rangepost answers posted practice sessions: as a bot in the chat
// (serve), for one file on the command line (read), or in a scripted demo.
package main

import (
	"context"
	"errors"
	"fmt"
	"io"
	"os"
	"os/signal"
	"syscall"

	"rangepost/analysis"

	"github.com/alecthomas/kong"
)

// Exit statuses of `read`; the other commands use the first two.
const (
	exitOK        = 0 // done; read: the file was read
	exitFailed    = 1 // refused, or failed
	exitQuestions = 2 // read: questions about the file remain
)

func main() {
	ctx, stop := signal.NotifyContext(context.Background(), os.Interrupt, syscall.SIGTERM)
	defer stop()
	os.Exit(run(ctx, os.Args[1:], os.Stdin, os.Stdout, os.Stderr))
}

// commands is the command line.
type commands struct {
	Read     readCommand     `cmd:"" help:"Read session files and say why the balls finished where they did."`
	Plan     planCommand     `cmd:"" help:"Lay out a trial before it is hit, and judge it by files."`
	WorkBack workBackCommand `cmd:"" help:"Say what a shot asks of the club, or what becomes of the ball if the club changes."`
	Try      tryCommand      `cmd:"" help:"Open the bot on a page of its own, to hand it a file and press its buttons."`
	Demo     demoCommand     `cmd:"" help:"Play a scripted fortnight at Saltmarsh Links through the real bot and write its transcript."`
	Serve    serveCommand    `cmd:"" help:"Run the bot."`
	Invite   inviteCommand   `cmd:"" help:"Print the link that brings the bot to a server, with the permissions it needs."`
	Check    checkCommand    `cmd:"" help:"Check folder, token, database, clock and permissions, and say how to mend each."`
	Backup   backupCommand   `cmd:"" help:"Copy the database while the bot runs."`
	Restore  restoreCommand  `cmd:"" help:"Put a backup in place of a database."`
	Copy     copyCommand     `cmd:"" help:"Copy everything from one database to another, of either kind."`
	Version  versionCommand  `cmd:"" help:"Print the version."`
}

// streams are what a command reads and writes.
type streams struct {
	in       io.Reader
	out, err io.Writer
}

// An exit ends a command with a status that is not a failure to report.
type exit int

func (e exit) Error() string { return fmt.Sprintf("exit status %d", int(e)) }

// run is main without the process: its tests call it.
func run(ctx context.Context, args []string, in io.Reader, out, errOut io.Writer) int {
	var cli commands
	status := -1
	parser, err := kong.New(&cli,
		kong.Name("rangepost"),
		kong.Description("A bot for golf coaches who follow their students between lessons."),
		kong.UsageOnError(),
		kong.Writers(out, errOut),
		kong.Exit(func(code int) { status = code }),
		kong.BindTo(ctx, (*context.Context)(nil)),
		kong.Bind(streams{in, out, errOut}),
	)
	if err != nil {
		fmt.Fprintln(errOut, "rangepost:", err)
		return exitFailed
	}
	parsed, err := parser.Parse(args)
	if status >= 0 { // --help
		return status
	}
	if err != nil {
		fmt.Fprintf(errOut, "rangepost: %v\nTry: rangepost --help\n", err)
		return exitFailed
	}
	var code exit
	var refusal *analysis.Refusal
	switch err := parsed.Run(); {
	case err == nil:
		return exitOK
	case errors.As(err, &code):
		return int(code)
	case errors.As(err, &refusal):
		fmt.Fprintf(errOut, "rangepost: %v\nhint: %s\n", err, refusal.Hint)
		return exitFailed
	default:
		fmt.Fprintf(errOut, "rangepost: %v\n", err)
		return exitFailed
	}
}
