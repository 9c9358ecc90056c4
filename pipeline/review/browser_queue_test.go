package review

import (
	"fmt"
	"testing"
	"time"

	"github.com/chromedp/chromedp"
	"github.com/chromedp/chromedp/kb"
)

// TestFromAGapToItsPhoto: the check names a view that is missing, a click goes
// to the photos that may show it, and another gap is waived.
func TestFromAGapToItsPhoto(t *testing.T) {
	browser(t)
	names := hundred()[:3]
	s, h := served(t, written(t, names...))
	ctx := browsed(t, s)
	hand := &hand{t: t, ctx: ctx, began: time.Now()}
	hand.shortcut("k")
	hand.until("document.querySelectorAll('#check .lacks').length === 4") // 14: setting, bone, gridded; 15: setting
	hand.click("#check [data-jacket='14'] .lacks .go")
	hand.until("!document.querySelector('#asked').hidden && document.querySelector('#asked').textContent.includes('Jacket 14 lacks its view setting')")
	hand.until("document.querySelector('#jacket').value === '14'")
	hand.click(thumbnail(names[1]))
	hand.press("1")
	hand.told("1 photo: view setting")
	hand.click("#give")
	hand.told("1 photo: jacket 14")
	hand.shortcut("k")
	hand.until("document.querySelectorAll('#check .lacks').length === 3")
	hand.click("#check [data-jacket='14'] .lacks .waive")
	hand.press("d", "a", "r", "k", kb.Enter)
	hand.told("14: bone waived")
	hand.until("document.querySelector('#check .waived')?.textContent === 'bone waived: dark, AB'")
	for _, j := range stateNow(t, s, h).Report.Jackets {
		if j.Number == "14" && (j.Views[0].State != "there" || j.Views[1].State != "waived" || j.Views[2].State != "missing") {
			t.Errorf("%+v", j.Views)
		}
	}
}

// TestTwoPages at once, of two people: each shows the other's words, and
// neither loses any.
func TestTwoPages(t *testing.T) {
	browser(t)
	names := hundred()[:6]
	s, _ := served(t, written(t, names...))
	first := browsed(t, s)
	second, closed := chromedp.NewContext(first)
	defer closed()
	drive(t, second, chromedp.Navigate(s.URL()), chromedp.WaitVisible(chromedp.CSS(".thumb")))
	one, two := &hand{t: t, ctx: first}, &hand{t: t, ctx: second}
	one.click(thumbnail(names[0]))
	one.press("2")
	one.told("1 photo: view bone")
	two.until(fmt.Sprintf("document.querySelector('%s .view').textContent === 'bone'", thumbnail(names[0])))
	two.click(thumbnail(names[0]))
	two.click(thumbnail(names[1]), kb.ModifierShift)
	two.press("m")
	two.told("2 photos: shows no jacket")
	one.until("document.querySelectorAll('.thumb').length === 4")
	if b := belongsNow(t, s, names[0])[0]; b.View != "bone" || b.Strength != "person's word" {
		t.Errorf("%+v", b)
	}
}
