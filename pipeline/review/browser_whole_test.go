package review

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"

	"fieldjacket/pipeline/children"
)

// A way is how a person works the page.
type way struct {
	wide, high int64
	options    []chromedp.EmulateViewportOption
	sort       func(h *hand, first, last, number string)
	settle     func(h *hand, do string)
}

var ways = map[string]way{
	"mouse": {1280, 800, nil,
		func(h *hand, first, last, number string) {
			h.click(thumbnail(first))
			h.click(thumbnail(last), kb.ModifierShift)
			h.click("#jacket")
			h.press(number[:1], number[1:])
			h.click("#give")
		},
		func(h *hand, do string) {
			if do == "give" {
				h.click("#one .actions input")
				h.press("1", "4")
			}
			h.click("[data-do=" + do + "]")
		}},
	"touch": {360, 740, []chromedp.EmulateViewportOption{chromedp.EmulateMobile, chromedp.EmulateTouch},
		func(h *hand, first, last, number string) {
			h.tap(thumbnail(first))
			h.tap("#range")
			h.tap(thumbnail(last))
			h.tap("#jacket")
			h.press(number[:1], number[1:])
			h.tap("#give")
		},
		func(h *hand, do string) {
			if do == "give" {
				h.tap("#one .actions input")
				h.press("1", "4")
			}
			h.tap("[data-do=" + do + "]")
		}},
	"keyboard": {1280, 800, nil,
		func(h *hand, first, last, number string) {
			h.press(" ")
			for !asks[bool](h.t, h.ctx, fmt.Sprintf("document.activeElement.matches(%q)", thumbnail(last))) {
				h.do(chromedp.KeyEvent(kb.ArrowRight, chromedp.KeyModifiers(kb.ModifierShift)))
			}
			h.shortcut("Enter")
			h.press(number[:1], number[1:], kb.Enter)
		},
		func(h *hand, do string) {
			switch do {
			case "give":
				h.shortcut("j")
				h.press("1", "4", kb.Enter)
			case "leave-out":
				h.press("o")
			case "no-scale":
				h.press("z")
			}
		}},
}

// TestTheWholeWay: 100 photos without a jacket are sorted and ten others
// settled (given a jacket, left out, said to need no scale), with the mouse,
// by touch on a phone-sized window, and by the keyboard alone.
func TestTheWholeWay(t *testing.T) {
	browser(t)
	program, _ := children.Find() // without it no scale is refused: then none is settled
	for name, w := range ways {
		t.Run(name, func(t *testing.T) {
			unsorted := hundred()
			names := slices.Clone(unsorted)
			settles := map[string]string{}
			for i := range 10 {
				file, do := fmt.Sprintf("cas/jacket 14/IMG_%04d jacket 15.JPG", i), []string{"give", "leave-out"}[i%2]
				if i > 5 && program != "" {
					file, do = fmt.Sprintf("dan/jacket 14/gridded/IMG_%04d.JPG", i), "no-scale"
				}
				names = append(names, file)
				settles[keyOf(file)] = do
			}
			dir := written(t, names...)
			ran(t, dir, program)
			s, err := New(dir, Options{Program: program})
			if err != nil {
				t.Fatal(err)
			}
			ctx := browsed(t, s)
			drive(t, ctx, chromedp.EmulateViewport(w.wide, w.high, w.options...))
			h := &hand{t: t, ctx: ctx, began: time.Now()}
			if name == "keyboard" {
				h.until("document.activeElement.matches('.thumb')") // the strip has the keyboard from the start
			}
			var want []string
			for first := 0; first < len(unsorted); first += 10 {
				number := []string{"14", "15"}[first/10%2]
				w.sort(h, unsorted[first], unsorted[first+9], number)
				h.until(fmt.Sprintf("!document.querySelector(%q)", thumbnail(unsorted[first+9])))
				want = append(want, slices.Repeat([]string{number}, 10)...)
			}
			h.report("100 photos sorted by " + name)
			if got := jacketsNow(t, s, unsorted); !slices.Equal(got, want) {
				t.Errorf("%v", got)
			}
			sorted := h.actions
			if name == "keyboard" {
				h.press("v")
			} else if name == "touch" {
				h.tap("[data-pane=settle]")
			} else {
				h.click("[data-pane=settle]")
			}
			for left := 10; left > 0; left-- {
				h.until(fmt.Sprintf("document.querySelectorAll('#queue button').length === %d", left))
				w.settle(h, settles[asks[string](t, ctx, "document.querySelector('#queue [aria-current]').dataset.key")])
			}
			h.until("document.querySelectorAll('#queue button').length === 0")
			h.report(fmt.Sprintf("and ten settled by %s (%d actions of them)", name, h.actions-sorted))
			log, err := os.ReadFile(filepath.Join(dir, "words.log"))
			if err != nil {
				t.Fatal(err)
			}
			said := map[string]int{}
			for _, do := range settles {
				said[do]++
			}
			for what, n := range map[string]int{"\tAB\t": 110, "\tleave_out\tyes\n": said["leave-out"], "\tno_scale\tyes\n": said["no-scale"], "\tjackets\t": 100 + said["give"]} {
				if got := strings.Count(string(log), what); got != n {
					t.Errorf("words.log has %q %d times, want %d", what, got, n)
				}
			}
		})
	}
}
