package plate

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/relief"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// boneBelow is ground that slopes from 11 to 15 cm, with a long bone 40 cm long across it whose crest lies 9 to 10 cm deep.
func boneBelow(u, v float64) float64 {
	z := 13 + 0.02*u + 0.02*v + 0.4*math.Sin(u/6)
	if math.Abs(u) < 20 && math.Abs(v) < 4 {
		z = min(z, 9.5+0.02*u+4*(1-math.Sqrt(1-v*v/16)))
	}
	return z
}

// reliefShot is a gridded photo of jacket 14 with ground measured by three photos, and the ends of its bone marked.
func reliefShot(t *testing.T, u register.SetUp) (*shot, truth.Laid) {
	t.Helper()
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 150, TiltDeg: 8, HeadingDeg: 20, RollDeg: 5}, 0)
	end := func(u float64) calibrate.Point {
		p, ok := l.Truth.Photo(u, 0, 9.5+0.02*u)
		if !ok {
			t.Fatal("behind the camera")
		}
		return p
	}
	k := testTask(l.Plane, &figure.Marks{Ends: []figure.End{{End: "1", At: end(-19)}, {End: "2", At: end(19)}}}, u,
		register.Find{FieldNumber: "14", EndA: "proximal", EndB: "distal"})
	depths := truth.Ground(t, l.Plane, -truth.Half, truth.Half, boneBelow)
	k.ground = &figure.Ground{Relief: figure.NewRelief(depths, []string{"a/IMG_1.JPG", "a/IMG_2.JPG", "a/IMG_3.JPG"}), Plane: l.Plane, First: true}
	return k, l
}

// linesOf is the plate of level lines among a photo's plates.
func linesOf(t *testing.T, k *shot) (p look.Plate, all []look.Plate) {
	t.Helper()
	for _, r := range k.plates() {
		all = append(all, r.Made)
		if r.Relief != strings.Contains(r.File, "-relief_") {
			t.Errorf("%s: relief %t", r.File, r.Relief)
		}
		if r.Relief {
			p = r.Made
		}
	}
	return p, all
}

// TestReliefPlate: the first photo has one plate more, pale, with level lines, a profile from end to end and the depth of each
// square; the others lie at the bone's level, say how deep and from how many photos, and where the ground leaves it.
func TestReliefPlate(t *testing.T) {
	k, _ := reliefShot(t, register.SetUp{Name: "S1"})
	p, all := linesOf(t, k)
	if len(all) != 3 || !p.Pale || len(p.Contours) < 4 || p.Table == nil || len(p.Table.Cells) != 10 || len(p.Profiles) != 1 || len(k.doubts) != 0 {
		t.Fatalf("%d plates; pale %t, %d level lines, table %v, %d profiles, doubts %q", len(all), p.Pale, len(p.Contours), p.Table, len(p.Profiles), k.doubts)
	}
	if q := p.Profiles[0]; !strings.Contains(q.Title, "14, proximal end to distal end: 38.0 ± 1.1") || q.From != "proximal end" || q.To != "distal end" || q.BarCm == nil || math.Abs(*q.BarCm-9.5) > 0.2 {
		t.Errorf("profile %+v", q)
	}
	for i, made := range all {
		if !strings.HasPrefix(made.Headline, "100 mm on this scale bar = 100.0") || !strings.Contains(made.Headline, "mm at bone level (9.5 ± 1.") || !strings.Contains(made.Headline, "cm below the strings, from 3 photos)") {
			t.Errorf("plate %d: %q", i, made.Headline)
		}
		if i == 0 && (made.Contours != nil || made.Profiles != nil || made.Table != nil || made.Pale) {
			t.Error("level lines on the photo's own plate")
		}
	}
	for _, want := range []string{"length of 14: proximal end to distal end: 38.0 ± 1.1", "cm along the bone (9.5 ± 1.", "more than 2 cm below the scale bar's level in", "drawn out of place", "cm at the most"} {
		if !strings.Contains(allRows(all[0]), want) {
			t.Errorf("the rows do not say %q", want)
		}
	}
}

func allRows(p look.Plate) (text string) {
	for _, r := range p.Rows {
		text += r.Name + ": " + r.Text + "\n"
	}
	return text
}

// TestToldDepthGoesBefore: a set-up's depth is the plate's, a person's goes before it, and one that the photos contradict is told.
func TestToldDepthGoesBefore(t *testing.T) {
	for name, c := range map[string]struct {
		told   float64
		ends   bool
		doubts int
	}{
		"agrees":               {9, true, 0},
		"contradicts the bone": {13, true, 1},
		"within the ground":    {13, false, 0},
		"far above the ground": {4, false, 1},
		"far below it":         {20, false, 1},
	} {
		k, _ := reliefShot(t, register.SetUp{Name: "S1", DepthToBoneCm: &c.told})
		if !c.ends {
			k.said = nil
		}
		p, all := linesOf(t, k)
		if !strings.Contains(all[0].Headline, "at bone level (") || len(p.Contours) == 0 {
			t.Errorf("%s: %q, %d level lines", name, all[0].Headline, len(p.Contours))
		}
		if len(k.doubts) != c.doubts || strings.Contains(allRows(all[0]), "CONTRADICTED") != (c.doubts > 0) {
			t.Errorf("%s: doubts %q", name, k.doubts)
		}
	}
}

// TestUnmovedOnly: what two photos alone tell holds only if the frame did not move, and each plate says so.
func TestUnmovedOnly(t *testing.T) {
	k, _ := reliefShot(t, register.SetUp{Name: "S1"})
	k.ground.Depths.Photos, k.ground.Depths.IfUnmoved = 2, true
	p, all := linesOf(t, k)
	for _, made := range append(all, p) {
		if !strings.Contains(made.Headline, "from 2 photos, if the frame did not move") {
			t.Errorf("%q", made.Headline)
		}
	}
	if !strings.Contains(allRows(p), "if the frame did not move") {
		t.Error("the relief plate does not say it")
	}
}

// TestBoneNotShown: where nobody marked the bone, the bar holds for the middle, which U allows for, and no profile is drawn.
func TestBoneNotShown(t *testing.T) {
	k, _ := reliefShot(t, register.SetUp{Name: "S1"})
	k.said = nil
	p, all := linesOf(t, k)
	if !strings.Contains(all[0].Headline, "at the level of what lies in the middle (1") || p.Profiles != nil || !strings.Contains(allRows(p), "nobody marked both ends") {
		t.Errorf("%q; %q", all[0].Headline, allRows(p))
	}
}

// TestOtherPhotosHaveNoReliefPlate: only the first of the photos has it; a mirrored photo, or one drawn without scale, has none.
func TestOtherPhotosHaveNoReliefPlate(t *testing.T) {
	for name, change := range map[string]func(*shot){
		"another of them": func(k *shot) { k.ground.First, k.ground.Turn = false, relief.Turn{} },
		"mirrored":        func(k *shot) { k.r.Codes = []look.Code{{Mirrored: true}} },
		"without scale":   func(k *shot) { k.r.NoScale = "RKA wants none" },
		"no ground":       func(k *shot) { k.ground = nil },
	} {
		k, _ := reliefShot(t, register.SetUp{Name: "S1"})
		change(k)
		if p, _ := linesOf(t, k); p.Contours != nil {
			t.Errorf("%s has a relief plate", name)
		}
	}
	k, _ := reliefShot(t, register.SetUp{Name: "S1"})
	k.ground.First = false
	_, all := linesOf(t, k)
	if text := allRows(all[0]); !strings.Contains(text, "on the relief plate of IMG_1.JPG") || !strings.Contains(all[0].Headline, "at bone level (9.5") {
		t.Errorf("%q\n%s", all[0].Headline, text)
	}
}

// TestTapeAlongTheGround: a taped length and an area are measured at the depth found under them.
func TestTapeAlongTheGround(t *testing.T) {
	k, l := reliefShot(t, register.SetUp{Name: "S1"})
	at := func(u, v float64) calibrate.Point {
		p, _ := l.Truth.Photo(u, v, boneBelow(u, v))
		return p
	}
	k.said.Tapes = []figure.Tape{{From: "a nail", To: "a stone", LengthMm: 600, At: [2]calibrate.Point{at(-30, 30), at(30, 30)}}}
	k.said.Outlines = []figure.Outline{{Name: "bone", Of: "bone", By: "RKA", Points: []calibrate.Point{at(-19, -3), at(19, -3), at(19, 3), at(-19, 3)}}}
	all := k.plates()
	text := allRows(all[0].Made)
	if !strings.Contains(text, "tape 600 mm, plate 599.7 ± 6.9 mm") || !strings.Contains(text, "within U") {
		t.Errorf("%s", text)
	}
	if !strings.Contains(text, ": 225 ± 9") && !strings.Contains(text, ": 224.9 ± 9.1 cm² 9.8 ± 1.0 cm below the strings, from 3 photos") {
		t.Errorf("38 x 6 cm of bone: %s", text)
	}
}
