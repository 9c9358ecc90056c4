package audit

import (
	"testing"

	"github.com/google/go-cmp/cmp"
	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

func TestPhotosForAPerson(t *testing.T) {
	conflict := of("")
	conflict.File, conflict.Belongs.Strength, conflict.Belongs.Reason = "a.jpg", assign.Conflict, "two words"
	conflict.Belongs.Suggested = []string{"1", "2"}
	view := of("", "1")
	view.File, view.Belongs.ViewConflict, view.Belongs.ViewFrom = "b.jpg", true, "two views"
	broken := unreadable(of(""))
	broken.File = "c.jpg"
	loose := of("")
	loose.File = "d.jpg"
	r := Check(registerOf(register.Jacket{Number: "1"}), []Photo{conflict, view, broken, loose, leftOut(of(""))})
	r.Jackets, r.Order = nil, nil
	want := Report{
		Unsorted:   []Loose{{"a.jpg", "two words", []string{"1", "2"}}, {"d.jpg", "nothing names a jacket", nil}},
		Conflicts:  []Loose{{"a.jpg", "two words", []string{"1", "2"}}, {"b.jpg", "two views", nil}},
		Unreadable: []Loose{{"c.jpg", "cut short", nil}},
	}
	if diff := cmp.Diff(want, r); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

// TestMorePhotosNeverLackMore: adding a photo of a jacket never makes the report worse, and going a stage further never
// makes it better.
func TestMorePhotosNeverLackMore(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		photo := rapid.Custom(func(t *rapid.T) Photo {
			p := of(rapid.SampledFrom(append([]register.View{""}, register.Views...)).Draw(t, "view"), rapid.SampledFrom([]string{"1", "2"}).Draw(t, "jacket"))
			if rapid.Bool().Draw(t, "scaled") {
				p = scaled(p, rapid.SampledFrom([]calibrate.Kind{calibrate.KindChecker, calibrate.KindGrid, calibrate.KindBar}).Draw(t, "by"))
			}
			return p
		})
		photos := rapid.SliceOfN(photo, 0, 6).Draw(t, "photos")
		more := append(photos[:len(photos):len(photos)], photo.Draw(t, "one more"))
		at := rapid.IntRange(0, len(register.Stages)-2).Draw(t, "stage")
		kind := rapid.SampledFrom(append([]register.Package{""}, register.Packages...)).Draw(t, "kind")
		lacks := func(stage int, photos []Photo) int {
			reg := registerOf(register.Jacket{Number: "1", Kind: kind, Stage: register.Stages[stage]})
			return len(Check(reg, photos).Jackets[0].Lacks())
		}
		// A gridded photo that is not scaled counts as lacking only when gridded is due, as its absence does.
		if a, b := lacks(at, photos), lacks(at, more); b > a {
			t.Fatalf("lacks %d, with one more photo %d", a, b)
		}
		if a, b := lacks(at, photos), lacks(at+1, photos); b < a {
			t.Fatalf("lacks %d, a stage further %d", a, b)
		}
	})
}
