package main

import (
	"context"
	"encoding/json"
	"flag"
	"fmt"
	"net/url"
	"os"
	"os/exec"
	"path/filepath"
	"regexp"
	"strings"
	"sync"
	"testing"
	"time"

	"github.com/chromedp/cdproto/emulation"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/cdproto/log"
	"github.com/chromedp/cdproto/network"
	"github.com/chromedp/cdproto/runtime"
	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

var shots = flag.String("shots", "", "where the tests in a browser put pictures of what they saw")

// A visitor is a browser on the page of try, which runs behind it as from the
// command line. What goes wrong on the page, and where it sends requests, is
// kept.
type visitor struct {
	t    *testing.T
	ctx  context.Context
	base string // of the page's addresses

	mu     sync.Mutex
	wrong  []string
	beyond []string // requests to elsewhere
}

// visit opens the page. Without a browser it skips, and says so.
func visit(t *testing.T, args ...string) *visitor {
	t.Helper()
	if testing.Short() {
		t.Skip("short: no browser")
	}
	chromium, err := exec.LookPath("chromium")
	if err != nil {
		t.Skip("there is no Chromium on this machine, so the page of try is not opened (apt-get install chromium)")
	}
	address := trying(t, args...)
	at, err := url.Parse(address)
	if err != nil {
		t.Fatal(err)
	}
	ctx, cancel := chromedp.NewContext(t.Context(), chromedp.WithAllocatorOptions(chromedp.ExecPath(chromium), chromedp.NoSandbox))
	t.Cleanup(cancel)
	v := &visitor{t: t, ctx: ctx, base: "http://" + at.Host}
	if err := chromedp.Listen(ctx, v.heard); err != nil {
		t.Fatal(err)
	}
	if _, err := chromedp.Call(ctx, network.Enable, network.EnableParams{}); err != nil {
		t.Fatal(err)
	}
	v.wide(1280)
	v.do(chromedp.Navigate(address))
	v.until("document.readyState === 'complete'")
	return v
}

// trying runs the command until the test ends and returns the address it prints.
func trying(t *testing.T, args ...string) string {
	t.Helper()
	ctx, stop := context.WithCancel(context.Background())
	out, errs := &lockedBuffer{}, &lockedBuffer{}
	ended := make(chan int, 1)
	go func() {
		ended <- run(ctx, append([]string{"try", "--listen", "127.0.0.1:0"}, args...), strings.NewReader(""), out, errs)
	}()
	t.Cleanup(func() {
		stop()
		if code := <-ended; code != exitOK {
			t.Errorf("try ended with status %d", code)
		}
		if s := errs.String(); s != "" {
			t.Errorf("try wrote to its log:\n%s", s)
		}
	})
	opened := regexp.MustCompile(`Open (http://\S+)`)
	for deadline := time.Now().Add(2 * time.Minute); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		if m := opened.FindStringSubmatch(out.String()); m != nil {
			return m[1]
		}
		select {
		case code := <-ended:
			ended <- code
			t.Fatalf("try ended with status %d:\n%s", code, errs)
		default:
		}
	}
	t.Fatal("try printed no address")
	return ""
}

// heard keeps what the browser complains of, and where it asks for things.
func (v *visitor) heard(event any) {
	v.mu.Lock()
	defer v.mu.Unlock()
	switch e := event.(type) {
	case *runtime.EventExceptionThrown:
		v.wrong = append(v.wrong, e.ExceptionDetails.Text)
	case *runtime.EventConsoleAPICalled:
		v.wrong = append(v.wrong, fmt.Sprint("console: ", e.Type))
	case *log.EventEntryAdded:
		v.wrong = append(v.wrong, e.Entry.Text+" "+e.Entry.URL)
	case *network.EventRequestWillBeSent:
		if to := e.Request.URL; !strings.HasPrefix(to, v.base+"/") && !strings.HasPrefix(to, "data:,") {
			v.beyond = append(v.beyond, to)
		}
	}
}

// content fails if anything went wrong so far.
func (v *visitor) content() {
	v.t.Helper()
	v.mu.Lock()
	defer v.mu.Unlock()
	for _, w := range v.wrong {
		v.t.Errorf("the browser complains: %s", w)
	}
	for _, to := range v.beyond {
		v.t.Errorf("the page asks elsewhere: %s", to)
	}
	v.wrong, v.beyond = nil, nil
}

func (v *visitor) do(steps ...chromedp.Action[chromedp.Void]) {
	v.t.Helper()
	ctx, cancel := context.WithTimeout(v.ctx, time.Minute)
	defer cancel()
	if err := chromedp.Do(ctx, steps...); err != nil {
		v.t.Fatal(err)
	}
}

// ask is what a script says that is run on the page, from outside it.
func ask[T any](v *visitor, script string) T {
	v.t.Helper()
	ctx, cancel := context.WithTimeout(v.ctx, time.Minute)
	defer cancel()
	said, err := chromedp.Run(ctx, chromedp.Evaluate[T](script, chromedp.EvalAwaitPromise))
	if err != nil {
		v.t.Fatalf("%s: %v", script, err)
	}
	return said
}

// until waits for a script to be true.
func (v *visitor) until(script string) {
	v.t.Helper()
	for deadline := time.Now().Add(time.Minute); time.Now().Before(deadline); time.Sleep(20 * time.Millisecond) {
		if ask[bool](v, "!!("+script+")") {
			return
		}
	}
	v.shot("waits")
	v.t.Fatalf("never so: %s\nthe focus is on: %s\nthe page has:\n%s", script,
		ask[string](v, "document.activeElement.outerHTML.slice(0, 200)"), ask[string](v, "document.body.innerText"))
}

func (v *visitor) open(path string) {
	v.t.Helper()
	v.do(chromedp.Navigate(v.base + path))
	v.until("document.readyState === 'complete'") // by then its script has run
}

func (v *visitor) wide(pixels int64) {
	v.t.Helper()
	v.do(chromedp.EmulateViewport(pixels, 800))
}

// scheme makes the visitor prefer light or dark.
func (v *visitor) scheme(name string) {
	v.t.Helper()
	_, err := chromedp.Call(v.ctx, emulation.SetEmulatedMedia, emulation.SetEmulatedMediaParams{
		Features: []*emulation.MediaFeature{{Name: "prefers-color-scheme", Value: name}},
	})
	if err != nil {
		v.t.Fatal(err)
	}
}

func (v *visitor) shot(name string) {
	v.t.Helper()
	if *shots == "" {
		return
	}
	png, err := chromedp.Run(v.ctx, chromedp.CaptureScreenshot())
	if err == nil {
		err = os.WriteFile(filepath.Join(*shots, name+".png"), png, 0o644)
	}
	if err != nil {
		v.t.Error(err)
	}
}

// keys presses keys.
func (v *visitor) keys(keys string) {
	v.t.Helper()
	v.do(chromedp.KeyEvent(keys))
}

// tabTo presses Tab until the focus is on what a selector names, of those whose
// text has a word in it.
func (v *visitor) tabTo(selector, word string) {
	v.t.Helper()
	there := fmt.Sprintf("document.activeElement.matches(%s) && document.activeElement.textContent.includes(%s)", jsString(selector), jsString(word))
	for range 300 {
		v.keys(kb.Tab)
		if ask[bool](v, there) {
			if !ask[bool](v, "document.activeElement.matches(':focus-visible') && parseFloat(getComputedStyle(document.activeElement).outlineWidth) >= 2") {
				v.t.Errorf("the focus on %s cannot be seen", selector)
			}
			return
		}
	}
	v.shot("tabs")
	v.t.Fatalf("Tab never comes to %s with %q", selector, word)
}

// file is a file on the visitor's machine.
func (v *visitor) file(name string, data []byte) string {
	v.t.Helper()
	path := filepath.Join(v.t.TempDir(), name)
	if err := os.WriteFile(path, data, 0o600); err != nil {
		v.t.Fatal(err)
	}
	return path
}

// axe looks for what keeps people out, by the checks of axe-core, where
// AXE_CORE names its script: .ci/run gets it.
func (v *visitor) axe() {
	v.t.Helper()
	path := os.Getenv("AXE_CORE")
	if path == "" {
		v.t.Log("AXE_CORE names no script of axe-core, so its checks are left out")
		return
	}
	script, err := os.ReadFile(path)
	if err != nil {
		v.t.Fatal(err)
	}
	v.do(chromedp.Evaluate[chromedp.Void](string(script)))
	for _, found := range ask[[]string](v, `axe.run().then(r => r.violations.filter(v => ['serious', 'critical'].includes(v.impact))
		.flatMap(v => v.nodes.map(n => v.id + ': ' + v.help + ': ' + n.html.slice(0, 200))))`) {
		v.t.Errorf("axe-core: %s", found)
	}
}

// drop drops a file onto the page.
func (v *visitor) drop(name string, data []byte) {
	v.t.Helper()
	path := v.file(name, data)
	for _, what := range []input.DispatchDragEventType{"dragEnter", "dragOver", "drop"} {
		_, err := chromedp.Call(v.ctx, input.DispatchDragEvent, input.DispatchDragEventParams{
			Type: what, X: 200, Y: 300, Data: &input.DragData{Items: []*input.DragDataItem{}, Files: []string{path}, DragOperationsMask: 1},
		})
		if err != nil {
			v.t.Fatal(err)
		}
	}
}

func jsString(s string) string {
	b, err := json.Marshal(s)
	if err != nil {
		panic(err) // a string
	}
	return string(b)
}
