package review

import (
	"os"
	"path/filepath"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestInitialsAtTheFirstWord: nothing asks for them before, a decision waits
// for them, without them it is not made, and they are asked for once.
func TestInitialsAtTheFirstWord(t *testing.T) {
	browser(t)
	names := hundred()[:4]
	dir := written(t, names...)
	s, _ := served(t, dir)
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	asks[bool](t, ctx, `Boolean([localStorage.clear()])`)
	drive(t, ctx, chromedp.Reload(), chromedp.WaitVisible(chromedp.CSS(".thumb")))
	h.until("document.activeElement.matches('.thumb') && !document.querySelector('dialog').open && document.querySelector('#who').hidden")
	said := func() int {
		text, _ := os.ReadFile(filepath.Join(dir, "words.log"))
		return strings.Count(string(text), "\tview\tbone\n")
	}
	h.press(" ")
	h.shortcut("2")
	h.until("document.querySelector('dialog').open && document.activeElement.id === 'by'")
	within(t, ctx, "initials")
	shot(t, ctx, "initials")
	h.press("t", "k", kb.Escape) // letters that are keys of the page elsewhere
	h.told("Nothing was recorded")
	if n := said(); n != 0 || !asks[bool](t, ctx, "!document.querySelector('#sort').hidden && document.activeElement.matches('.thumb')") {
		t.Errorf("%d words without initials, or the page is elsewhere", n)
	}
	h.shortcut("2")
	h.until("document.querySelector('dialog').open && document.querySelector('#by').value === ''")
	h.press("R", "K", kb.Enter)
	h.told("1 photo: view bone")
	if n := said(); n != 1 {
		t.Errorf("%d words", n)
	}
	h.until("document.querySelector('#who').textContent === 'RK'")
	h.shortcut("3")
	h.told("1 photo: view gridded")
	h.click("#who")
	h.press("A", "B", kb.Enter)
	h.until("document.querySelector('#who').textContent === 'AB'")
	h.click("#undo")
	h.told("Taken back")
	if text, _ := os.ReadFile(filepath.Join(dir, "words.log")); strings.Count(string(text), "\tRK\t") != 2 || strings.Count(string(text), "\tAB\t") != 1 {
		t.Errorf("%s", text)
	}
}

// TestEmptyPanes: a pane with nothing in it says how that is and what to do, and
// its buttons lead there.
func TestEmptyPanes(t *testing.T) {
	browser(t)
	dir := written(t, "ann/jacket 14/IMG_0001.JPG")
	s, _ := served(t, dir)
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	empty := func(pane, text string) {
		t.Helper()
		h.until("document.querySelector('#" + pane + " .empty')?.textContent.includes('" + text + "') === true")
		for _, size := range sizes {
			drive(t, ctx, chromedp.EmulateViewport(size[0], size[1]))
			within(t, ctx, "empty "+pane)
		}
		shot(t, ctx, "empty-"+pane)
	}
	empty("sort", "Nothing left to sort")
	h.shortcut("g")
	empty("words", "No decision yet")
	h.shortcut("v")
	empty("settle", "Nothing needs a person")
	h.click("#settle .empty .go")
	h.until("!document.querySelector('#check').hidden")
	h.shortcut("t")
	drive(t, ctx, chromedp.SetValue(chromedp.CSS("#filter"), "out"))
	empty("sort", "No photo is left out")
	h.click("#sort .empty button")
	h.until("document.querySelectorAll('.thumb').length === 1 && !document.querySelector('#sort .empty')?.offsetParent")
	if err := os.RemoveAll(filepath.Join(dir, "photos")); err != nil {
		t.Fatal(err)
	}
	for name, head := range map[string]string{"jackets.csv": "jacket\n", "finds.csv": "field_number\n"} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(head), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	if err := os.Mkdir(filepath.Join(dir, "photos"), 0o755); err != nil {
		t.Fatal(err)
	}
	empty("sort", "fieldjacket copy")
	h.shortcut("k")
	empty("check", "No jackets yet")
}
