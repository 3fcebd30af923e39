//go:build !race

// The library itself has a data race when it resumes (v0.18.15, its gateway's
// CloseWithCode against heartbeat), which the race detector would report here.

package standin_test

import (
	"bytes"
	"context"
	"io"
	"log/slog"
	"testing"
	"time"

	"github.com/disgoorg/disgo"
	"github.com/disgoorg/disgo/bot"
	"github.com/disgoorg/disgo/discord"
	"github.com/disgoorg/disgo/events"
	"github.com/disgoorg/disgo/gateway"
	"github.com/disgoorg/disgo/rest"

	"rangepost/bot/standin"
)

// A client library that is neither ours nor the one the bot uses connects,
// registers a command, is asked with a file, answers late with a file of its
// own, and is pressed and written to. So the stand-in does not merely agree
// with itself.
func TestForeignClient(t *testing.T) {
	s, err := standin.Start(standin.Config{})
	if err != nil {
		t.Fatal(err)
	}
	defer s.Close()
	server := s.Server("Saltmarsh Links")
	place := server.Channel("range")
	wren := server.Join(s.User("Wren"))
	ctx, cancel := context.WithTimeout(context.Background(), 20*time.Second)
	defer cancel()

	ready := make(chan *events.Ready, 1)
	servers := make(chan *events.GuildReady, 1)
	messages := make(chan *events.MessageCreate, 10)
	fail := func(err error) {
		if err != nil {
			t.Error(err)
		}
	}
	var asked discord.SlashCommandInteractionData
	client, err := disgo.New(s.Token(),
		bot.WithLogger(slog.New(slog.NewTextHandler(io.Discard, nil))),
		bot.WithRestClientConfigOpts(rest.WithURL(s.URL()+"/api/v10")),
		bot.WithGatewayConfigOpts(
			gateway.WithURL("ws"+s.URL()[len("http"):]+"/gateway"),
			gateway.WithCompress(false),
			gateway.WithIntents(gateway.IntentGuilds, gateway.IntentGuildMessages, gateway.IntentDirectMessages),
		),
		bot.WithEventListenerFunc(func(e *events.Ready) { ready <- e }),
		bot.WithEventListenerFunc(func(e *events.GuildReady) { servers <- e }),
		bot.WithEventListenerFunc(func(e *events.MessageCreate) { messages <- e }),
		bot.WithEventListenerFunc(func(e *events.ApplicationCommandInteractionCreate) {
			asked = e.SlashCommandInteractionData()
			fail(e.DeferCreateMessage(true))
			_, err := e.Client().Rest().UpdateInteractionResponse(e.ApplicationID(), e.Token(), discord.NewMessageUpdateBuilder().
				SetContent("read").
				AddFile("post.png", "what it shows", bytes.NewReader([]byte("\x89PNG"))).
				AddActionRow(discord.NewPrimaryButton("Cause", "v1/cause")).
				Build())
			fail(err)
		}),
		bot.WithEventListenerFunc(func(e *events.ComponentInteractionCreate) {
			fail(e.UpdateMessage(discord.NewMessageUpdateBuilder().SetContent("pressed " + e.Data.CustomID()).Build()))
		}),
	)
	if err != nil {
		t.Fatal(err)
	}
	defer client.Close(ctx)
	if err := client.OpenGateway(ctx); err != nil {
		t.Fatal(err)
	}
	select {
	case r := <-ready:
		if r.User.ID.String() != s.Bot().ID || len(r.Guilds) != 1 {
			t.Errorf("ready: %+v", r.EventReady)
		}
	case <-ctx.Done():
		t.Fatal("no READY")
	}
	select {
	case g := <-servers:
		if g.Guild.Name != "Saltmarsh Links" || g.Guild.MemberCount != 2 {
			t.Errorf("server: %+v", g.Guild)
		}
	case <-ctx.Done():
		t.Fatal("no GUILD_CREATE")
	}

	if _, err := client.Rest().SetGlobalCommands(client.ApplicationID(), []discord.ApplicationCommandCreate{
		discord.SlashCommandCreate{Name: "post", Description: "Read a file", Options: []discord.ApplicationCommandOption{
			discord.ApplicationCommandOptionAttachment{Name: "file", Description: "The file", Required: true},
		}},
	}); err != nil {
		t.Fatal(err)
	}
	out, err := wren.Slash(ctx, place, "post", standin.Options{"file": standin.File{Name: "a.csv", Bytes: []byte("x")}})
	if err != nil {
		t.Fatal(err)
	}
	if out.Text != "read" || !out.Ephemeral || out.Picture() == nil || out.Picture().Alt != "what it shows" {
		t.Errorf("Wren sees %+v", out)
	}
	if a := asked.Attachment("file"); a.Filename != "a.csv" || a.Size != 1 {
		t.Errorf("asked with %+v", a)
	}
	out, err = wren.Press(ctx, &out.Message, "Cause")
	if err != nil || out.Text != "pressed v1/cause" {
		t.Errorf("press: %v, %+v", err, out)
	}

	wren.Say(place, "hello @Rangepost", standin.File{Name: "b.csv", Bytes: []byte("y")})
	select {
	case m := <-messages:
		if len(m.Message.Attachments) != 1 || len(m.Message.Mentions) != 1 || m.Message.Author.Username != "Wren" {
			t.Errorf("message: %+v", m.Message)
		}
	case <-ctx.Done():
		t.Fatal("no MESSAGE_CREATE")
	}

	// The session survives a cut connection.
	s.Cut()
	if err := s.Connected(ctx, 1); err != nil {
		t.Fatal("not resumed")
	}
	wren.Say(place, "again @Rangepost")
	select {
	case m := <-messages:
		if m.Message.Content == "" {
			t.Error("a message that mentions the application came without its text")
		}
	case <-ctx.Done():
		t.Fatal("nothing after the resume")
	}
	if n := s.Identifies(); n != 1 {
		t.Errorf("%d sessions, want 1", n)
	}
}
