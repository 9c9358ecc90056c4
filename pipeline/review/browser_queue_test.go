package review

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

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
	h.do(chromedp.KeyEvent("e"))
	h.until("document.querySelectorAll('#queue button').length === 10")
	shot(t, ctx, "queue")
	for i := range 10 {
		switch i % 3 {
		case 0:
			h.press("x")
		case 1:
			h.press("0")
		case 2:
			h.click("#head input")
			h.press("1", "4", kb.Enter)
		}
		h.until(fmt.Sprintf("document.querySelectorAll('#queue button').length === %d", 9-i))
	}
	h.report("ten photos settled by keyboard")
	h.do(chromedp.KeyEvent("c"))
	h.until("document.querySelector('#check table') && document.querySelector('#check table').rows.length === 3")
	shot(t, ctx, "check")
	h.click("td.lacks .small")
	h.press("d", "a", "r", "k", kb.Enter)
	h.told("waived")
}
