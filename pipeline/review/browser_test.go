package review

import (
	"context"
	"fmt"
	"os"
	"os/exec"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// browsed opens the page of a season in a real browser without a window. Where
// there is none the test is skipped, and fails where CI is true.
func browsed(t *testing.T, s *Server) context.Context {
	t.Helper()
	program := os.Getenv("FIELDJACKET_BROWSER")
	if program == "" {
		var err error
		if program, err = exec.LookPath("chromium"); err != nil {
			const why = "no browser: make test installs chromium on Debian; elsewhere name one with FIELDJACKET_BROWSER"
			if os.Getenv("CI") == "true" {
				t.Fatal(why)
			}
			t.Skip(why)
		}
	}
	options := []chromedp.ExecAllocatorOption{
		chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless, chromedp.ExecPath(program), chromedp.WindowSize(1280, 800), chromedp.UserDataDir(t.TempDir()),
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
	drive(t, ctx, chromedp.Navigate(s.URL()), chromedp.WaitVisible(chromedp.CSS(".tile")), chromedp.SetValue(chromedp.CSS("#by"), "AB"))
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

// shot keeps a picture of the page in the three sizes, for looking at, where
// FIELDJACKET_SCREENSHOTS names a folder.
func shot(t *testing.T, ctx context.Context, name string) {
	t.Helper()
	dir := os.Getenv("FIELDJACKET_SCREENSHOTS")
	if dir == "" {
		return
	}
	for _, size := range [][2]int64{{360, 740}, {1280, 800}, {1920, 1080}} {
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

// tile is a photo's tile in the strip.
func tile(file string) string { return fmt.Sprintf("[data-key=%q]", keyOf(file)) }

// at gives the middle of an element, brought into the window.
func (h *hand) at(selector string) (x, y float64) {
	h.t.Helper()
	at := asks[[]float64](h.t, h.ctx, fmt.Sprintf(`(() => {
		const e = document.querySelector(%q);
		e.scrollIntoView({block: "center", behavior: "instant"});
		const r = e.getBoundingClientRect();
		return [r.x + r.width / 2, r.y + r.height / 2];
	})()`, selector))
	return at[0], at[1]
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

// press presses keys, one action each.
func (h *hand) press(keys ...string) {
	h.t.Helper()
	for _, k := range keys {
		h.do(chromedp.KeyEvent(k))
	}
}

// hundred are the names of 100 photos of two phones, unsorted.
func hundred() (names []string) {
	for i := range 100 {
		names = append(names, fmt.Sprintf("%s/IMG_%04d.JPG", []string{"ann", "ben"}[i/50], 1+i%50))
	}
	return names
}

// jacketsNow are the jackets of the photos as the program knows them.
func jacketsNow(t *testing.T, s *Server, names []string) (out []string) {
	t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.refresh(t.Context()); err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		out = append(out, strings.Join(s.made.records[keyOf(name)].Belongs.Jackets, "+"))
	}
	return out
}

// TestSortAHundredByMouse: ranges chosen by a click and one with Shift, the
// number typed once for each.
func TestSortAHundredByMouse(t *testing.T) {
	names := hundred()
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	shot(t, ctx, "strip")
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	var want []string
	for first := 0; first < len(names); first += 10 {
		number := []string{"14", "15"}[first/10%2]
		h.click(tile(names[first]))
		h.click(tile(names[first+9]), kb.ModifierShift)
		if first == 20 {
			shot(t, ctx, "chosen")
		}
		h.click("#jacket")
		h.press(number[:1], number[1:], kb.Enter)
		h.until(fmt.Sprintf("!document.querySelector(%q)", tile(names[first+9])))
		want = append(want, slices.Repeat([]string{number}, 10)...)
	}
	h.report("100 photos sorted by mouse")
	if got := jacketsNow(t, s, names); !slices.Equal(got, want) {
		t.Errorf("%v", got)
	}
}

// TestSortByKeyboard alone: the strip is walked with arrows.
func TestSortByKeyboard(t *testing.T) {
	names := hundred()[:12]
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	drive(t, ctx, chromedp.Focus(chromedp.CSS(tile(names[0]))))
	h.press(" ")
	for range 5 {
		h.do(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(kb.ModifierShift)))
	}
	h.press("2") // the view
	h.told("view bone")
	h.press(kb.Enter, "1", "5", kb.Enter)
	h.told("6 photos: jacket 15")
	h.report("6 photos by keyboard")
	if got := jacketsNow(t, s, names); strings.Join(got[:7], " ") != "15 15 15 15 15 15 " {
		t.Errorf("%v", got)
	}
	h.click("#undo")
	h.told("Taken back")
	if got := jacketsNow(t, s, names); got[0] != "" {
		t.Errorf("after undo: %v", got)
	}
}

// TestSortByTouch on a phone-sized window.
func TestSortByTouch(t *testing.T) {
	names := hundred()[:12]
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	drive(t, ctx, chromedp.EmulateViewport(360, 740, chromedp.EmulateMobile, chromedp.EmulateTouch))
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	for _, name := range names[:3] {
		h.tap(tile(name))
	}
	h.until("document.querySelectorAll('.tile[aria-selected=true]').length === 3")
	h.tap("#jacket")
	h.press("1", "4")
	h.tap(".bar button")
	h.told("3 photos: jacket 14")
	h.report("3 photos by touch")
	if got := jacketsNow(t, s, names); strings.Join(got[:4], " ") != "14 14 14 " {
		t.Errorf("%v", got)
	}
}

// TestSettleTen photos of the queue by keyboard: given a jacket, left out, or
// said to show none.
func TestSettleTen(t *testing.T) {
	var names []string
	for i := range 10 {
		names = append(names, fmt.Sprintf("ann/jacket 14/IMG_%04d jacket 15.JPG", i+1))
	}
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	h.do(chromedp.KeyEvent("2", chromedp.KeyModifiers(kb.ModifierAlt)))
	h.until("document.querySelectorAll('#queue button').length === 10")
	shot(t, ctx, "queue")
	for i := range 10 {
		switch i % 3 {
		case 0:
			h.press("x")
		case 1:
			h.press("0")
		case 2:
			h.click("#one input")
			h.press("1", "4", kb.Enter)
		}
		h.until(fmt.Sprintf("document.querySelectorAll('#queue button').length === %d", 9-i))
	}
	h.report("ten photos settled by keyboard")
	h.do(chromedp.KeyEvent("3", chromedp.KeyModifiers(kb.ModifierAlt)))
	h.until("document.querySelector('#check table') && document.querySelector('#check table').rows.length === 3")
	shot(t, ctx, "check")
	h.click("td.lacks .small")
	h.press("d", "a", "r", "k", kb.Enter)
	h.told("waived")
}
