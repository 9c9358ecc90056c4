package review

import (
	"fmt"
	"math"
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"fieldjacket/calibrate"
)

// settled opens a board's photo that no reference of the season fits in the
// view that settles it.
func settled(t *testing.T) (dir string, h *hand) {
	t.Helper()
	const file = "ann/jacket 14/gridded/IMG_0001.JPG"
	dir = written(t, "ann/IMG_0002.JPG") // one to sort, which the page opens with
	program := boarded(t, dir, file)
	toml := "name = \"invented\"\nutc_offset = \"-03:00\"\n[[reference]]\nname = \"strings\"\nkind = \"grid\"\npitch_cm = 10\n"
	if err := os.WriteFile(filepath.Join(dir, "season.toml"), []byte(toml), 0o644); err != nil {
		t.Fatal(err)
	}
	ran(t, dir, program)
	s, err := New(dir, Options{Program: program})
	if err != nil {
		t.Fatal(err)
	}
	h = &hand{t: t, ctx: browsed(t, s), began: time.Now()}
	h.do(chromedp.KeyEvent("v"))
	h.until("document.querySelectorAll('#queue button').length === 2")
	h.press("h")
	h.until("document.querySelectorAll('.handle').length === 4")
	return dir, h
}

// screenAt is where a place of the photo is on the screen now, by two handles
// and the places that their names tell.
func (h *hand) screenAt(xPx, yPx float64) (x, y float64) {
	h.t.Helper()
	h.until("[...document.querySelectorAll('.handle')].every(e => e.hasAttribute('aria-label'))")
	v := asks[[]float64](h.t, h.ctx, fmt.Sprintf(`(() => {
		document.querySelector(".photo-view").scrollIntoView({block: "nearest", behavior: "instant"});
		const p = [...document.querySelectorAll(".handle")].map(e => {
			const r = e.getBoundingClientRect(), [, px, py] = e.getAttribute("aria-label").match(/at (-?\d+), (-?\d+)/).map(Number);
			return {x: r.x + r.width / 2, y: r.y + r.height / 2, px, py};
		});
		const zoom = (p[2].x - p[0].x) / (p[2].px - p[0].px);
		return [p[0].x + zoom * (%g - p[0].px), p[0].y + zoom * (%g - p[0].py)];
	})()`, xPx, yPx))
	return v[0], v[1]
}

// viewAt is where the view's upper left corner is on the screen.
func (h *hand) viewAt() (x, y float64) {
	h.t.Helper()
	v := asks[[]float64](h.t, h.ctx, `(() => {
		const v = document.querySelector(".photo-view");
		v.scrollIntoView({block: "nearest", behavior: "instant"});
		const r = v.getBoundingClientRect();
		return [r.x, r.y];
	})()`)
	return v[0], v[1]
}

// choose picks a kind of reference and says its size.
func (h *hand) choose(kind, size string) {
	h.t.Helper()
	asks[bool](h.t, h.ctx, fmt.Sprintf(`(() => {
		const k = document.querySelector(".side select");
		k.value = %q;
		k.dispatchEvent(new Event("change"));
		const s = document.querySelector(".side input");
		s.value = %q;
		s.dispatchEvent(new Event("input"));
		return true;
	})()`, kind, size))
	h.actions += 2
}

// inner are the outermost inner corners of the board, clockwise.
func inner(t *testing.T) (corners [4]calibrate.Point) {
	t.Helper()
	_, truth := board().Render()
	for i, c := range [4][2]float64{{-5, -3}, {5, -3}, {5, 3}, {-5, 3}} {
		var ok bool
		if corners[i], ok = truth.Planes[0].Photo(c[0], c[1], 0); !ok {
			t.Fatal("a corner lies behind the camera")
		}
	}
	return corners
}

// scaled waits for what the program makes of the corners, and holds it against
// the truth.
func (h *hand) scaled(when string) {
	h.t.Helper()
	h.until("Boolean(document.querySelector('.result .scale')) && !document.querySelector('.stage .go').disabled")
	text := asks[string](h.t, h.ctx, "document.querySelector('.result').textContent")
	var pxPerCm float64
	if _, err := fmt.Sscanf(text, "%f", &pxPerCm); err != nil {
		h.t.Fatalf("%s: %q", when, text)
	}
	_, truth := board().Render()
	if want := truth.Planes[0].ScalePxPerCm(0, 0, 0); math.Abs(pxPerCm/want-1) > 0.004 || !strings.Contains(text, "Snapped") {
		h.t.Errorf("%s: %q, truth %.3f px/cm", when, text, want)
	}
	h.t.Logf("%s: %s ms from drop to answer; %s", when, asks[string](h.t, h.ctx, "document.querySelector('.result').dataset.ms"), text)
}

// within holds that the photo and what else is named of the tools stand whole in a window of that size, above the line that tells
// what was done.
func (h *hand) within(wide, tall int64, whole string) {
	h.t.Helper()
	drive(h.t, h.ctx, chromedp.EmulateViewport(wide, tall), chromedp.Sleep(300*time.Millisecond))
	asks[bool](h.t, h.ctx, "Boolean([document.querySelector('.stage').scrollIntoView({block: 'start'})])")
	for _, what := range asks[[]string](h.t, h.ctx, fmt.Sprintf(`(() => {
		const foot = document.querySelector("#told").getBoundingClientRect().top;
		return [...document.querySelectorAll(%q)].filter(e => e.offsetParent).map(e => [e, e.getBoundingClientRect()])
			.filter(([, r]) => r.bottom > foot + 1 || r.right > innerWidth || r.top < -1 || r.left < 0)
			.map(([e, r]) => e.className + " " + e.textContent.slice(0, 40) + " at " + [r.left, r.top, r.right, r.bottom].map(Math.round) + ", foot " + Math.round(foot));
	})()`, whole)) {
		h.t.Errorf("%d x %d: off the window: %s", wide, tall, what)
	}
}

// TestSettleScaleByHand: corners dragged with the mouse, tapped with a finger
// and nudged with the keyboard; accepted, the plate is there and set by hand.
func TestSettleScaleByHand(t *testing.T) {
	dir, h := settled(t)
	corners := inner(t)
	h.choose("checker", "7x5/2cm")
	shot(t, h.ctx, "scale-begun")
	for i, c := range corners { // by mouse
		x, y := h.screenAt(c.XPx, c.YPx) // the page does not scroll after this
		from := asks[[]float64](t, h.ctx, fmt.Sprintf(`(() => {
			const r = document.querySelectorAll(".handle")[%d].getBoundingClientRect();
			return [r.x + r.width / 2, r.y + r.height / 2];
		})()`, i))
		h.do(chromedp.DragAndDropXY(from[0], from[1], x, y))
	}
	h.scaled("mouse")
	shot(t, h.ctx, "scale")
	h.within(1366, 768, ".photo-view, .stage .bar, .stage .go, .stage select, .result .scale, .rectified")
	h.within(1366, 620, ".photo-view, .stage .go, .stage select, .result .scale") // the same screen with a browser's own bars
	drive(t, h.ctx, chromedp.EmulateViewport(1280, 800))
	h.do(chromedp.KeyEvent(kb.Tab)) // by keyboard: a corner eleven px off and back
	asks[bool](t, h.ctx, "document.querySelector('.handle').focus() || true")
	h.do(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(chromedp.ModifierShift)), chromedp.KeyEvent(kb.ArrowLeft))
	h.until("document.querySelector('.handle').getAttribute('aria-label') !== '' && !document.querySelector('.magnifier').hidden")
	h.scaled("keyboard")
	shot(t, h.ctx, "magnifier")
	h.click(".stage .go")
	h.told("Plate drawn anew")
	text, err := os.ReadFile(filepath.Join(dir, "words.log"))
	if err != nil || !strings.Contains(string(text), "AB\tphoto ann/jacket 14/gridded/IMG_0001.JPG\treference\tchecker 7x5/2cm picked") {
		t.Errorf("words.log: %q, %v", text, err)
	}
	h.report("scale set by hand")

	h.choose("bar", "10cm/1cm") // no longer what counts
	h.until("[...document.querySelectorAll('.how')].some(e => e.textContent.includes('one end of the bar'))")
	h.choose("checker", "7x5/2cm")
	for _, c := range corners { // by finger
		x, y := h.screenAt(c.XPx, c.YPx)
		h.do(chromedp.TapXY(x, y))
	}
	h.scaled("finger")
}

// TestMarkUpByHand: ends, north and an outline are words, drawn on the plate,
// and the outline's area is told.
func TestMarkUpByHand(t *testing.T) {
	dir, h := settled(t)
	corners := inner(t)
	h.choose("checker", "7x5/2cm")
	var at [][2]float64 // from the view's corner
	for _, c := range corners {
		x, y := h.screenAt(c.XPx, c.YPx)
		x0, y0 := h.viewAt()
		h.do(chromedp.TapXY(x, y))
		at = append(at, [2]float64{x - x0, y - y0})
	}
	h.scaled("finger")
	h.click(".stage .go")
	h.told("Plate drawn anew")
	h.click(".stage .bar button:nth-child(2)")
	mark := func(what string, fill string) {
		asks[bool](t, h.ctx, fmt.Sprintf(`(() => {
			const k = document.querySelector(".side select");
			k.value = %q;
			k.dispatchEvent(new Event("change"));
			%s
			return true;
		})()`, what, fill))
	}
	mark("outline", `document.querySelector(".side input").value = "femur";`)
	tap := func(places ...[2]float64) {
		x, y := h.viewAt()
		for _, p := range places {
			h.do(chromedp.TapXY(x+p[0], y+p[1]))
		}
	}
	tap(at...)
	h.until("document.querySelector('.side .scale')?.textContent.includes('cm²') === true")
	var area, u float64
	said := asks[string](t, h.ctx, "document.querySelector('.side .scale').textContent")
	if _, err := fmt.Sscanf(said, "%f ± %f", &area, &u); err != nil || math.Abs(area-60) > u || u > 6 {
		t.Errorf("%q, want 60 cm²: %v", said, err)
	}
	shot(t, h.ctx, "markup")
	h.click(".side .go")
	h.told("outline femur")
	mark("north", "")
	tap(at[3], at[0])
	h.click(".side .go")
	h.told("Marked: north")
	mark("end 1", "")
	tap(at[0])
	h.click(".side .go")
	h.told("end 1")
	h.until("document.querySelectorAll('.said-here li').length === 4")
	shot(t, h.ctx, "markup-kept")
	text, _ := os.ReadFile(filepath.Join(dir, "words.log"))
	for _, want := range []string{"outline femur\tbone at ", "north\t", "end 1\t"} {
		if !strings.Contains(string(text), want) {
			t.Errorf("words.log lacks %q: %s", want, text)
		}
	}
}

// TestAPhotoThatCannotBeShownSaysWhy: what to install is told where a HEIC is opened that no program here decodes.
func TestAPhotoThatCannotBeShownSaysWhy(t *testing.T) {
	dir := written(t, "ann/IMG_0002.JPG") // one to sort, which the page opens with
	withHEIC(t, dir, "ann/jacket 14/gridded/IMG_0052.HEIC")
	s, _ := served(t, dir)
	h := &hand{t: t, ctx: browsed(t, s), began: time.Now()}
	h.do(chromedp.KeyEvent("v"))
	h.until("document.querySelectorAll('#queue button').length > 0")
	h.press("h")
	h.told("IMG_0052.HEIC can be shown here only with the vision program: put fieldjacket-vision beside fieldjacket")
	shot(t, h.ctx, "unseen")
}
