package plate

import (
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// TestNoTapeIsLost: a taped length that cannot be held against the plate stands on it all the same, and why.
func TestNoTapeIsLost(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	k := testTask(l.Plane, nil, register.SetUp{Name: "S1", TapeChecks: []register.TapeCheck{{From: "A1", To: "A3", LengthMm: 201}}}, register.Find{FieldNumber: "14"})
	for _, name := range []string{"head to tail", "A1 to C1"} {
		from, to, _ := strings.Cut(name, " to ")
		k.heard.Tapes = append(k.heard.Tapes, words.Annotation[words.Taped]{Value: words.Taped{From: from, To: to, LengthMm: 200}})
	}
	texts := func() string {
		var all []string
		for _, r := range k.plate("14", false).Rows {
			if strings.HasPrefix(r.Name, "tape check") {
				all = append(all, r.Name+": "+r.Text)
			}
		}
		return strings.Join(all, "\n")
	}
	for _, want := range []string{
		"tape check of set-up: A1 to A3: tape 201 mm, squares of 10 cm make 200",
		"tape check: A1 to C1: tape 200 mm, squares of 10 cm make 200",
		"tape check: head to tail: tape 200 mm; not held against the plate",
		"tape checks: 2 of 2 within U",
	} {
		if got := texts(); !strings.Contains(got, want) {
			t.Errorf("want %q:\n%s", want, got)
		}
	}
	k.r.NoScale = "a person wants none"
	if got := texts(); !strings.Contains(got, "A1 to C1: tape 200 mm; no strings are scaled") || !strings.Contains(got, "head to tail: tape 200 mm; not held") {
		t.Errorf("without a scale:\n%s", got)
	}
}
