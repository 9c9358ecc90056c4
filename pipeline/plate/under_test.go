package plate

import (
	"math"
	"slices"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// laidTask is a photo of jacket 14 under the set-up, whose origin corner a
// person marked.
func laidTask(t *testing.T, s *season, file string, view register.View, l truth.Laid) *shot {
	t.Helper()
	r := &record.Record{Capture: &intake.Capture{}, Sightings: []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}}
	r.Photo.File, r.Photo.SHA256 = file, strings.Repeat("ab", 32)
	r.Belongs = assign.Belongs{Jackets: []string{"14"}, Strength: assign.ByPerson, View: view}
	letters := l.Photo(t, -20, -truth.Half)
	return &shot{season: s, r: r, said: &figure.Marks{Origin: &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &letters}}}
}

// TestBoneUnderThePlaster: what was outlined on the exposed bone is drawn where
// it lies on the closed jacket's plate, though that was photographed from
// another side, and with its reason is not where something is not known.
func TestBoneUnderThePlaster(t *testing.T) {
	s := &season{Register: &register.Register{
		Jackets: []register.Jacket{{Number: "14"}},
		SetUps:  []register.SetUp{{Name: "S1", Jackets: []string{"14"}, Cells: &register.Cells{Across: 10, Down: 10}}},
	}}
	camera := func(heading float64) scene.Camera {
		return scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: 12, HeadingDeg: heading}
	}
	bare, closed := truth.LayDown(t, 0, camera(0), 0), truth.LayDown(t, 0, camera(90), 3)
	shape := [][2]float64{{-10, -20}, {15, -18}, {12, 25}}
	level := 0.0
	for name, c := range map[string]struct {
		change func(a, b *shot)
		drawn  bool
		says   string
	}{
		"as laid":          {func(a, b *shot) {}, true, "bone here: femur"},
		"level not said":   {func(a, b *shot) { a.said.Outlines[0].LevelCm = nil }, false, "nobody said how far below"},
		"squares unnamed":  {func(a, b *shot) { b.said = nil }, false, "squares of this photo are not named"},
		"another view":     {func(a, b *shot) { b.r.Belongs.View = register.ViewBone }, false, ""},
		"another jacket":   {func(a, b *shot) { a.r.Belongs.Jackets = []string{"15"} }, false, ""},
		"left out":         {func(a, b *shot) { a.r.Belongs.LeaveOut = true }, false, ""},
		"no origin marked": {func(a, b *shot) { a.said.Origin = nil }, false, ""},
	} {
		a, b := laidTask(t, s, "ann/bone.jpg", register.ViewGridded, bare), laidTask(t, s, "ann/closed.jpg", register.ViewJacketed, closed)
		o := figure.Outline{Name: "femur", LevelCm: &level}
		for _, p := range shape {
			o.Points = append(o.Points, bare.Photo(t, p[0], p[1]))
		}
		a.said.Outlines = []figure.Outline{o}
		c.change(a, b)
		s.uncover([]*shot{a, b})
		known := b.covered.Key
		plate := b.plate("14", false)
		rows := ""
		for _, r := range plate.Rows {
			if r.Name == "under the plaster" {
				rows += r.Text
			}
		}
		if !strings.Contains(rows, c.says) || c.says == "" && (rows != "" || known != "") {
			t.Errorf("%s: rows %q, want %q; key %q", name, rows, c.says, known)
		}
		if !c.drawn {
			if len(plate.Lines) > 0 {
				t.Errorf("%s: drawn all the same", name)
			}
			continue
		}
		if len(plate.Lines) != 1 {
			t.Fatalf("%s: %d lines", name, len(plate.Lines))
		}
		if !slices.ContainsFunc(plate.Labels, func(l look.Label) bool { return l.Text == c.says && l.Side == "right" }) {
			t.Errorf("%s: the margin does not say %q: %v", name, c.says, plate.Labels)
		}
		for i, at := range plate.Lines[0].Through {
			if u, v := closed.Truly(t, plate, at[0], at[1]); math.Hypot(u-shape[i][0], v-shape[i][1]) > 0.2 {
				t.Errorf("%s: corner %d is drawn at (%.2f, %.2f), truly at %v", name, i, u, v, shape[i])
			}
		}
		if !strings.Contains(rows, "The scale bar holds on it as drawn.") {
			t.Errorf("%s: rows %q do not say at which level the size holds", name, rows)
		}
		b.heard.Depths = []words.Annotation[words.DepthWord]{{Value: words.DepthWord{DepthCm: 9}}}
		if row := rowNamed(b.plate("14", false), "under the plaster"); !strings.Contains(row, "Its size holds at the strings, where the scale bar does not.") {
			t.Errorf("%s: with the bar at another level, %q", name, row)
		}
		if s.uncover([]*shot{a, b}); b.covered.Key != known {
			t.Errorf("%s: drawn anew though nothing has changed", name)
		}
	}
}
