package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// A coach who asks for it gets one message a week with what changed on their
// roster, at the hour and in the time zone they choose. A message that was
// missed, because the bot was not running, is made up for by one that covers
// all of the time since.

// runDigest is /digest.
func runDigest(ctx context.Context, b *Bot, r Call) (Reply, error) {
	before, err := b.db.Digest(ctx, r.Server, r.Asker.ID)
	none := errors.Is(err, store.ErrNotFound)
	if err != nil && !none {
		return Reply{}, err
	}
	if r.Options["day"] == "off" {
		if err := b.db.EndDigest(ctx, r.Server, r.Asker.ID); err != nil && !errors.Is(err, store.ErrNotFound) {
			return Reply{}, err
		}
		return private("No weekly message any more. `/roster` says the same at any time."), nil
	}
	set := before
	if none {
		set = store.Digest{Server: r.Server, Coach: r.Asker.ID, Weekday: time.Monday, Hour: 8, TimeZone: r.Zone.String()}
	}
	if text := r.Options["day"]; text != "" {
		n, err := strconv.Atoi(text)
		if err != nil || n < 0 || n > 6 {
			return Reply{}, analysis.Refuse("Choose one from the list.", "I do not know that day.").Of("day")
		}
		set.Weekday = time.Weekday(n)
	}
	if text := r.Options["hour"]; text != "" {
		if set.Hour, err = strconv.Atoi(text); err != nil || set.Hour < 0 || set.Hour > 23 {
			return Reply{}, analysis.Refuse("Say a whole hour from 0 to 23.", "that is no hour.").Of("hour")
		}
	}
	if r.Options["zone"] != "" {
		if set.TimeZone, err = zoneAsked(r); err != nil {
			return Reply{}, err
		}
	}
	if err := b.db.SetDigest(ctx, set); err != nil {
		return Reply{}, err
	}
	at := record.Scheduled(set.Weekday, set.Hour, b.now().In(record.Zone(set.TimeZone)))
	next := day(at.AddDate(0, 0, 7))
	if !none && at.After(before.UpTo) {
		next = "within minutes, for the time since " + r.day(before.UpTo)
	}
	return private(fmt.Sprintf("One message a week with what changed among your students, to you directly: %ss at %02d:00, %s. The next: %s. If nothing changed, none comes.",
		set.Weekday, set.Hour, words.Escape(set.TimeZone), next)), nil
}

// zoneAsked reads the option "zone".
func zoneAsked(r Call) (string, error) {
	text := strings.TrimSpace(r.Options["zone"])
	if _, ok := record.KnownZone(text); !ok || text == "" {
		return "", analysis.Refuse("Write it as continent and city: Europe/London, America/New_York.", "\"%s\" is not a time zone I know.", words.Cut(text, 40)).Of("zone")
	}
	return text, nil
}

// zones are offered while a time zone is typed; any other the world's database
// has may be written.
var zones = []string{
	"UTC", "Europe/London", "Europe/Dublin", "Europe/Lisbon", "Europe/Madrid", "Europe/Paris", "Europe/Brussels", "Europe/Amsterdam",
	"Europe/Berlin", "Europe/Zurich", "Europe/Rome", "Europe/Vienna", "Europe/Prague", "Europe/Warsaw", "Europe/Copenhagen", "Europe/Oslo",
	"Europe/Stockholm", "Europe/Helsinki", "Europe/Athens", "Europe/Istanbul", "Africa/Johannesburg", "Africa/Lagos", "Africa/Nairobi",
	"Africa/Casablanca", "America/New_York", "America/Toronto", "America/Chicago", "America/Denver", "America/Phoenix", "America/Los_Angeles",
	"America/Vancouver", "America/Mexico_City", "America/Bogota", "America/Sao_Paulo", "America/Argentina/Buenos_Aires", "America/Santiago",
	"Asia/Dubai", "Asia/Kolkata", "Asia/Bangkok", "Asia/Singapore", "Asia/Hong_Kong", "Asia/Shanghai", "Asia/Manila", "Asia/Seoul",
	"Asia/Tokyo", "Australia/Perth", "Australia/Brisbane", "Australia/Sydney", "Australia/Melbourne", "Pacific/Auckland", "Pacific/Honolulu",
}

func completeZone(_ context.Context, _ *Bot, r Call) (choices []Choice, err error) {
	typed := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(r.Options["zone"]), " ", "_"))
	for _, zone := range zones {
		if contains(typed, zone) && len(choices) < 25 {
			choices = append(choices, Choice{Value: zone, Text: zone})
		}
	}
	return choices, nil
}

// A Due is a message whose time has come.
type Due struct {
	record.News
	Nonce string // the same for the same message, at most 25 characters
	Reply Reply  // without a text when nothing changed: nothing is to be sent

	Telling store.Telling // what is to be written down once it was sent
}

// due lists the digests whose hour has come, and was not kept yet, at a time.
// It changes nothing.
func (b *Bot) due(ctx context.Context, now time.Time) (all []Due, err error) {
	news, err := b.records.DueNews(ctx, now)
	for _, n := range news {
		d := Due{News: n}
		left, students := 0, 0
		if !n.Empty() {
			d.Reply.Text, left, students = digestText(n)
		}
		d.Telling = n.Telling(d.Reply.Text, left, students)
		sum := sha256.Sum256([]byte(n.Digest.Server + " " + n.Digest.Coach + " " + n.At.UTC().Format(time.RFC3339) + " " + d.Telling.Sum))
		d.Nonce = hex.EncodeToString(sum[:12])
		all = append(all, d)
	}
	return all, err
}

// mostLine is how long what is said of one student may be: with what stands around
// it it fits into a message of the platform (2,000 characters), though not into
// MaxText.
const mostLine = 1500

// mostEarlier is how many of the briefs that were replaced are told one by one.
const mostEarlier = 3

// digestText says what changed for a coach, as far as there is room: of so many
// of those who left, and of so many of the students. The rest is for the next
// message.
func digestText(n record.News) (text string, left, students int) {
	const end = "In the server: `/roster` for all of it, `/review` to go through the posts, `/digest day:off` to end this."
	var says strings.Builder
	room := MaxText - len(end) - 150 // for the two lines before the end
	add := func(line string) bool {
		if room -= len([]rune(line)); room < 0 {
			return false
		}
		says.WriteString(line)
		return true
	}
	add(fmt.Sprintf("Your students since %s:\n", day(n.Since)))
	for _, s := range n.Left {
		lead := "No longer among your students: "
		if left > 0 {
			lead = ", "
		}
		if !add(lead + nameOf(s)) {
			break
		}
		left++
	}
	if left > 0 {
		says.WriteString(".\n")
	}
	for _, c := range n.Students {
		late := ""
		if c.Carried {
			late = " (since " + day(c.Since.In(n.Since.Location())) + ")"
		}
		line := words.Clip("**"+nameOf(c.Student)+"**"+late+": "+changed(c), mostLine) + "\n"
		// The first one goes in however long it is, or it would wait for ever and
		// everybody behind it too.
		if !add(line) {
			if left > 0 || students > 0 {
				break
			}
			says.WriteString(line)
		}
		students++
	}
	if rest := len(n.Left) - left + len(n.Students) - students; rest > 0 {
		fmt.Fprintf(&says, "There was no room for %d more, who come first in the next message; `/roster` has all your students.\n", rest)
	}
	if same := len(n.Same); same > 0 {
		fmt.Fprintf(&says, "No change with the other %d.\n", same)
	}
	return says.String() + end, left, students
}

// changed says what changed with one student: what was found first, then what
// came to pass with it.
func changed(c record.Changes) string {
	var says []string
	// All of them: what is marked as told was told.
	if found := findingLine(c.Golfer, c.Found, len(c.Found)); found != "" {
		if c.Corrected {
			found = "Not as told before: " + found
		}
		says = append(says, found)
	}
	more := max(0, len(c.Earlier)-mostEarlier)
	for _, b := range c.Earlier[more:] {
		says = append(says, "Earlier "+b.Number.Short()+" "+voiceOf(c.Golfer).Stands(b.Kept, b.Standing)+".")
	}
	if more > 0 {
		stood := map[timeline.Standing]int{}
		for _, b := range c.Earlier[:more] {
			stood[b.Standing]++
		}
		says = append(says, words.BriefsBefore(stood)+".")
	}
	if c.New {
		says = append(says, "New among your students.")
	}
	return strings.Join(says, " ")
}
