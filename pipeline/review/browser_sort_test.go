package review

import (
	"encoding/json"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
)

// hundred are the names of 100 photos of two phones, unsorted.
func hundred() (names []string) {
	for i := range 100 {
		names = append(names, fmt.Sprintf("%s/IMG_%04d.JPG", []string{"ann", "ben"}[i/50], 1+i%50))
	}
	return names
}

// belongsNow is what the program knows of the photos, once it has read every
// word said until now: a page tells of a word before it asks for the new state.
func belongsNow(t *testing.T, s *Server, names ...string) (out []assign.Belongs) {
	t.Helper()
	s.mu.Lock()
	defer s.mu.Unlock()
	if err := s.refresh(t.Context()); err != nil {
		t.Fatal(err)
	}
	for _, name := range names {
		out = append(out, s.made.records[keyOf(name)].Belongs)
	}
	return out
}

// jacketsNow are the jackets of the photos as the program knows them.
func jacketsNow(t *testing.T, s *Server, names []string) (out []string) {
	t.Helper()
	for _, b := range belongsNow(t, s, names...) {
		out = append(out, strings.Join(b.Jackets, "+"))
	}
	return out
}

// TestViewJacketAndUndo by keyboard: the view first and the jacket after it,
// each taken back alone.
func TestViewJacketAndUndo(t *testing.T) {
	browser(t)
	names := hundred()[:12]
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	h.press(" ")
	for range 5 {
		h.do(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(kb.ModifierShift)))
	}
	h.press("2")
	h.told("6 photos: view bone")
	h.shortcut("Enter")
	h.press("1", "5", kb.Enter)
	h.told("6 photos: jacket 15")
	if got := jacketsNow(t, s, names); strings.Join(got[:7], " ") != "15 15 15 15 15 15 " {
		t.Errorf("%v", got)
	}
	h.click("#undo")
	h.told("Taken back")
	h.until("document.querySelectorAll('.thumb').length === 12")
	if b := belongsNow(t, s, names[0])[0]; b.Jackets != nil || b.View != "bone" {
		t.Errorf("after undo: %+v", b)
	}
	h.do(chromedp.KeyEvent("z", chromedp.KeyModifiers(kb.ModifierCtrl)))
	h.until("!document.querySelector('.thumb .view').textContent")
	h.shortcut("g")
	h.until("document.querySelectorAll('#words-list li').length === 24 && document.querySelectorAll('#words-list .undone').length === 12")
}

// TestDrawnOver: the mouse draws over a range; drawn back, it is left again.
func TestDrawnOver(t *testing.T) {
	browser(t)
	names := hundred()[:12]
	s, _ := served(t, written(t, names...))
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	fromX, fromY := h.at(thumbnail(names[0]))
	toX, toY := h.at(thumbnail(names[3])) // in the same row, so that the page does not scroll
	chosen := "[...document.querySelectorAll('.thumb[aria-selected=true]')].length"
	h.do(chromedp.DragAndDropXY(fromX, fromY, toX, toY, 8))
	h.until(chosen + " === 4")
	h.do(chromedp.DragAndDropXY(toX, toY, toX-1, toY, 2)) // a click that shakes
	h.until(chosen + " === 3")
	h.press(kb.Escape)
	h.until(chosen + " === 0")
}

// TestSuggestionsInBulk: photos whose folder has a jacket's earlier number are
// offered its present one, and all are confirmed in one motion.
func TestSuggestionsInBulk(t *testing.T) {
	browser(t)
	var names []string
	for i := range 8 {
		names = append(names, fmt.Sprintf("ann/jacket 9/IMG_%04d.JPG", i))
	}
	dir := written(t, names...)
	if err := os.WriteFile(filepath.Join(dir, "jackets.csv"), []byte("jacket,finds,kind,stage,formerly\n14,14,jacket,mapped,\n15,15,jacket,found,9\n"), 0o644); err != nil {
		t.Fatal(err)
	}
	s, _ := served(t, dir)
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	h.until("document.querySelector('.thumb .number').textContent === '15?'")
	h.do(chromedp.KeyEvent("a", chromedp.KeyModifiers(kb.ModifierCtrl)))
	h.press("s")
	h.told("8 photos: as suggested")
	h.report("8 suggestions confirmed")
	if got := jacketsNow(t, s, names); !slices.Equal(got, slices.Repeat([]string{"15"}, 8)) {
		t.Errorf("%v", got)
	}
}

// TestCarriedOverInBulk: what a placard gave to the photos after it is shown as
// carried over, and becomes a person's word for all of them in one motion.
func TestCarriedOverInBulk(t *testing.T) {
	browser(t)
	names := append(hundred()[:6], "ben/IMG_0001.JPG")
	dir := written(t, names...)
	s, _ := served(t, dir)
	// The first photo is taken to show a placard, as the vision program would tell.
	records, err := filepath.Glob(filepath.Join(dir, "paper", "records", "IMG_*.json"))
	if err != nil || len(records) != len(names) {
		t.Fatal(records, err)
	}
	for _, path := range records {
		var r record.Record
		text, err := os.ReadFile(path)
		if err == nil {
			err = json.Unmarshal(text, &r)
		}
		if err != nil {
			t.Fatal(err)
		}
		if r.Photo.File != names[0] {
			continue
		}
		r.Codes = []look.Code{{Text: assign.CodeText("14")}}
		if text, err = json.Marshal(r); err == nil {
			err = keep.Bytes(path, 0o644, text)
		}
		if err != nil {
			t.Fatal(err)
		}
	}
	s.made.stamp = ""
	ctx := browsed(t, s)
	h := &hand{t: t, ctx: ctx, began: time.Now()}
	drive(t, ctx, chromedp.SetValue(chromedp.CSS("#filter"), "offered"))
	h.until("document.querySelectorAll('.thumb').length === 5 && [...document.querySelectorAll('.thumb .view')].every(v => v.textContent.endsWith('carried over'))")
	h.click(thumbnail(names[1]))
	h.do(chromedp.KeyEvent("a", chromedp.KeyModifiers(kb.ModifierCtrl)))
	h.press("s")
	h.told("5 photos: as suggested")
	h.report("5 photos carried over, confirmed")
	for i, b := range belongsNow(t, s, names[1:6]...) {
		if b.Strength != assign.ByPerson || !slices.Equal(b.Jackets, []string{"14"}) {
			t.Errorf("%s: %+v", names[1+i], b)
		}
	}
}

// TestDoubtfulSuggestionsOneByOne: what the diary suggests by a clock in doubt is shown, and not confirmed for many photos at once.
func TestDoubtfulSuggestionsOneByOne(t *testing.T) {
	browser(t)
	names := []string{"ann/IMG_0001.JPG", "ann/IMG_0002.JPG"}
	dir := written(t, names...)
	toml, err := os.ReadFile(filepath.Join(dir, "season.toml"))
	if err != nil {
		t.Fatal(err)
	}
	for name, text := range map[string]string{ // the photos say -03:00: 10:00 there is 14:00 here
		"season.toml": strings.Replace(string(toml), "-03:00", "+01:00", 1), "diary.csv": "date,numbers,what,by,time\n2026-02-11,14,hardened,AB,14:05\n2026-02-11,15,hardened,AB,10:00\n",
	} {
		if err := os.WriteFile(filepath.Join(dir, name), []byte(text), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	s, _ := served(t, dir)
	h := &hand{t: t, ctx: browsed(t, s), began: time.Now()}
	h.until("document.querySelector('.thumb .number').textContent === '14?'")
	h.do(chromedp.KeyEvent("a", chromedp.KeyModifiers(kb.ModifierCtrl)))
	h.press("s")
	h.told("resolve them one by one")
	if got := jacketsNow(t, s, names); !slices.Equal(got, []string{"", ""}) {
		t.Errorf("%q", got)
	}
}
