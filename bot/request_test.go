package bot_test

import (
	"fmt"
	"time"

	"rangepost/bot"
)

func ExampleRequest_Recalls() {
	at := time.Date(2026, 5, 4, 14, 2, 7, 0, time.UTC)
	file := bot.Attachment{Name: "wren_7i"}
	for _, r := range []bot.Request{
		{Kind: bot.CommandRequest, Command: "mine export"},
		{Kind: bot.CommandRequest, Command: "post", Files: map[string]bot.Attachment{"1": file}},
		{Kind: bot.MentionRequest, Message: &bot.Message{Files: []bot.Attachment{file, file}}},
		{Kind: bot.PressRequest},
	} {
		r.At = at
		fmt.Println(r.Recalls())
	}
	// Output:
	// Your `/mine export`, asked <t:1777903327:T>
	// Your `/post` with wren\_7i, asked <t:1777903327:T>
	// Your message with 2 files, asked <t:1777903327:T>
	// The button you pressed, asked <t:1777903327:T>
}
