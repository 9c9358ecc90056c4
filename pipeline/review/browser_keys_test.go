package review

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// apart is how far two opposite corners are from each other on the screen.
const apart = `(() => {
	const [a, , b] = [...document.querySelectorAll(".handle")].map(e => e.getBoundingClientRect());
	return b.x - a.x;
})()`

// TestWheelAndPinchZoom: events of a wheel and of two fingers, as a browser
// sends them, enlarge what is under them.
func TestWheelAndPinchZoom(t *testing.T) {
	_, h := settled(t)
	h.until(apart + " > 0") // laid out
	before := asks[float64](t, h.ctx, apart)
	asks[bool](t, h.ctx, `(() => {
		const c = document.querySelector(".photo-view canvas"), r = c.getBoundingClientRect();
		return c.dispatchEvent(new WheelEvent("wheel", {deltaY: -400, clientX: r.x + r.width / 2, clientY: r.y + r.height / 2, cancelable: true})) || true;
	})()`)
	h.until(fmt.Sprintf("%s > 1.5 * %g", apart, before))
	wheeled := asks[float64](t, h.ctx, apart)
	asks[bool](t, h.ctx, `(() => {
		const c = document.querySelector(".photo-view canvas"), r = c.getBoundingClientRect(), x = r.x + r.width / 2, y = r.y + r.height / 2;
		c.setPointerCapture = () => {}; // made fingers cannot be captured
		const finger = (kind, id, dx) => c.dispatchEvent(new PointerEvent(kind, {pointerId: id, pointerType: "touch", clientX: x + dx, clientY: y}));
		finger("pointerdown", 11, -40);
		finger("pointerdown", 12, 40);
		finger("pointermove", 11, -80);
		finger("pointermove", 12, 80);
		finger("pointerup", 11, -80);
		finger("pointerup", 12, 80);
		return true;
	})()`)
	h.until(fmt.Sprintf("%s > 1.8 * %g", apart, wheeled))
	asks[bool](t, h.ctx, "[...document.querySelectorAll('.stage button')].find(b => b.textContent === 'Whole photo').click() || true")
	h.until(fmt.Sprintf("Math.abs(%s - %g) < 1", apart, before))
}

// TestSettleScaleByKeysAlone: the reference, its size and its four corners,
// zoomed and accepted, without a mouse.
func TestSettleScaleByKeysAlone(t *testing.T) {
	_, h := settled(t)
	corners := inner(t)
	h.press(kb.ArrowDown, kb.Tab) // from grid to checkerboard
	h.press(strings.Split("7x5/2cm", "")...)
	h.do(chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
	for i := 3; i >= 0; i-- {
		h.do(chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift)))
		var x, y float64
		label := asks[string](t, h.ctx, "document.activeElement.getAttribute('aria-label')")
		if _, err := fmt.Sscanf(label[strings.LastIndex(label, "at "):], "at %f, %f", &x, &y); err != nil {
			t.Fatalf("%q: %v", label, err)
		}
		h.nudge(corners[i].XPx-x, kb.ArrowRight, kb.ArrowLeft)
		h.nudge(corners[i].YPx-y, kb.ArrowDown, kb.ArrowUp)
	}
	h.scaled("keys alone")
	h.do(chromedp.KeyEvent(kb.Tab, chromedp.KeyModifiers(chromedp.ModifierShift))) // the photo
	whole := asks[float64](t, h.ctx, apart)
	h.press("+", "+", "+")
	h.until(fmt.Sprintf("%s > 1.5 * %g", apart, whole))
	h.press("0")
	h.until(fmt.Sprintf("Math.abs(%s - %g) < 1", apart, whole))
	asks[bool](t, h.ctx, "document.querySelector('.stage .go').focus() || true")
	h.do(chromedp.KeyEvent(kb.Enter))
	h.told("Plate drawn anew")
	h.do(chromedp.KeyEvent(kb.Escape))
	h.until("!document.querySelector('.stage')")
	h.report("scale set by keys alone")
}

// nudge moves the corner that has the keyboard by whole pixels.
func (h *hand) nudge(byPx float64, forward, back string) {
	h.t.Helper()
	key := forward
	if byPx < 0 {
		key = back
	}
	whole := int(math.Round(math.Abs(byPx)))
	for range whole / 10 {
		h.do(chromedp.KeyEvent(key, chromedp.KeyModifiers(chromedp.ModifierShift)))
	}
	for range whole % 10 {
		h.do(chromedp.KeyEvent(key))
	}
}
