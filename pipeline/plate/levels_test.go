package plate

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/diagnostic"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// TestWhereASetUpHolds: the depth to bone and the bearing of a set-up hold while the bone lies bare as it did under it. On a
// closed jacket the scale is the strings', which is that of what is drawn under the plaster; of a block that was moved the set-up
// tells neither, unless a person named it for that photo, and then no bearing all the same.
func TestWhereASetUpHolds(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	depth, edge := 6.0, 90.0
	for name, c := range map[string]struct {
		view        register.View
		named       string // the set-up that a person named
		bone, north bool
	}{
		"gridded":            {register.ViewGridded, "", true, true},
		"no view":            {"", "", true, true},
		"jacketed":           {register.ViewJacketed, "", false, true},
		"jacketed, named":    {register.ViewJacketed, "S1", false, true},
		"underside":          {register.ViewUnderside, "", false, false},
		"underside, named":   {register.ViewUnderside, "S1", true, false},
		"opened in the lab":  {register.ViewOpened, "", false, false},
		"opened, named":      {register.ViewOpened, "S1", true, false},
		"received at a door": {register.ViewReceived, "", false, false},
	} {
		to := l.Photo(t, 0, -truth.Half)
		marks := &figure.Marks{Origin: &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to}}
		u := register.SetUp{Name: "S1", DepthToBoneCm: &depth, DepthsToBone: []register.SquareDepth{{Square: "C4", DepthCm: 9}}, EdgeBearingDeg: &edge, BearingNorth: register.NorthTrue}
		k := testTask(l.Plane, marks, u, register.Find{FieldNumber: "14"})
		k.r.Belongs.View, k.r.Belongs.SetUp = c.view, c.named
		p := k.plate("14", false)
		if row := rowNamed(p, "bone below"); strings.HasPrefix(row, "C4 9 cm (") != c.bone || !c.bone && row != "" {
			t.Errorf("%s: depths by square %q", name, row)
		}
		if told := rowNamed(p, "depth to bone") == "6 cm, by set-up S1"; told != c.bone {
			t.Errorf("%s: who told the depth: %q", name, rowNamed(p, "depth to bone"))
		}
		if onBone, only := strings.Contains(p.Headline, "mm at bone level (6 cm below the strings)"), strings.HasSuffix(p.Headline, "at the level of the strings only"); onBone != c.bone || only == c.bone {
			t.Errorf("%s: headline %q", name, p.Headline)
		}
		if (p.North != nil) != c.north || p.North == nil && !strings.HasPrefix(p.NoNorth, "NO BEARING: the block ") {
			t.Errorf("%s: north %+v, %q", name, p.North, p.NoNorth)
		}
		if longer := p.Bar.PxPerCm < p.Picture.PxPerCm; longer != c.bone {
			t.Errorf("%s: the bar has %g px/cm, the strings %g", name, p.Bar.PxPerCm, p.Picture.PxPerCm)
		}
		if n := p.Picture.PrintDPI / 2.54 / p.Bar.PxPerCm; math.Abs(n-math.Round(n)) > 1e-9 {
			t.Errorf("%s: printed at 1:%g by its bar", name, n)
		}
	}
}

// TestAFaceThatWasCarriedAway is no vertical face any more, and its plate does not say that nobody took its bearing.
func TestAFaceThatWasCarriedAway(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	edge := 90.0
	for view, want := range map[register.View]string{
		register.ViewGridded: "VERTICAL FACE: its edge has a bearing, but nobody marked the origin corner in this photo",
		register.ViewOpened:  "NO BEARING: the block lies no longer where it was found, whatever set-up S1 says",
	} {
		k := testTask(l.Plane, nil, register.SetUp{Name: "S1", Plane: "vertical", EdgeBearingDeg: &edge, BearingNorth: register.NorthTrue}, register.Find{FieldNumber: "14"})
		k.r.Belongs.View = view
		if p := k.plate("14", false); p.North != nil || !strings.HasPrefix(p.NoNorth, want) {
			t.Errorf("%s: north %+v, %q, want %q", view, p.North, p.NoNorth, want)
		}
	}
}

// TestAMovedBlocksEnds are not named by the bearing of the finds sheet, which counts from where it lay, though a person shows north in
// the photo; where it lies as it was found they are.
func TestAMovedBlocksEnds(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	axis := 90.0
	for view, want := range map[register.View]int{register.ViewGridded: 2, register.ViewReceived: 0, register.ViewOpened: 0, register.ViewUnderside: 0} {
		marks := &figure.Marks{North: &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 20), Head: l.Photo(t, 0, -20)}, Of: register.NorthTrue, From: "arrow set by RKA"}}
		k := testTask(l.Plane, marks, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14", EndA: "proximal", EndB: "distal", AxisBearingAToBDeg: &axis, BearingNorth: register.NorthTrue})
		k.r.Belongs.View = view
		p := k.plate("14", false)
		if len(p.Labels) != want || (p.North != nil) == (view == register.ViewUnderside) {
			t.Errorf("%s: labels %+v, north %+v", view, p.Labels, p.North)
		}
	}
}

// TestDepthsOfOnePhoto that a person said square by square stand beside its plate, before those of the set-up.
func TestDepthsOfOnePhoto(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	k := testTask(l.Plane, nil, register.SetUp{Name: "S1", DepthsToBone: []register.SquareDepth{{Square: "B3", DepthCm: 6}, {Square: "C4", DepthCm: 9}}}, register.Find{FieldNumber: "14"})
	k.heard.Depths = []words.Annotation[words.DepthWord]{{Value: words.DepthWord{Square: "B3", DepthCm: 2}}}
	if got := rowNamed(k.plate("14", false), "bone below"); !strings.HasPrefix(got, "C4 9 cm (× 1.05") || !strings.Contains(got, "; B3 2 cm (× 1.01") || strings.Contains(got, "B3 6") {
		t.Errorf("bone below: %q", got)
	}
}

// rowNamed is the text of a plate's first row of a name.
func rowNamed(p look.Plate, name string) string {
	for _, r := range p.Rows {
		if r.Name == name {
			return r.Text
		}
	}
	return ""
}

// TestLevelsAreTold: the plate and the overlay of a photo with two levels say
// the depth.
func TestLevelsAreTold(t *testing.T) {
	seen := func(ref calibrate.Reference, distanceCm float64) calibrate.Sighting { // square from there
		return calibrate.Sighting{Reference: ref, Plane: &calibrate.Plane{
			Camera:     calibrate.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26},
			Homography: [9]float64{1 / distanceCm, 0, 0, 0, 1 / distanceCm, 0, 0, 0, 1},
			Corners:    [4][2]float64{{0, 0}, {20, 0}, {20, 16}, {0, 16}},
		}}
	}
	two := []calibrate.Sighting{seen(calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, 120), seen(calibrate.Reference{Kind: calibrate.KindChecker, SquaresAcross: 7, SquaresDown: 5, SquareCm: 2}, 130)}
	depth, err := calibrate.DepthBetween(two[0], two[1])
	if err != nil {
		t.Fatal(err)
	}
	r := &record.Record{Photo: intake.Photo{File: "IMG_0001.JPG", WidthPx: 4000, HeightPx: 3000}, Sightings: two}
	r.DepthsBetween = []record.DepthBetween{{Of: two[1].Reference.String(), Behind: two[0].Reference.String(), DepthCm: depth}}
	k := &shot{r: r, season: &season{Register: &register.Register{}}}
	d := draft{Input: k.input()}
	rows := d.besideRows("", two[0].Plane)
	if len(rows) == 0 || rows[0].Name != "levels" || !strings.Contains(rows[0].Text, "checker 7x5/2cm lies 10") || !strings.Contains(rows[0].Text, "cm below grid 10cm") {
		t.Errorf("rows beside the plate: %v, want the depth", rows)
	}
	if text := strings.Join(diagnostic.Drawing(r, make([]look.Found, 2), nil).Texts, "\n"); !strings.Contains(text, "checker 7x5/2cm lies 10") || !strings.Contains(text, "cm below grid 10cm") {
		t.Errorf("the overlay does not say that the board lies 10 cm below the strings:\n%s", text)
	}
}
