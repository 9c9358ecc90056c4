package findmap

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"strings"
	"testing"
	"time"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

func said(tables []Table, title string) string {
	for _, t := range tables {
		if t.Title == title {
			return strings.Join(t.Says, " ")
		}
	}
	return ""
}

// TestLongAxes: float, short and unoutlined finds are left out with the reason; a mean stands only where uniformity is rejected,
// and below ten axes nothing is tested.
func TestLongAxes(t *testing.T) {
	d := newDig(t, rand.New(rand.NewPCG(22, 7)), 6, 3, true)
	d.sheets.Finds[0].Context = "float"
	d.sheets.Finds[1].Context = ""
	d.sheets.Finds = append(d.sheets.Finds, register.Find{Row: 99, FieldNumber: "X", Context: "in situ", AxisBearingAToBDeg: num(40), BearingNorth: register.NorthTrue})
	m := Of(d.sheets, nil, d.photos)
	if len(m.Directions) != 16 || len(m.Undirected) != 3 {
		t.Fatalf("%d axes, left out: %v", len(m.Directions), m.Undirected)
	}
	for _, c := range m.Directions {
		if by := math.Abs(math.Remainder(c.TrendDeg-d.axes[c.Find], 360)); by > 2 {
			t.Errorf("%s: trend off by %.1f degrees", c.Find, by)
		}
	}
	if text := said(m.Tables(), "Long axes"); strings.Contains(text, "Mean axis") || !strings.Contains(text, "n = 16, 3 left out") {
		t.Errorf("axes of any direction: %s", text)
	}
	for i := range m.Directions {
		m.Directions[i].TrendDeg = 60 + 8*float64(i%4)
	}
	if text := said(m.Tables(), "Long axes"); !strings.Contains(text, "Mean axis 72° to 252°") {
		t.Errorf("axes of one direction: %s", text)
	}
	if file := os.Getenv("FIELDJACKET_MAP"); file != "" {
		var b bytes.Buffer
		if err := m.WritePDF(&b, Sheet{Name: "Quiet Gully", N: 10, Paper: m.Laid(10, sheet.A3), Made: time.Date(2026, 2, 13, 0, 0, 0, 0, time.UTC)}); err != nil {
			t.Fatal(err)
		}
		if err := os.WriteFile(file, b.Bytes(), 0o644); err != nil {
			t.Fatal(err)
		}
	}
	m.Directions = m.Directions[:9]
	if text := said(m.Tables(), "Long axes"); !strings.Contains(text, "not tested") {
		t.Errorf("nine axes: %s", text)
	}
}

// TestNorthsAreCountedOnce: declination and convergence each once, in either direction.
func TestNorthsAreCountedOnce(t *testing.T) {
	q := register.Quarry{North: register.NorthMagnetic, DeclinationDeg: num(-10), ConvergenceDeg: num(2)}
	n := NorthOf(register.Season{Quarry: &q})
	for of, want := range map[register.North]float64{register.NorthMagnetic: 30, register.NorthTrue: 40, register.NorthGrid: 42} {
		if got, why := n.Bearing(30, of); why != "" || math.Abs(got.Value-want) > 1e-9 {
			t.Errorf("30 degrees %s is %v (%s) by magnetic north, want %g", of, got, why, want)
		}
	}
	if _, why := n.Bearing(30, register.NorthUnknown); why == "" {
		t.Error("a bearing of no known north was taken")
	}
	bare := NorthOf(register.Season{Quarry: &register.Quarry{North: register.NorthTrue}})
	if got, why := bare.Bearing(30, register.NorthMagnetic); why == "" {
		t.Errorf("magnetic without a declination gave %v", got)
	}
}
