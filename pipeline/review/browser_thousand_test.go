package review

import (
	"context"
	"fmt"
	"image"
	"math/rand/v2"
	"testing"
	"time"

	"github.com/chromedp/cdproto/cdp"
	"github.com/chromedp/cdproto/performance"
	"github.com/chromedp/chromedp"
)

// scrolled goes through all photos, a window at a time with three frames for
// each, and gives how many windows that were.
const scrolled = `(async () => {
	let windows = 0;
	for (scrollTo(0, 0); scrollY + innerHeight < document.scrollingElement.scrollHeight - 1; windows++) {
		scrollBy(0, innerHeight - 150);
		for (let i = 0; i < 3; i++) await new Promise(requestAnimationFrame);
	}
	return windows;
})()`

// chooseAll takes all photos, as Ctrl+A does, and has the page laid out.
const chooseAll = `(() => {
	document.querySelector(".thumb").focus({preventScroll: true});
	document.activeElement.dispatchEvent(new KeyboardEvent("keydown", {key: "a", ctrlKey: true, bubbles: true}));
	return document.body.offsetHeight;
})()`

// busy is how long the page's main thread has been at work, in ms of the
// processor, whatever else the machine does.
func busy(t *testing.T, ctx context.Context) (ms float64) {
	t.Helper()
	drive(t, ctx, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		got, err := cdp.Call(ctx, target, performance.GetMetrics, cdp.Empty{})
		if err != nil {
			return err
		}
		for _, m := range got.Metrics {
			if m.Name == "TaskDuration" {
				ms = 1000 * m.Value
			}
		}
		return nil
	}))
	return ms
}

// TestAThousandPhotos page smoothly: only those near the window are fetched,
// frames keep coming, and a choice of all is shown at once.
func TestAThousandPhotos(t *testing.T) {
	browser(t)
	const n = 1000
	dir := written(t)
	picture := image.NewRGBA(image.Rect(0, 0, 320, 240))
	noise := rand.New(rand.NewPCG(1, 2))
	for i := range n {
		for k := range 200 * 4 {
			picture.Pix[noise.IntN(len(picture.Pix))] = byte(k)
		}
		writePhoto(t, dir, fmt.Sprintf("%s/IMG_%04d.JPG", []string{"ann", "ben", "cas", "dan"}[i/250], i%250), picture, fmt.Sprintf("%02d:%02d", 8+i%250/60, i%60))
	}
	s, _ := served(t, dir)
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	h.until(fmt.Sprintf("document.querySelectorAll('.thumb').length === %d", n))
	const fetched = "performance.getEntriesByType('resource').filter(e => e.name.endsWith('/small')).length"
	drive(t, ctx, chromedp.Sleep(time.Second))
	at := asks[int](t, ctx, fetched)
	asks[bool](t, ctx, "Boolean([performance.setResourceTimingBufferSize(4000)])")
	drive(t, ctx, chromedp.Func(func(ctx context.Context, target *chromedp.Target) error {
		_, err := cdp.Call(ctx, target, performance.Enable, performance.EnableParams{TimeDomain: performance.EnableTimeDomainThreadTicks})
		return err
	}))
	began := busy(t, ctx)
	windows, err := chromedp.Run(ctx, chromedp.Evaluate[float64](scrolled, chromedp.EvalAwaitPromise))
	if err != nil {
		t.Fatal(err)
	}
	passed := busy(t, ctx)
	asks[float64](t, ctx, chooseAll)
	chosen := busy(t, ctx) - passed
	each := (passed - began) / windows
	t.Logf("of %d photos %d were fetched at first; %.0f windows full of them took %.0f ms of the processor each; all chosen in %.0f ms", n, at, windows, each, chosen)
	if at > n/4 {
		t.Errorf("%d pictures were fetched at once", at)
	}
	if each > 100 || chosen > 300 {
		t.Error("it does not page smoothly")
	}
	h.until(fmt.Sprintf("document.querySelector('#chosen-count').textContent === '%d chosen'", n))
}
