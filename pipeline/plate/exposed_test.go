package plate

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// closedSeason is a season with jacket 14 under one set-up whose depth to bone is stated.
func closedSeason() *season {
	depth := 4.0
	return &season{Register: &register.Register{
		Jackets: []register.Jacket{{Number: "14"}},
		SetUps:  []register.SetUp{{Name: "S1", Jackets: []string{"14"}, Cells: &register.Cells{Across: 10, Down: 10}, DepthToBoneCm: &depth}},
	}}
}

// TestBoneBeforeThePlasterLiesTrue: whichever side either photo was taken from and however the finder happened to number the strings,
// a place on the jacket's plate shows of the earlier photo what truly lay there, 4 cm below the strings: neither turned nor mirrored.
func TestBoneBeforeThePlasterLiesTrue(t *testing.T) {
	camera := func(heading, tilt float64) scene.Camera {
		return scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: tilt, HeadingDeg: heading}
	}
	for _, first := range []float64{0, 90, 180, 270} {
		for _, second := range []float64{0, 90, 180, 270} {
			for _, relabel := range []int{0, 3, 5} {
				bare, closed := truth.LayDown(t, 0, camera(first, 12), relabel), truth.LayDown(t, 0, camera(second, 20), (relabel+1)%8)
				a, b := laidTask(t, closedSeason(), "ann/bone.jpg", register.ViewGridded, bare), laidTask(t, closedSeason(), "ann/closed.jpg", register.ViewJacketed, closed)
				b.season = a.season
				a.season.uncover([]*shot{a, b})
				plate := b.plate("14", false)
				if plate.Under == nil || plate.Stamp != earlierPicture {
					t.Fatalf("sides %g and %g: not laid over: stamp %q, rows %v", first, second, plate.Stamp, plate.Rows)
				}
				level, err := plate.Under.Plane.At(plate.Under.BelowCm)
				if err != nil || plate.Under.BelowCm != 4 {
					t.Fatal(plate.Under.BelowCm, err)
				}
				lay, f := figure.Lay{Picture: plate.Picture}, plate.Under.From
				for _, at := range [][2]float64{{-30, -20}, {35, -10}, {-5, 40}} {
					x, y, ok := lay.Plate(closed.Photo(t, at[0], at[1]))
					seen, ok2 := level.Photo(f[0]*x+f[1]*y+f[2], f[3]*x+f[4]*y+f[5])
					truly, ok3 := bare.Truth.Photo(at[0], at[1], 4)
					if !ok || !ok2 || !ok3 {
						t.Fatal("behind a camera")
					}
					if off := math.Hypot(seen.XPx-truly.XPx, seen.YPx-truly.YPx); off > 4 { // 0.7 cm at 17 px/cm: the tag's focal length is a whole number
						t.Errorf("sides %g and %g, strings numbered %d: place %v shows what lies %.0f px aside", first, second, relabel, at, off)
					}
				}
			}
		}
	}
}

// TestBoneBeforeThePlasterIsLaidOverOnlyWhereItMay: by a person's choice or where nobody outlined the bone; under one set-up, with its squares and its depth known.
func TestBoneBeforeThePlasterIsLaidOverOnlyWhereItMay(t *testing.T) {
	c := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: 12}
	bare, closed := truth.LayDown(t, 0, c, 0), truth.LayDown(t, 0, c, 3)
	outline := func(a *shot) {
		level := 0.0
		a.said.Outlines = []figure.Outline{{Name: "femur", LevelCm: &level, Points: []calibrate.Point{bare.Photo(t, -10, -20), bare.Photo(t, 15, -18), bare.Photo(t, 12, 25)}}}
	}
	for name, c := range map[string]struct {
		change func(s *season, a, b *shot)
		laid   bool
		says   string
	}{
		"no outline":       {func(s *season, a, b *shot) {}, true, "overlay of the bone as exposed, day not recorded, ann/bone.jpg, 4 cm below the strings"},
		"outlined":         {func(s *season, a, b *shot) { outline(a) }, false, "bone here: femur"},
		"chosen":           {func(s *season, a, b *shot) { outline(a); a.r.Belongs.Chosen = true }, true, "overlay of the bone as exposed, day not recorded, ann/bone.jpg, 4 cm below the strings"},
		"no depth":         {func(s *season, a, b *shot) { s.Register.SetUps[0].DepthToBoneCm = nil }, false, "nobody said how far below"},
		"squares unnamed":  {func(s *season, a, b *shot) { b.said = nil }, false, "squares of this photo are not named"},
		"origin not given": {func(s *season, a, b *shot) { a.said = nil }, false, ""},
		"another set-up": {func(s *season, a, b *shot) {
			s.Register.SetUps = append(s.Register.SetUps, register.SetUp{Name: "S2", Jackets: []string{"14"}})
			a.r.Belongs.SetUp, b.r.Belongs.SetUp = "S2", "S1"
			b.r.Belongs.SetUp = "S1"
		}, false, ""},
		"underside": {func(s *season, a, b *shot) {
			outline(a)
			a.r.Belongs.View, a.r.Belongs.Chosen = register.ViewUnderside, true
		}, false, ""},
		"left out": {func(s *season, a, b *shot) { a.r.Belongs.LeaveOut = true }, false, ""},
	} {
		s := closedSeason()
		a, b := laidTask(t, s, "ann/bone.jpg", register.ViewGridded, bare), laidTask(t, s, "ann/closed.jpg", register.ViewJacketed, closed)
		c.change(s, a, b)
		s.uncover([]*shot{a, b})
		plates := b.plates()
		rows := ""
		for _, r := range plates[0].Made.Rows {
			if r.Name == "under the plaster" {
				rows += r.Text
			}
		}
		if (plates[0].Made.Under != nil) != c.laid || (plates[0].Under != nil) != c.laid || !strings.Contains(rows, c.says) || c.says == "" && rows != "" {
			t.Errorf("%s: laid over %v, want %v; says %q, want %q", name, plates[0].Made.Under != nil, c.laid, rows, c.says)
		}
		if plates[0].Made.Under == nil && plates[0].Made.Stamp == earlierPicture {
			t.Errorf("%s: stamped, though nothing is laid over", name)
		}
		if c.laid {
			key := plates[0].Key
			b.covered.Pictures[0].Source.SHA256 = "another"
			if again := b.plates(); again[0].Key == key {
				t.Errorf("%s: another earlier photo leaves the plate's key", name)
			}
			if bigger, _, _, err := layout.Printed(plates[0].Made, 5, false, sheet.A4); err != nil || !samePlace(plates[0].Made, bigger) {
				t.Errorf("%s: printed larger, the earlier picture moves", name)
			}
		}
	}
}

// samePlace tells whether the middle of a plate's earlier picture comes from the same place in a plate printed larger.
func samePlace(p, q look.Plate) bool {
	at := func(pic, of look.Picture) (u, v float64) {
		x, y := float64(of.WidthPx)/2-0.5, float64(of.HeightPx)/2-0.5
		f := pic.From
		return f[0]*x + f[1]*y + f[2], f[3]*x + f[4]*y + f[5]
	}
	u, v := at(*p.Under, p.Picture)
	u2, v2 := at(*q.Under, q.Picture)
	return q.Under.WidthPx == q.Picture.WidthPx && math.Hypot(u-u2, v-v2) < 0.1
}
