package audit

import (
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// TestPhotosOfAJacketAreCounted: those that can be read, are not left out and belong to it, and among them those without a view.
func TestPhotosOfAJacketAreCounted(t *testing.T) {
	photos := []Photo{
		of(register.ViewBone, "14"), of("", "14"), of("", "14", "15"), unreadable(of("", "14")), leftOut(of("", "14")), of("", "15"), of(register.ViewBone), of("", "14"),
	}
	for _, j := range Check(registerOf(register.Jacket{Number: "14"}, register.Jacket{Number: "15"}, register.Jacket{Number: "16"}), photos).Jackets {
		want := map[string][2]int{"14": {4, 3}, "15": {2, 2}, "16": {0, 0}}[j.Number]
		if j.Photos != want[0] || j.NoView != want[1] {
			t.Errorf("jacket %s has %d photos, %d without a view, want %v", j.Number, j.Photos, j.NoView, want)
		}
	}
}

// TestPhotosWithoutScaleAreCountedOrNamed: a gridded one and one in which something like a reference was seen are named with their
// reason, the others counted.
func TestPhotosWithoutScaleAreCountedOrNamed(t *testing.T) {
	photo := func(view register.View, refused string, near calibrate.Nearness) Photo {
		p := of(view, "14")
		p.Refused, p.Near = refused, near
		return p
	}
	r := Check(registerOf(register.Jacket{Number: "14"}), []Photo{
		photo(register.ViewBone, "", 0), photo(register.ViewBone, "no strings", calibrate.Unseen), photo(register.ViewSetting, "no strings", calibrate.Unseen), photo("", "no strings", calibrate.Unseen),
		photo(register.ViewGridded, "no strings", calibrate.Unseen), photo(register.ViewBone, "20 blocks counted", calibrate.Other), photo("", "something like strings", calibrate.Like), photo(register.ViewBone, "something like strings", calibrate.Like),
	})
	if r.Bare != 4 || len(r.Unscaled) != 3 {
		t.Errorf("%d counted, named are %+v, want 4 and 3", r.Bare, r.Unscaled)
	}
}

// TestAssumedSizesByReferenceAndSetUp: photos of one reference in one set-up stand together, others apart.
func TestAssumedSizesByReferenceAndSetUp(t *testing.T) {
	var photos []Photo
	for _, a := range [][2]string{{"grid", "S1"}, {"grid", "S2"}, {"bar", "S1"}, {"grid", "S1"}} {
		p := of(register.ViewGridded, "14")
		p.File, p.Assumed = a[0]+a[1], &Assumed{Reference: a[0], SetUp: a[1]}
		photos = append(photos, p)
	}
	got := Check(registerOf(register.Jacket{Number: "14"}), photos).Assumed
	if len(got) != 3 || len(got[0].Files) != 2 || got[1].Reference != "grid" || got[1].SetUp != "S2" || got[2].Reference != "bar" {
		t.Errorf("%+v", got)
	}
}
