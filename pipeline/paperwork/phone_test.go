package paperwork

import (
	"bytes"
	"context"
	"fmt"
	"image"
	"image/jpeg"
	"os"
	"testing"
	"time"

	"github.com/chromedp/chromedp"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// A phone as the page's style goes by: a middling one of these years.
const (
	phoneWidePx = 390
	phoneHighPx = 844
)

// TestTheDayPageOnAPhone: no word is broken, nothing lies beside the screen, a normal day takes less than three screens, boxes are
// large enough for a thumb and keep their ticks when the page is opened again. Tried in a browser without a window, not on phones.
func TestTheDayPageOnAPhone(t *testing.T) {
	program := os.Getenv("FIELDJACKET_BROWSER")
	if program == "" {
		if os.Getenv("CI") == "true" {
			t.Fatal("no browser: name one with FIELDJACKET_BROWSER")
		}
		t.Skip("no browser: make test takes Debian's chromium; else name one with FIELDJACKET_BROWSER")
	}
	d := inventedDay(t)
	var j, page bytes.Buffer
	if err := jpeg.Encode(&j, image.NewGray(image.Rect(0, 0, 400, 300)), nil); err != nil {
		t.Fatal(err)
	}
	d.Seen = []Seen{{File: "tk/IMG_0413.JPG", Preview: save(t, t.TempDir(), "p.jpg", j.Bytes()), WidthPx: 400, HeightPx: 300}}
	d.Phones = []Phone{{Name: "tk, Phone 3", Photos: 17, Copied: []string{"17 copied and verified", "no second copy"}}}
	for i := range 6 {
		d.Report.Jackets = append(d.Report.Jackets, audit.Jacket{Number: fmt.Sprint(40 + i), Stage: register.Mapped, Cover: audit.CoverYes, Standing: audit.Ready, Photos: 4})
	}
	d.Report.Unsorted = append(d.Report.Unsorted, audit.Loose{File: "mo/a folder with a long name/PXL_20260312_140211123_PORTRAIT_01_COVER.jpg", Reason: "nothing names a jacket"})
	if err := WriteDay(&page, d); err != nil {
		t.Fatal(err)
	}
	file := save(t, t.TempDir(), "today.html", page.Bytes())
	options := []chromedp.ExecAllocatorOption{chromedp.NoFirstRun, chromedp.NoDefaultBrowserCheck, chromedp.Headless, chromedp.ExecPath(program),
		chromedp.UserDataDir(t.TempDir()), chromedp.Flag("disable-dev-shm-usage", true), chromedp.Flag("hide-scrollbars", true)}
	if os.Geteuid() == 0 {
		options = append(options, chromedp.NoSandbox)
	}
	ctx, cancel := chromedp.NewExecAllocator(t.Context(), options...)
	defer cancel()
	ctx, stop := chromedp.NewContext(ctx)
	defer stop()
	ctx, over := context.WithTimeout(ctx, time.Minute)
	defer over()
	const words = `(() => {
		document.querySelectorAll("details").forEach(d => { d.open = true; });
		const broken = [], walk = document.createTreeWalker(document.body, NodeFilter.SHOW_TEXT);
		for (let n; n = walk.nextNode();) {
			if (n.parentElement.closest("script")) continue;
			for (const m of n.data.matchAll(/[\p{L}\p{N}]+/gu)) {
				const r = document.createRange();
				r.setStart(n, m.index); r.setEnd(n, m.index + m[0].length);
				const tops = new Set([...r.getClientRects()].map(b => Math.round(b.top)));
				if (tops.size > 1) broken.push(m[0]);
			}
		}
		return broken;
	})()`
	do := func(action chromedp.Action[chromedp.Void]) {
		t.Helper()
		if _, err := chromedp.Run(ctx, action); err != nil {
			t.Fatal(err)
		}
	}
	do(chromedp.EmulateViewport(phoneWidePx, phoneHighPx))
	do(chromedp.Navigate("file://" + file))
	high := asked[float64](t, ctx, `document.documentElement.scrollHeight`)
	least := asked[float64](t, ctx, `Math.min(...[...document.querySelectorAll("label, summary")].map(l => l.getBoundingClientRect().height))`)
	broken := asked[[]string](t, ctx, words)
	wide := asked[float64](t, ctx, `document.documentElement.scrollWidth`)
	asked[bool](t, ctx, `(() => { document.querySelector("label").click(); return true; })()`)
	do(chromedp.Reload())
	kept := asked[bool](t, ctx, `document.querySelector("input").checked`)
	if high > 3*phoneHighPx || wide > phoneWidePx || len(broken) > 0 || least < 44 || !kept {
		t.Errorf("%.0f px high of %d, %.0f wide, words broken: %q, the lowest box %.0f px, ticks kept: %t", high, 3*phoneHighPx, wide, broken, least, kept)
	}
	t.Logf("%.0f px high, %d bytes", high, page.Len())
}

// asked gives what an expression is in the page.
func asked[T any](t *testing.T, ctx context.Context, expression string) T {
	t.Helper()
	v, err := chromedp.Run(ctx, chromedp.Evaluate[T](expression))
	if err != nil {
		t.Fatalf("%s: %v", expression, err)
	}
	return v
}
