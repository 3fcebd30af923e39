package bot

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/analysis/timeline"
	"rangepost/bot/words"
	"rangepost/store"
)

// A coach who asks for it gets one message a week with what changed on their
// roster, at the hour and in the time zone they choose. A message that was
// missed, because the bot was not running, is made up for by one that covers
// all of the time since.

// runDigest is /digest.
func runDigest(ctx context.Context, b *Bot, r Request) (Reply, error) {
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
		house, err := b.db.Clubhouse(ctx, r.Server)
		if err != nil {
			return Reply{}, err
		}
		set = store.Digest{Server: r.Server, Coach: r.Asker.ID, Weekday: time.Monday, Hour: 8, TimeZone: house.TimeZone}
		if set.TimeZone == "" {
			set.TimeZone = "UTC"
		}
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
	zone, err := time.LoadLocation(set.TimeZone)
	if err != nil {
		return Reply{}, err
	}
	at := scheduled(set.Weekday, set.Hour, b.now().In(zone))
	next := day(at.AddDate(0, 0, 7))
	if !none && at.After(before.UpTo) {
		next = "within minutes, for the time since " + day(before.UpTo)
	}
	return private(fmt.Sprintf("One message a week with what changed among your students, to you directly: %ss at %02d:00, %s. The next: %s. If nothing changed, none comes.",
		set.Weekday, set.Hour, escape(set.TimeZone), next)), nil
}

// zoneAsked reads the option "zone".
func zoneAsked(r Request) (string, error) {
	text := strings.TrimSpace(r.Options["zone"])
	// "Local" would be wherever the bot happens to run.
	if _, err := time.LoadLocation(text); err != nil || text == "" || text == "Local" {
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

func completeZone(_ context.Context, _ *Bot, r Request) (choices []Choice, err error) {
	typed := strings.ToLower(strings.ReplaceAll(strings.TrimSpace(r.Options["zone"]), " ", "_"))
	for _, zone := range zones {
		if contains(typed, zone) && len(choices) < 25 {
			choices = append(choices, Choice{Value: zone, Text: zone})
		}
	}
	return choices, nil
}

// scheduled is the last time at or before now that a weekday's hour came, in
// now's own zone. On the day a clock skips the hour it is the one after.
func scheduled(weekday time.Weekday, hour int, now time.Time) time.Time {
	y, m, d := now.Date()
	back := int(now.Weekday()-weekday+7) % 7
	t := time.Date(y, m, d-back, hour, 0, 0, 0, now.Location())
	if t.After(now) {
		t = time.Date(y, m, d-back-7, hour, 0, 0, 0, now.Location())
	}
	return t
}

// A Due is a message whose time has come.
type Due struct {
	Server, Coach string
	Nonce         string // the same for the same message, at most 25 characters
	Reply         Reply  // without a text when nothing changed: nothing is to be sent

	upTo time.Time
	told []store.Told
}

// Due lists the digests whose hour has come, and was not kept yet, at a time.
// It changes nothing.
func (b *Bot) Due(ctx context.Context, now time.Time) (due []Due, err error) {
	digests, err := b.db.Digests(ctx)
	if err != nil {
		return nil, err
	}
	for _, d := range digests {
		zone, err := time.LoadLocation(d.TimeZone)
		if err != nil {
			b.log.ErrorContext(ctx, "a digest in no time zone", "zone", d.TimeZone, "err", err)
			continue
		}
		at := scheduled(d.Weekday, d.Hour, now.In(zone))
		if !at.After(d.UpTo) || !d.Refused.Before(at) {
			continue
		}
		one, err := b.digest(ctx, d, now)
		if err != nil {
			return nil, err
		}
		sum := sha256.Sum256([]byte(d.Server + " " + d.Coach + " " + at.UTC().Format(time.RFC3339)))
		one.Nonce = hex.EncodeToString(sum[:12])
		due = append(due, one)
	}
	return due, nil
}

// digest is what changed for a coach since they were last told.
func (b *Bot) digest(ctx context.Context, d store.Digest, now time.Time) (Due, error) {
	due := Due{Server: d.Server, Coach: d.Coach, upTo: now}
	lines, err := b.desk(ctx, d.Server, d.Coach)
	if err != nil {
		return due, err
	}
	var says []string
	for _, l := range lines {
		news, told, err := b.news(ctx, l, d.UpTo)
		if err != nil {
			return due, err
		}
		if len(news) > 0 {
			says = append(says, "**"+l.name()+"**: "+strings.Join(news, "; ")+".")
		}
		due.told = append(due.told, told...)
	}
	same := len(lines) - len(says)
	left, err := b.left(ctx, d)
	if err != nil {
		return due, err
	}
	if left != "" {
		says = slices.Insert(says, 0, left)
	}
	if len(says) == 0 {
		return due, nil
	}
	const room = 1000
	var text strings.Builder
	fmt.Fprintf(&text, "Your students since %s:\n", day(d.UpTo))
	for i, line := range says {
		if len([]rune(text.String()))+len([]rune(line)) > room {
			fmt.Fprintf(&text, "And %d more: `/roster` has them all.\n", len(says)-i)
			break
		}
		text.WriteString(line + "\n")
	}
	if same > 0 {
		fmt.Fprintf(&text, "No change with the other %d.\n", same)
	}
	text.WriteString("In the server: `/roster` for all of it, `/review` to go through the posts, `/digest day:off` to end this.")
	due.Reply = Reply{Text: text.String()}
	return due, nil
}

// left names who is no longer among a coach's students, "" if nobody.
func (b *Bot) left(ctx context.Context, d store.Digest) (string, error) {
	ids, err := b.db.Left(ctx, d.Server, d.Coach, d.UpTo)
	if err != nil || len(ids) == 0 {
		return "", err
	}
	names := make([]string, len(ids))
	for i, id := range ids {
		student, err := b.db.Student(ctx, d.Server, id)
		if err != nil {
			return "", err
		}
		names[i] = nameOf(student)
	}
	const most = 10
	if more := len(names) - most; more > 0 {
		names = append(names[:most], fmt.Sprintf("%d more", more))
	}
	return "No longer among your students: " + strings.Join(names, ", ") + ".", nil
}

// news is what changed with one student since a time: a new student, posts,
// briefs that ended and were not told yet, a number that began to drift, silence
// that began.
func (b *Bot) news(ctx context.Context, l deskLine, since time.Time) (news []string, told []store.Told, err error) {
	if l.Binding.Given.After(since) {
		news = append(news, "new among your students")
	}
	replaced, err := b.db.Untold(ctx, l.Binding.Server, l.Student.ID, l.Binding.Coach, since)
	if err != nil {
		return nil, nil, err
	}
	for _, k := range replaced {
		done, err := b.db.Progress(ctx, k)
		if err != nil {
			return nil, nil, err
		}
		kept := keptOf(briefIn(time.UTC, k), done)
		if standing := kept.Standing(over(k, k.Ended)); standing != timeline.Running {
			news = append(news, "earlier "+l.voice.Stands(kept, standing))
			told = append(told, store.Told{Brief: k.ID, Standing: string(standing)})
		}
	}
	if l.kept != nil && l.Told == "" && l.standing != timeline.Running {
		news = append(news, l.voice.Stands(*l.kept, l.standing))
		told = append(told, store.Told{Brief: l.Brief.ID, Standing: string(l.standing)})
	}
	if out := l.followed.Drift.Out; l.followed.Drift.OK && out >= 0 && l.followed.Points[out].At.After(since) {
		news = append(news, l.voice.Drifted(l.followed))
	}
	posted, err := b.db.Sessions(ctx, l.Binding.Server, l.Student.ID, store.SessionFilter{PostedSince: since.Add(time.Millisecond)})
	if err != nil {
		return nil, nil, err
	}
	if n := len(posted); n > 0 {
		balls := 0
		for _, s := range posted {
			balls += s.Balls
		}
		text := fmt.Sprintf("%s, %s", posts(n), ballsOf(balls))
		if l.Unread > 0 {
			text += fmt.Sprintf(" (%d to look at)", l.Unread)
		}
		news = append(news, text)
	}
	if now := l.silence(b.now()); now != "" && l.silence(since) == "" {
		news = append(news, now)
	}
	return news, told, nil
}

// digestNote is what /roster says about the digest, "" if nothing.
func (b *Bot) digestNote(ctx context.Context, r Request) string {
	switch d, err := b.db.Digest(ctx, r.Server, r.Asker.ID); {
	case errors.Is(err, store.ErrNotFound):
		return "`/digest` sends you the changes once a week."
	case err == nil && !d.Refused.IsZero():
		return "I could not send you the weekly message: allow direct messages from this server, or end it with `/digest day:off`."
	}
	return ""
}
