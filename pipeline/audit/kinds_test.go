package audit

import (
	"slices"
	"testing"

	"fieldjacket/pipeline/register"
)

// TestCarriedViews: what an earlier season photographed or waived is not asked for again, and this season's photos go before it.
func TestCarriedViews(t *testing.T) {
	j := register.Jacket{Number: "14", Stage: register.Flipped, Carried: &register.Carried{From: "invented 2025", Number: "14", Views: []register.CarriedView{
		{View: register.ViewSetting, Text: "there"}, {View: register.ViewBone, Text: "there"}, {View: register.ViewJacketed, Text: "there"},
		{View: register.ViewGridded, Text: "waived: rain, AB", Waiver: &register.Waiver{View: register.ViewGridded, Reason: "rain", By: "AB"}},
	}}}
	got := Check(registerOf(j), []Photo{of(register.ViewJacketed, "14")}).Jackets[0]
	want := map[register.View]string{
		"setting": "there: invented 2025: there", "bone": "there: invented 2025: there", "gridded": "waived: invented 2025: waived: rain, AB",
		"jacketed": "there: there", "underside": "missing: missing",
	}
	for _, v := range got.Views {
		if says := string(v.State) + ": " + v.Text; says != want[v.View] {
			t.Errorf("%s is %q, want %q", v.View, says, want[v.View])
		}
	}
	if got.From != "jacket 14 of invented 2025" || len(got.Lacks()) != 1 {
		t.Errorf("from %q, lacks %v", got.From, got.Lacks())
	}
}

// TestEveryKindAtEveryStage: what is due of each kind of package, stage by stage, without a photo: setting, bone, gridded, jacketed,
// underside by their first letters.
func TestEveryKindAtEveryStage(t *testing.T) {
	jacket := []string{"s", "sb", "sbg", "sbgj", "sbgju", "sbgju", "sbgju", "sbgju", "sbgju", "sbgju"}
	setting := slices.Repeat([]string{"s"}, len(register.Stages))
	bone := append([]string{"s"}, slices.Repeat([]string{"sb"}, len(register.Stages)-1)...)
	want := map[register.Package][]string{
		"": jacket, register.PlasterJacket: jacket, register.Bag: setting, register.Vial: setting, register.Sack: setting, register.Sample: setting,
		register.LeftInGround: setting, register.Foil: bone, register.Box: bone,
	}
	for _, kind := range append([]register.Package{""}, register.Packages...) {
		for i, stage := range append([]register.Stage{""}, register.Stages...) {
			due := ""
			for _, v := range Check(registerOf(register.Jacket{Number: "1", Kind: kind, Stage: stage}), nil).Jackets[0].Lacks() {
				due += string(v.View)[:1]
			}
			if w := want[kind][max(0, i-1)]; due != w {
				t.Errorf("%s at %q: due %s, want %s", nameOf(kind), stage, due, w)
			}
		}
	}
}
