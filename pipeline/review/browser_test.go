package review

import (
	"context"
	"fmt"
	"os"
	"path/filepath"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/input"
	"github.com/chromedp/chromedp"
)

// browser is the browser that tests use, which make test names. Without one the
// test is skipped, and fails where CI is true.
func browser(t *testing.T) string {
	t.Helper()
	program := os.Getenv("FIELDJACKET_BROWSER")
	if program == "" {
		const why = "no browser: make test takes Debian's chromium; else name one with FIELDJACKET_BROWSER"
		if os.Getenv("CI") == "true" {
			t.Fatal(why)
		}
		t.Skip(why)
	}
	return program
}

// browsed opens the page of a season in a browser without a window that knows
// whose initials to write.
func browsed(t *testing.T, s *Server) context.Context {
	t.Helper()
	program := browser(t)
	options := []chromedp.ExecAllocatorOption{
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless, chromedp.ExecPath(program), chromedp.WindowSize(1280, 800), chromedp.UserDataDir(t.TempDir()),
		chromedp.Flag("disable-dev-shm-usage", true), // containers have little of it
	}
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox) // Chromium refuses its sandbox to root
	}
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	t.Cleanup(cancel)
	ctx, stop := chromedp.NewContext(ctx)
	t.Cleanup(stop)
	serving, quit := context.WithCancel(t.Context())
	ended := make(chan error, 1)
	go func() { ended <- s.Serve(serving) }()
	t.Cleanup(func() {
		quit()
		if err := <-ended; err != nil {
			t.Error(err)
		}
	})
	drive(t, ctx, chromedp.Navigate(s.URL()), chromedp.WaitVisible(chromedp.CSS("nav")))
	asks[bool](t, ctx, `Boolean([localStorage.setItem("by", "AB")])`) // as the first word leaves them
	drive(t, ctx, chromedp.Reload(), chromedp.WaitVisible(chromedp.CSS("nav [aria-current]")))
	return ctx
}

// A step is one thing done in the browser.
type step = chromedp.Action[chromedp.Void]

// drive does things in the browser, or fails the test.
func drive(t *testing.T, ctx context.Context, steps ...step) {
	t.Helper()
	if err := chromedp.Do(ctx, steps...); err != nil {
		t.Fatal(err)
	}
}

// asks gives what an expression comes to on the page.
func asks[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return v
}

// sizes of the window, in px: a small phone, a phone, a tablet, a laptop, a
// screen. The pictures for looking at are of a phone, a laptop and the screen.
var (
	sizes    = [][2]int64{{360, 740}, {390, 844}, {768, 1024}, {1280, 800}, {1920, 1080}}
	pictured = [][2]int64{sizes[1], sizes[3], sizes[4]}
)

// shot keeps a picture of the page in the three sizes, for looking at, where
// FIELDJACKET_SCREENSHOTS names a folder.
func shot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("FIELDJACKET_SCREENSHOTS")
	if dir == "" {
		return
	}
	for _, size := range pictured {
		drive(t, ctx, chromedp.EmulateViewport(size[0], size[1]), chromedp.Sleep(300*time.Millisecond))
		png, err := chromedp.Run(ctx, chromedp.CaptureScreenshot())
		if err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(filepath.Join(dir, fmt.Sprintf("%s-%d.png", name, size[0])), png, 0o644); err != nil {
			t.Fatal(err)
		}
	}
	drive(t, ctx, chromedp.EmulateViewport(1280, 800))
}

// hand counts what a person does: a click, a tap, a key.
type hand struct {
	t       *testing.T
	ctx     context.Context
	actions int
	began   time.Time
}

func (h *hand) do(steps ...step) {
	h.t.Helper()
	h.actions += len(steps)
	drive(h.t, h.ctx, steps...)
}

// until waits for something on the page to be so.
func (h *hand) until(what string) {
	h.t.Helper()
	for end := time.Now().Add(20 * time.Second); ; time.Sleep(20 * time.Millisecond) {
		if asks[bool](h.t, h.ctx, what) {
			return
		}
		if time.Now().After(end) {
			h.t.Fatalf("not so: %s (the page says %q)", what, asks[string](h.t, h.ctx, "document.querySelector('#told-text').textContent"))
		}
	}
}

func (h *hand) told(text string) {
	h.t.Helper()
	h.until(fmt.Sprintf("document.querySelector('#told-text').textContent.includes(%q)", text))
}

func (h *hand) report(what string) {
	h.t.Logf("%s: %d actions in %.1f s", what, h.actions, time.Since(h.began).Seconds())
}

// thumbnail is a photo's small picture in the strip.
func thumbnail(file string) string { return fmt.Sprintf("[data-key=%q]", keyOf(file)) }

// at gives the middle of an element, brought into the window, once it has lain
// still for some frames: a person does not click on what is moving.
func (h *hand) at(selector string) (x, y float64) {
	h.t.Helper()
	for end := time.Now().Add(20 * time.Second); time.Now().Before(end); time.Sleep(40 * time.Millisecond) {
		at := asks[[]float64](h.t, h.ctx, fmt.Sprintf(`(() => {
			const e = document.querySelector(%q);
			if (!e) return [-1, -1];
			e.scrollIntoView({block: "center", behavior: "instant"});
			const r = e.getBoundingClientRect();
			return [r.x + r.width / 2, r.y + r.height / 2];
		})()`, selector))
		if at[0] >= 0 && at[0] == x && at[1] == y {
			return x, y
		}
		x, y = at[0], at[1]
	}
	h.t.Fatalf("%s: is not there, or does not lie still", selector)
	return x, y
}

// click clicks the middle of an element, with keys held.
func (h *hand) click(selector string, held ...chromedp.Modifier) {
	h.t.Helper()
	x, y := h.at(selector)
	h.do(chromedp.MouseClickXY(x, y, chromedp.ButtonModifiers(held...)))
}

// tap taps it with a finger.
func (h *hand) tap(selector string) {
	h.t.Helper()
	x, y := h.at(selector)
	h.do(chromedp.TapXY(x, y))
}

// shortcut presses a key that the page takes for itself. Of such a key a
// browser types no letter, which over the protocol is an event of its own.
func (h *hand) shortcut(key string) {
	h.t.Helper()
	h.do(chromedp.Func(func(ctx context.Context, t *chromedp.Target) error {
		for _, way := range []input.DispatchKeyEventType{input.DispatchKeyEventTypeRawKeyDown, input.DispatchKeyEventTypeKeyUp} {
			if _, err := cdp.Call(ctx, t, input.DispatchKeyEvent, input.DispatchKeyEventParams{Type: way, Key: key}); err != nil {
				return err
			}
		}
		return nil
	}))
}

// press presses keys, one action each.
func (h *hand) press(keys ...string) {
	h.t.Helper()
	for _, k := range keys {
		h.do(chromedp.KeyEvent(k))
	}
}
