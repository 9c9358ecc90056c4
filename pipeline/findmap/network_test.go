package findmap

import (
	"math/rand/v2"
	"slices"
	"testing"

	"fieldjacket/pipeline/register"
)

// TestVerticalFaceIsNotLaidLevel: a set-up on a vertical face of which nobody wrote the dip is told and left out; with it, it is laid.
func TestVerticalFaceIsNotLaidLevel(t *testing.T) {
	d := newDig(t, rand.New(rand.NewPCG(1, 2)), 2, 1, true)
	d.sheets.SetUps[0].Plane = "vertical"
	name := d.sheets.SetUps[0].Name
	all, not := frames(d.sheets, func(string) (bool, bool) { return true, true })
	if len(all) != 1 || len(not) != 1 || not[0].What != "set-up "+name {
		t.Errorf("without a dip: %d frames, not placed %v", len(all), not)
	}
	d.sheets.Placings = append(d.sheets.Placings, register.Placing{Row: 99, SetUp: name, DipDeg: num(88), DipDirectionDeg: num(120)})
	all, not = frames(d.sheets, func(string) (bool, bool) { return true, true })
	if len(not) != 0 || !slices.ContainsFunc(all, func(f Frame) bool { return f.SetUp.Name == name }) {
		t.Errorf("with a dip: not placed %v", not)
	}
}
