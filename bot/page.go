package bot

import (
	"context"
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"
	"time"

	"rangepost/analysis"
	"rangepost/bot/record"
	"rangepost/bot/words"
	"rangepost/store"
)

// A review is a walk through the posts a coach has not looked at, several on a
// page: what was found in each, those of the students first who need the coach
// most. Which posts it is of, and in what order, is settled when it is opened
// and kept, so that a press on "Looked at" marks what its page showed and
// nothing that came in since.

const (
	reviewRoom  = 900 // characters of the posts of a page
	reviewMost  = 10  // most posts on a page
	reviewLives = 30 * 24 * time.Hour
	reviewKind  = "review"
)

// openReview begins a review of a scope.
func openReview(ctx context.Context, b *Bot, r Call, scope string) (Reply, error) {
	var students []string
	if scope != everybody {
		students = []string{scope}
	}
	posts, err := b.records.ToReview(ctx, r.Server, r.Asker.ID, students...)
	if err != nil {
		return Reply{}, err
	}
	if len(posts) == 0 {
		return Reply{Text: "Nothing left to look at."}, nil
	}
	body, err := json.Marshal(posts)
	if err != nil {
		return Reply{}, err
	}
	id, err := b.db.KeepView(ctx, store.View{Server: r.Server, Owner: r.Asker.ID, Kind: reviewKind, Body: body}, reviewLives)
	if err != nil {
		return Reply{}, err
	}
	return pageReply(ctx, b, r, id, posts, 0, "")
}

// postsOf are the posts of the review a call is about.
func postsOf(r Call) (posts []string, err error) {
	return posts, json.Unmarshal(r.View.Body, &posts)
}

// between reads a stretch of posts from a path.
func between(posts []string, from, to string) (stretch []string, end int, err error) {
	i, errFrom := strconv.Atoi(from)
	j, errTo := strconv.Atoi(to)
	if errFrom != nil || errTo != nil || i < 0 || j < i || j > len(posts) {
		return nil, 0, errNoPage
	}
	return posts[i:j], j, nil
}

var errNoPage error = analysis.Refuse("Use `/review` again.", "There is no such page.")

// pressPage shows the page that begins with a post of a review; it marks
// nothing.
func pressPage(ctx context.Context, b *Bot, r Call) (Reply, error) {
	posts, err := postsOf(r)
	if err != nil {
		return Reply{}, err
	}
	_, from, err := between(posts, "0", r.Args[1])
	if err != nil {
		return Reply{}, err
	}
	return pageReply(ctx, b, r, r.View.ID, posts, from, "")
}

// pressSeen marks the posts of a page as looked at and shows the next page.
func pressSeen(ctx context.Context, b *Bot, r Call) (Reply, error) {
	posts, err := postsOf(r)
	if err != nil {
		return Reply{}, err
	}
	seen, to, err := between(posts, r.Args[1], r.Args[2])
	if err != nil {
		return Reply{}, err
	}
	// Of those that are still there, and still this coach's to see.
	shown, err := b.db.Shown(ctx, r.Server, r.Asker.ID, seen)
	if err != nil {
		return Reply{}, err
	}
	if len(shown) == 0 {
		return Reply{}, errNotYours
	}
	if err := b.db.LookedAt(ctx, r.Server, r.Asker.ID, idsOf(shown)...); err != nil {
		return Reply{}, err
	}
	return pageReply(ctx, b, r, r.View.ID, posts, to, words.Sentence(words.Count(len(shown), "post"))+" marked as looked at.")
}

func idsOf(posts []store.Gisted) []string {
	ids := make([]string, len(posts))
	for i, p := range posts {
		ids[i] = p.ID
	}
	return ids
}

// pageReply is a page of a review from a post on. Posts that were looked at, or
// that are the coach's to see no longer, are passed over. lead says what was
// just done.
func pageReply(ctx context.Context, b *Bot, r Call, view string, posts []string, from int, lead string) (Reply, error) {
	// A page has room for reviewMost; some of those to come may be done with.
	const ahead = 2 * reviewMost
	entries, any, err := b.records.Review(ctx, r.Server, r.Asker.ID, posts[from:min(len(posts), from+ahead)])
	if err != nil {
		return Reply{}, err
	}
	if len(entries) == 0 && from+ahead < len(posts) {
		return pageReply(ctx, b, r, view, posts, from+ahead, lead)
	}
	if !any && from < len(posts) {
		return Reply{}, errNotYours
	}
	var text strings.Builder
	var page []record.Entry
	room, to := reviewRoom, from
	for i, e := range entries {
		line := entryLine(e, i > 0 && len(page) > 0 && page[len(page)-1].Student.ID == e.Student.ID, len(page)+1)
		if room -= len([]rune(line)); len(page) == reviewMost || room < 0 && len(page) > 0 {
			break
		}
		text.WriteString(line)
		page = append(page, e)
		to = slices.Index(posts, e.ID) + 1
	}
	if len(page) == 0 {
		return b.reviewOver(ctx, r, lead)
	}
	if len(page) == len(entries) { // what follows was done with
		to = min(len(posts), from+ahead)
	}
	head := fmt.Sprintf("%s on this page.", words.Sentence(words.Count(len(page), "post")))
	if rest := len(posts) - to; rest > 0 {
		head = fmt.Sprintf("%s on this page, %s after it.", words.Sentence(words.Count(len(page), "post")), upTo(rest))
	}
	reply := Reply{Text: joined(lead, head) + "\n" + strings.TrimSuffix(text.String(), "\n")}
	label := "Looked at"
	if len(page) > 1 {
		label = fmt.Sprintf("Looked at all %d", len(page))
	}
	buttons := []Button{{Path: path("seen", view, strconv.Itoa(from), strconv.Itoa(to)), Label: label, Style: Main}}
	if to < len(posts) {
		buttons = append(buttons, Button{Path: path("page", view, strconv.Itoa(to)), Label: "Next page"})
	}
	open := &Menu{Path: path("open", view), Placeholder: "Open one"}
	write := &Menu{Path: path("pick", view), Placeholder: "Comment on one or several", Most: len(page)}
	for i, e := range page {
		at := strconv.Itoa(slices.Index(posts, e.ID))
		name := fmt.Sprintf("%d. %s, %s", i+1, titleName(e.Student), words.ShortDate(e.At))
		open.Choices, write.Choices = append(open.Choices, choice(at, name)), append(write.Choices, choice(at, name))
		reply.among = append(reply.among, e.Student.ID)
	}
	reply.Rows = []Row{{Buttons: buttons}, {Menu: open}, {Menu: write}}
	return reply, nil
}

// entryLine is one post on a page; again says that the one before was the same
// student's.
func entryLine(e record.Entry, again bool, n int) string {
	name := "**" + nameOf(e.Student) + "**, "
	if again {
		name = ""
	}
	line := fmt.Sprintf("%d. %s%s", n, name, postText(e.Golfer, e.Finding))
	if ask := findingAsk(e.Finding); ask != "" {
		line += ". " + string(ask)
	}
	return line + ".\n"
}

// reviewOver ends a review: some posts may have been passed over.
func (b *Bot) reviewOver(ctx context.Context, r Call, lead string) (Reply, error) {
	passed, more, err := unread(ctx, b, r, everybody, "")
	if err != nil {
		return Reply{}, err
	}
	if passed == nil {
		return Reply{Text: joined(lead, "Nothing left to look at.")}, nil
	}
	waits := "1 post is"
	if more > 0 {
		waits = upTo(more+1) + " posts are"
	}
	return Reply{
		Text: joined(lead, fmt.Sprintf("That was the last page; %s still to look at.", waits)),
		Rows: []Row{{Buttons: []Button{{Path: path("again", everybody), Label: "From the first", Style: Main}}}},
	}, nil
}

// pressAgain begins another review in the same message.
func pressAgain(ctx context.Context, b *Bot, r Call) (Reply, error) {
	return openReview(ctx, b, r, r.Args[0])
}

// chooseOpen opens one post of a page by itself; the page stays.
func chooseOpen(ctx context.Context, b *Bot, r Call) (Reply, error) {
	picked, err := pickedOf(ctx, b, r, r.Values)
	if err != nil {
		return Reply{}, err
	}
	return reviewReply(ctx, b, r, picked[0].SessionInfo, picked[0].Student, 0, "")
}

// pickedOf are the posts of a review that were picked in a menu of it, as far as
// the coach may see them.
func pickedOf(ctx context.Context, b *Bot, r Call, values []string) ([]store.Gisted, error) {
	posts, err := postsOf(r)
	if err != nil {
		return nil, err
	}
	var ids []string
	for _, v := range values {
		i, err := index([]string{v}, len(posts))
		if err != nil {
			return nil, err
		}
		if !slices.Contains(ids, posts[i]) {
			ids = append(ids, posts[i])
		}
	}
	picked, err := b.db.Shown(ctx, r.Server, r.Asker.ID, ids)
	if err != nil {
		return nil, err
	}
	if len(picked) == 0 {
		return nil, errNotYours
	}
	return picked, nil
}
