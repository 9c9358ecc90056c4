package plate

import (
	"strings"
	"testing"

	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// TestWhichDeclinationCounts for an arrow up the picture, laid to magnetic north: the magnetic model's in its years, the typed one
// in others alone; without either it stays magnetic north and says so. The model's is that of MathWorks, documentation of wrldmagm:
// 1000 m over 42.283, -71.35 on 4 July 2028, WMM2025: D -13.6891.
func TestWhichDeclinationCounts(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	typed, altitude := -2.5, 1000.0
	for name, c := range map[string]struct {
		day      string
		position string
		typed    *float64
		turn     float64 // of the arrow drawn, clockwise from the photo's up: the declination taken off
		text     string
		says     string
	}{
		"the model's":        {"2028-07-04", "42.283, -71.35", nil, 13.69, "TRUE NORTH", "(World Magnetic Model 2025)"},
		"typed besides":      {"2028-07-04", "42.283, -71.35", &typed, 13.69, "TRUE NORTH", "(World Magnetic Model 2025)"},
		"another year":       {"2031-02-11", "42.283, -71.35", &typed, 2.5, "TRUE NORTH", "declination -2.5° (typed in season.toml)"},
		"an earlier year":    {"2024-12-31", "", &typed, 2.5, "TRUE NORTH", "declination -2.5° (typed in season.toml)"},
		"not typed":          {"2031-02-11", "42.283, -71.35", nil, 0, "MAGNETIC NORTH", "this is not true north"},
		"no place, no model": {"2028-07-04", "", &typed, 0, "MAGNETIC NORTH", "this is not true north"},
	} {
		local, err := intake.ParseLocalTime(c.day + "T12:00:00")
		if err != nil {
			t.Fatal(err)
		}
		marks := &figure.Marks{North: &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 20), Head: l.Photo(t, 0, -20)}, Of: register.NorthMagnetic, From: "arrow set by RKA"}}
		k := testTask(l.Plane, marks, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14", Position: register.Position{Typed: c.position, Datum: "WGS84", AltitudeM: &altitude}})
		k.r.When = &phones.When{Local: local}
		k.season.Register.Season.DeclinationDeg = c.typed
		k.season.norths = func(r *record.Record, jacket string) figure.Norths {
			return evidence.Norths(k.season.Register, r, jacket)
		}
		p := k.plate("14", false)
		north := p.North
		if north == nil || north.Text != c.text || !strings.Contains(north.Source, c.says) {
			t.Errorf("%s: %+v, want %s, %q", name, north, c.text, c.says)
			continue
		}
		if at := north.ClockwiseFromUpDeg - photosUpDeg(p); !near(at, c.turn, 0.02) {
			t.Errorf("%s: north at %.2f° from the photo's up, want %g°", name, at, c.turn)
		}
	}
}
