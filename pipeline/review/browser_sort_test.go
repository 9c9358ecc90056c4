package review

import (
	"fmt"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

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
	h.shortcut("Enter")
	h.press("1", "5", kb.Enter)
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
	h.tap("#give")
	h.told("3 photos: jacket 14")
	h.report("3 photos by touch")
	if got := jacketsNow(t, s, names); strings.Join(got[:4], " ") != "14 14 14 " {
		t.Errorf("%v", got)
	}
}
