package plate

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// cornerTask is a photo of the laid strings with card 3 belowCm under them, (u, v) cm from the frame's middle, its arrow
// along +U of the frame, turned clockwise by askew degrees. The frame turns by turnDeg.
func cornerTask(t rapid.TB, turnDeg float64, c scene.Camera, relabel int, u, v, belowCm, askewDeg float64, along string, set register.SetUp) (truth.Laid, *shot) {
	l := truth.LayDown(t, turnDeg, c, relabel)
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	seen := cardSeen(t, scene.Pose{XCm: u*cos - v*sin, YCm: -u*sin - v*cos, ZCm: -belowCm, TurnDeg: turnDeg + 90 + askewDeg}, c)
	k := testTask(l.Plane, nil, set, register.Find{FieldNumber: "14"})
	k.r.Sightings = append(k.r.Sightings, seen)
	k.season.Register.Season.References = []register.Reference{{Reference: seen.Reference, Origin: along}}
	return l, k
}

// namedIn counts the squares that a plate names, held to the truth: columns are lettered along the frame's U from its corner
// (-, -), rows numbered along V; acrossV: the other way.
func namedIn(t rapid.TB, l truth.Laid, p look.Plate, acrossV bool) (n int) {
	for _, label := range p.Labels {
		if !label.Plain {
			continue
		}
		n++
		u, v := l.Truly(t, p, label.XPx, label.YPx)
		a, c := (u+truth.Half)/10, (v+truth.Half)/10
		if acrossV {
			a, c = c, a
		}
		want := string(rune('A' + int(math.Floor(a))))
		if label.Text[0] < 'A' {
			want = []string{"1", "2", "3", "4", "5", "6", "7", "8", "9", "10"}[min(max(int(math.Floor(c)), 0), 9)]
		}
		if label.Text != want {
			t.Fatalf("%s stands where square %s is, %.2f squares along the letters, %.2f across", label.Text, want, a, c)
		}
	}
	return n
}

// TestCardAtTheCornerNamesTheSquares: wherever the card lies at the corner, at whatever level, from whichever side and however
// the finder numbered the strings, every name is the true one; and away from the corner there is none.
func TestCardAtTheCornerNamesTheSquares(t *testing.T) {
	seenNamed, seenNot := 0, 0
	rapid.Check(t, func(t *rapid.T) {
		camera := scene.Camera{
			WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, K1: rapid.Float64Range(-0.02, 0.02).Draw(t, "k1"), DistanceCm: 170, TiltDeg: rapid.Float64Range(0, 25).Draw(t, "tilt"),
			HeadingDeg: float64(90 * rapid.IntRange(0, 3).Draw(t, "side")), RollDeg: rapid.Float64Range(-40, 40).Draw(t, "roll"),
		}
		along := rapid.SampledFrom([]string{register.OriginLetters, register.OriginNumbers, register.OriginCorner}).Draw(t, "along")
		set := register.SetUp{Name: "S1", Cells: &register.Cells{Across: 10, Down: 10}}
		acrossV := along == register.OriginNumbers
		askew := rapid.Float64Range(-180, 180).Draw(t, "askew")
		if along == register.OriginCorner {
			set.LettersRun = "clockwise" // from the corner (-, -) along +U, seen from above, the frame is on the right
			if rapid.Bool().Draw(t, "anticlockwise") {
				set.LettersRun, acrossV = "anticlockwise", true
			}
		}
		u, v := rapid.Float64Range(-65, 65).Draw(t, "u"), rapid.Float64Range(-65, 65).Draw(t, "v")
		if rapid.Bool().Draw(t, "at the corner") {
			u, v = -truth.Half+rapid.Float64Range(-12, 12).Draw(t, "du"), -truth.Half+rapid.Float64Range(-12, 12).Draw(t, "dv")
			if along != register.OriginCorner {
				askew = rapid.Float64Range(-25, 25).Draw(t, "little askew")
			}
		}
		l, k := cornerTask(t, rapid.Float64Range(0, 360).Draw(t, "turn"), camera, rapid.IntRange(0, 7).Draw(t, "relabel"), u, v, rapid.Float64Range(-3, 25).Draw(t, "below"), askew, along, set)
		away := math.Hypot(u+truth.Half, v+truth.Half)
		atOther := math.Min(math.Hypot(u-truth.Half, v-truth.Half), math.Min(math.Hypot(u-truth.Half, v+truth.Half), math.Hypot(u+truth.Half, v-truth.Half))) < 27
		alongOther := away < 27 && along != register.OriginCorner && math.Abs(askew) > 55
		for _, made := range k.plates() {
			p := made.Made
			if atOther || alongOther {
				continue // laid at a wrong corner or along a wrong edge, which nothing can tell
			}
			n := namedIn(t, l, p, acrossV)
			switch {
			case n > 0 && away > 27:
				t.Fatalf("named though the card lies %.0f cm from the corner", away)
			case n > 0:
				seenNamed++
			case away < 20 && (along == register.OriginCorner || math.Abs(askew) <= 25):
				t.Fatalf("not named though the card lies %.0f cm from the corner, %.0f° askew: %s", away, askew, rowNamed(p, "squares"))
			case len(k.doubts) == 0 || !strings.HasPrefix(rowNamed(p, "squares"), "not named: card 3: "):
				t.Fatalf("not named, and no reason: %q, %q", rowNamed(p, "squares"), k.doubts)
			default:
				seenNot++
			}
		}
	})
	if seenNamed < 20 || seenNot < 20 {
		t.Errorf("%d plates named, %d not: want many of both", seenNamed, seenNot)
	}
}

// When a card tells the squares, when not, and what is said of it.
func TestWhenACardNamesTheSquares(t *testing.T) {
	camera := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: 10}
	bearing := func(deg float64) func(*shot) {
		return func(k *shot) {
			k.season.Register.SetUps[0].EdgeBearingDeg, k.season.Register.SetUps[0].BearingNorth = &deg, register.NorthMagnetic
			k.season.Register.Season.References[0].Arrow = register.NorthMagnetic
		}
	}
	mark := func(u, v, toU, toV float64) func(*testing.T, truth.Laid) *figure.Marks {
		return func(t *testing.T, l truth.Laid) *figure.Marks {
			to := l.Photo(t, toU, toV)
			return &figure.Marks{Origin: &figure.Origin{Corner: l.Photo(t, u, v), LettersTo: &to, From: "marked by RKA"}}
		}
	}
	for name, c := range map[string]struct {
		u, v, askew float64
		along       string
		run         string
		change      func(*shot)
		mark        func(*testing.T, truth.Laid) *figure.Marks
		named       bool
		says        string // of the row on the squares
		doubt       string
	}{
		"at the corner":        {-45, -42, 5, register.OriginLetters, "", nil, nil, true, "named from the corner where card 3 lies", ""},
		"and letters_run too":  {-45, -42, 5, register.OriginLetters, "clockwise", nil, nil, true, "named from", ""},
		"letters_run against":  {-45, -42, 5, register.OriginLetters, "anticlockwise", nil, nil, false, "do not run anticlockwise, as letters_run of set-up S1 says", "do not run"},
		"the bearing agrees":   {-45, -42, 0, register.OriginLetters, "", bearing(2), nil, true, "named from", ""},
		"the bearing against":  {-45, -42, 0, register.OriginLetters, "", bearing(90), nil, false, "apart: one of them is wrong", "apart"},
		"silent":               {-45, -42, 5, "", "", nil, nil, false, "nobody marked the origin corner in this photo", ""},
		"in the middle":        {4, -3, 5, register.OriginLetters, "", nil, nil, false, "cm from the nearest corner of the frame", "nearest corner"},
		"outside, seen inside": {-70, -69, 5, register.OriginLetters, "", nil, nil, false, "the card lies 28 cm from the nearest corner", "nearest corner"},
		"between two corners":  {-45, 0, 5, register.OriginLetters, "", nil, nil, false, "cm from the nearest corner of the frame", "nearest corner"},
		"arrow askew":          {-45, -42, 45, register.OriginLetters, "", nil, nil, false, "45° off, limit 30°", "along neither edge"},
		"arrow outwards":       {-45, -42, 180, register.OriginLetters, "", nil, nil, false, "along neither edge", "along neither edge"},
		"no way of letters":    {-45, -42, 5, register.OriginCorner, "", nil, nil, false, "letters_run of set-up S1 does not say", "letters_run"},
		"cells not known":      {-45, -42, 5, register.OriginLetters, "", func(k *shot) { k.season.Register.SetUps[0].Cells = nil }, nil, false, "how many squares the frame has is not known", "not known"},
		"a part of the frame":  {-45, -42, 5, register.OriginLetters, "", func(k *shot) { k.season.Register.SetUps[0].Cells = &register.Cells{Across: 12, Down: 10} }, nil, false, "10 x 10 squares are counted and the frame has 12 x 10", "counted"},
		"turned over":          {-45, -42, 5, register.OriginLetters, "", func(k *shot) { k.r.Belongs.View = register.ViewUnderside }, nil, false, "lies no longer as it did", "no longer"},
		"two such cards":       {-45, -42, 5, register.OriginLetters, "", func(k *shot) { k.r.Sightings = append(k.r.Sightings, k.r.Sightings[1]) }, nil, false, "leave one out of the picture", "leave one out"},
		"no focal length": {-45, -42, 5, register.OriginLetters, "", func(k *shot) {
			for i := range k.r.Sightings {
				plane := *k.r.Sightings[i].Plane
				plane.Camera.Focal35Mm = 0
				k.r.Sightings[i].Plane = &plane
			}
		}, nil, false, "does not tell its focal length", "focal length"},
		"a person agrees":      {-45, -42, 5, register.OriginLetters, "", nil, mark(-truth.Half, -truth.Half, 0, -truth.Half), true, "", ""},
		"a person, not silent": {4, -3, 5, register.OriginLetters, "", nil, mark(-truth.Half, -truth.Half, 0, -truth.Half), true, "", ""},
		"a person's corner":    {45, 42, 180, register.OriginLetters, "", nil, mark(-truth.Half, -truth.Half, 0, -truth.Half), true, "CONTRADICTED. squares: named as marked by RKA; card 3", "tells them otherwise"},
		"a person's way":       {-45, -42, 5, register.OriginNumbers, "", nil, mark(-truth.Half, -truth.Half, 0, -truth.Half), true, "CONTRADICTED. squares: named as marked by RKA; card 3", "tells them otherwise"},
	} {
		t.Run(name, func(t *testing.T) {
			l, k := cornerTask(t, 0, camera, 0, c.u, c.v, 8, c.askew, c.along, register.SetUp{Name: "S1", LettersRun: c.run, Cells: &register.Cells{Across: 10, Down: 10}})
			if c.mark != nil {
				k.said = c.mark(t, l)
			}
			if c.change != nil {
				c.change(k)
			}
			p := k.plates()[0].Made
			n := namedIn(t, l, p, false)
			if (n == 20) != c.named || n != 0 && n != 20 || !strings.Contains(rowNamed(p, "squares"), c.says) || c.says == "" && rowNamed(p, "squares") != "" {
				t.Errorf("%d named, row %q, want %q", n, rowNamed(p, "squares"), c.says)
			}
			if doubts := strings.Join(k.doubts, "\n"); c.doubt == "" && doubts != "" || !strings.Contains(doubts, c.doubt) {
				t.Errorf("doubts %q, want %q", doubts, c.doubt)
			}
		})
	}
}

// A photo that a card shows to be mirrored is marked so, whatever else is in it: nothing that has a side is drawn, and its
// plate has no mirrored twin. Where another card is read as it is, the mirrored one is no sign.
func TestMirroredPhotoIsMarked(t *testing.T) {
	camera := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}
	for name, c := range map[string]struct {
		codes  []look.Code
		plane  bool
		marked string
		plates int
	}{
		"as taken":   {[]look.Code{{Card: 3}}, true, "", 2},
		"mirrored":   {[]look.Code{{Mirrored: true}}, true, "MIRRORED PHOTO", 1},
		"no scale":   {[]look.Code{{Mirrored: true}}, false, "NO SCALE. MIRRORED PHOTO", 1},
		"one is not": {[]look.Code{{Mirrored: true}, {Card: 3}}, true, "", 2},
	} {
		l, k := cornerTask(t, 0, camera, 0, -45, -42, 8, 0, register.OriginLetters, register.SetUp{Name: "S1", Cells: &register.Cells{Across: 10, Down: 10}})
		to := l.Photo(t, 0, -truth.Half)
		k.said = &figure.Marks{Origin: &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to}}
		k.r.Codes = c.codes
		if !c.plane {
			k.r.Sightings = nil
		}
		plates := k.plates()
		if len(plates) != c.plates {
			t.Errorf("%s: %d plates, want %d", name, len(plates), c.plates)
		}
		p := plates[0].Made
		if !strings.HasPrefix(p.Stamp, c.marked) || (c.marked == "") != (p.Stamp == "") || c.marked != "" && (len(p.Labels) > 0 || len(k.doubts) != 1) {
			t.Errorf("%s: stamp %q, %d labels, doubts %q", name, p.Stamp, len(p.Labels), k.doubts)
		}
	}
}

// A card between two corners of a small frame tells neither.
func TestCardInASmallFrame(t *testing.T) {
	small := calibrate.Sighting{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}}
	camera := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 80}
	l := truth.LayDown(t, 0, camera, 0)
	plane := *l.Plane
	plane.Corners = [4][2]float64{{-10, -10}, {10, -10}, {10, 10}, {-10, 10}}
	small.Plane = &plane
	for _, c := range []struct {
		u, v float64
		want bool
	}{{-14, -12, true}, {-8, -7, true}, {-8, -1, false}, {-14, 2, false}, {0, 0, false}, {-3, -3, false}} {
		card := cardSeen(t, scene.Pose{XCm: c.u, YCm: -c.v, ZCm: -6, TurnDeg: 90}, camera)
		_, why := figure.OriginByCard(small, card, register.OriginLetters, register.Cells{Across: 2, Down: 2})
		if (why == "") != c.want || !c.want && !strings.Contains(why, "nearest corner") {
			t.Errorf("card at (%g, %g) of a frame of 20 cm: %q", c.u, c.v, why)
		}
	}
}
