package audit

import (
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

// TestWhatCanStillBeFixed: the photo that was meant, why it does not count, and what to do; views that can no longer be taken are no fix.
func TestWhatCanStillBeFixed(t *testing.T) {
	at := func(stage register.Stage) register.Jacket { return register.Jacket{Number: "1", Stage: stage} }
	named := func(file string, p Photo) Photo { p.File = file; return p }
	refusedAs := func(view register.View, near calibrate.Nearness) Photo {
		p := named("ann/IMG_7.JPG", of(view, "1"))
		p.Refused, p.Retake, p.Near = "grid: two strings are hidden", "retake it squarer, no hand over the strings", near
		return p
	}
	torn := named("ann/IMG_8.JPG", of("bone", "1"))
	torn.Unreadable, torn.Retake = "damaged photo: cut short: copy it from the phone again", "copy it from the phone again"
	either := named("ann/IMG_9.JPG", of("gridded"))
	either.Belongs.Strength, either.Belongs.Suggested, either.Belongs.Reason = assign.Conflict, []string{"1", "2"}, "folder and file name name different jackets"
	both := []Photo{of("setting", "1"), of("bone", "1")}
	placard := refusedAs("", calibrate.Like)
	placard.Placard = true
	retake := Fix{View: "gridded", What: "not scaled", Photo: "ann/IMG_7.JPG", Why: "grid: two strings are hidden", Do: "retake IMG_7 squarer, no hand over the strings"}
	missing := retake
	missing.What = "missing"
	for name, c := range map[string]struct {
		jacket   register.Jacket
		photos   []Photo
		want     []Fix
		standing Standing
		late     []register.View
	}{
		"gridded and refused":     {at(register.Mapped), append(both, refusedAs("gridded", calibrate.Unseen)), []Fix{retake}, CanBeFixed, nil},
		"meant without a view":    {at(register.Mapped), append(both, refusedAs("", calibrate.Like)), []Fix{missing}, CanBeFixed, nil},
		"a placard":               {at(register.Mapped), append(both, placard), []Fix{{View: "gridded", What: "missing", Why: "may be among this jacket's 1 photo with no view yet", Do: "sort those; if none shows it, photograph the bone under the whole grid, from above"}}, CanBeFixed, nil},
		"nothing like it is seen": {at(register.Mapped), append(both, refusedAs("", calibrate.Unseen)), []Fix{{View: "gridded", What: "missing", Why: "may be among this jacket's 1 photo with no view yet", Do: "sort those; if none shows it, photograph the bone under the whole grid, from above"}}, CanBeFixed, nil},
		"not readable":            {at(register.Exposed), []Photo{of("setting", "1"), torn}, []Fix{{View: "bone", What: "missing", Photo: "ann/IMG_8.JPG", Why: "damaged photo: cut short", Do: "copy IMG_8 from the phone again"}}, CanBeFixed, nil},
		"of two jackets":          {at(register.Mapped), append(both, either), []Fix{{View: "gridded", What: "missing", Photo: "ann/IMG_9.JPG", Why: "conflicting jacket numbers: folder and file name name different jackets", Do: "say whose IMG_9 is, or retake it"}}, CanBeFixed, nil},
		"no photo":                {at(register.Mapped), both, []Fix{{View: "gridded", What: "missing", Do: "photograph the bone under the whole grid, from above"}}, CanBeFixed, nil},
		"not due yet":             {at(register.Exposed), both, nil, OnItsWay, nil},
		"all there":               {at(register.Mapped), append(both, scaled(of("gridded", "1"), "grid")), nil, Ready, nil},
		"under plaster":           {at(register.Covered), append(both, of("jacketed", "1")), nil, Closed, []register.View{"gridded"}},
		"under plaster, no photo": {at(register.Covered), append(both, scaled(of("gridded", "1"), "grid")), []Fix{{View: "jacketed", What: "missing", Do: "photograph the closed jacket, its number, arrow and FIELD TOP legible"}}, CanBeFixed, nil},
		"capped":                  {at(register.Capped), append(both, scaled(of("gridded", "1"), "grid"), of("jacketed", "1")), nil, Closed, []register.View{"underside"}},
		"a vial":                  {register.Jacket{Number: "1", Kind: register.Vial, Stage: register.Found}, both, nil, Unplaster, nil},
		"a photo of another":      {at(register.Found), []Photo{named("x", unreadable(of("setting", "2")))}, []Fix{{View: "setting", What: "missing", Do: "photograph the find where it lies, with its surroundings"}}, CanBeFixed, nil},
	} {
		got := Check(registerOf(c.jacket), c.photos).Jackets[0]
		if diff := cmp.Diff(c.want, got.Fixes); diff != "" {
			t.Errorf("%s: %s", name, diff)
		}
		if diff := cmp.Diff(c.late, got.TooLate()); diff != "" || got.Standing != c.standing {
			t.Errorf("%s: %s, want %s; too late %s", name, got.Standing, c.standing, diff)
		}
	}
}

// TestTheWorstComesFirst: what vanishes next under plaster, of that what lacks most; jackets under plaster last.
func TestTheWorstComesFirst(t *testing.T) {
	reg := registerOf(
		register.Jacket{Number: "closed", Stage: register.Lifted, Waivers: []register.Waiver{{View: "jacketed", Reason: "x", By: "A"}}},
		register.Jacket{Number: "ready", Stage: register.Mapped},
		register.Jacket{Number: "found", Stage: register.Found},
		register.Jacket{Number: "mapped, one", Stage: register.Mapped},
		register.Jacket{Number: "mapped, three", Stage: register.Mapped},
		register.Jacket{Number: "flipped", Stage: register.Flipped},
		register.Jacket{Number: "on its way", Stage: register.Exposed},
	)
	photos := []Photo{
		of("setting", "ready", "mapped, one", "on its way"), of("bone", "ready", "mapped, one", "on its way"), scaled(of("gridded", "ready"), "grid"),
	}
	r := Check(reg, photos)
	want := []string{"mapped, three", "mapped, one", "found", "flipped", "on its way", "ready", "closed"}
	if diff := cmp.Diff(want, r.Order); diff != "" {
		t.Error(diff)
	}
	r.Contradict(1, Loose{File: "a", Reason: "b"})
	if r.Order[1] != "ready" || r.Jackets[1].Standing != CanBeFixed {
		t.Errorf("contradicted: %v, %s", r.Order, r.Jackets[1].Standing)
	}
}
