package figure

import (
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// TestAnArrowTellsTheEnds: laid to the right towards an end, as seen and
// mirrored; what marks and the axis bearing say against it is told, and
// nothing drawn.
func TestAnArrowTellsTheEnds(t *testing.T) {
	at := func(x, y float64) calibrate.Point { return calibrate.Point{XPx: x, YPx: y} }
	right := Arrow{Tail: at(400, 400), Head: at(600, 400)}
	up := Arrow{Tail: at(500, 700), Head: at(500, 100)}
	one := []register.Find{{FieldNumber: "21", EndA: "proximal", EndB: "distal"}}
	two := append([]register.Find{{FieldNumber: "22"}}, one...)
	bearing := func(deg float64) []register.Find {
		f := one[0]
		f.AxisBearingAToBDeg, f.BearingNorth = &deg, register.NorthTrue
		return []register.Find{f}
	}
	marked := []End{{End: "a", At: at(800, 400)}, {End: "b", At: at(200, 400)}}
	for name, c := range map[string]struct {
		lay     Lay
		finds   []register.Find
		ends    []End
		to      string
		right   string // what stands at the right margin
		against string
	}{
		"to B":                 {flat(), one, nil, "b", "B distal (by card 5's arrow)", ""},
		"to A":                 {flat(), one, nil, "a", "A proximal (by card 5's arrow)", ""},
		"mirrored":             {flat().Mirror(), one, nil, "b", "A proximal (by card 5's arrow)", ""},
		"two finds":            {flat(), two, nil, "b", "", ""},
		"the bearing agrees":   {flat(), bearing(95), nil, "b", "B distal (by card 5's arrow)", ""},
		"the bearing differs":  {flat(), bearing(275), nil, "b", "", "one of them is turned round"},
		"marks go before":      {flat(), one, marked, "a", "A proximal", ""},
		"marks contradict":     {flat(), one, marked, "b", "", "as marked, B lies another way"},
		"one end marked alone": {flat(), one, marked[:1], "b", "A proximal", ""},
	} {
		north, _ := North(c.lay, []NorthArrow{{up, register.NorthTrue, "an arrow"}}, nil, Norths{})
		labels, against := Ends(c.lay, c.finds, c.ends, &EndArrow{right, c.to, "card 5's arrow"}, north)
		got := ""
		for _, l := range labels {
			if l.Side == "right" {
				got = l.Text
			}
		}
		if got != c.right || (c.against == "") != (len(against) == 0) || !strings.Contains(strings.Join(against, ""), c.against) {
			t.Errorf("%s: %q at the right, want %q; against %q, want %q", name, got, c.right, against, c.against)
		}
		if c.against != "" && len(labels) > 0 {
			t.Errorf("%s: drawn all the same: %v", name, labels)
		}
	}
}
