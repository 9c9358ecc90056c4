package plate

import (
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// tiled has the photo's strings carry these tiles: numbers clockwise from the
// corner (-, -); 0: none was read there.
func tiled(t rapid.TB, l truth.Laid, k *shot, order [4]int) {
	in := calibrate.TileInCm
	s := &k.r.Sightings[0]
	s.Reference.TilesInCm = &in
	var tiles []calibrate.Tile
	for i, c := range [4][2]float64{{-1, -1}, {1, -1}, {1, 1}, {-1, 1}} {
		if order[i] == 0 {
			continue
		}
		u, v := c[0]*(truth.Half-in), c[1]*(truth.Half-in)
		tile := calibrate.Tile{Number: order[i], Middle: l.Photo(t, u, v)}
		for n, d := range [4][2]float64{{-3.15, -3.15}, {3.15, -3.15}, {3.15, 3.15}, {-3.15, 3.15}} {
			tile.Corners[(n+i)%4] = l.Photo(t, u+d[0], v+d[1])
		}
		tiles = append(tiles, tile)
	}
	var err error
	if s.Tiled, err = s.Plane.Tiled(s.Reference, tiles); err != nil {
		t.Fatal(err)
	}
}

// TestTilesNameTheSquares: from whichever side, however the finder numbered the
// strings, and without a row on the set-up, every name is the true one.
func TestTilesNameTheSquares(t *testing.T) {
	named := 0
	rapid.Check(t, func(t *rapid.T) {
		camera := scene.Camera{
			WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, K1: rapid.Float64Range(-0.02, 0.02).Draw(t, "k1"), DistanceCm: 170, TiltDeg: rapid.Float64Range(0, 35).Draw(t, "tilt"),
			HeadingDeg: float64(90 * rapid.IntRange(0, 3).Draw(t, "side")), RollDeg: rapid.Float64Range(-40, 40).Draw(t, "roll"),
		}
		l := truth.LayDown(t, rapid.Float64Range(0, 360).Draw(t, "turn"), camera, rapid.IntRange(0, 7).Draw(t, "relabel"))
		k := testTask(l.Plane, nil, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14"})
		if rapid.Bool().Draw(t, "no set-up") {
			k.season.Register.SetUps = nil
		}
		anticlockwise := rapid.Bool().Draw(t, "anticlockwise")
		order := [4]int{1, 2, 3, 4}
		if anticlockwise {
			order = [4]int{1, 4, 3, 2}
		}
		if lost := rapid.IntRange(0, 4).Draw(t, "lost"); lost < 4 {
			order[lost] = 0
		}
		tiled(t, l, k, order)
		for _, made := range k.plates() {
			p := made.Made
			n := namedIn(t, l, p, anticlockwise)
			if n < 10 || !strings.HasPrefix(rowNamed(p, "squares"), "named from the tiles at the frame's corners, which show its strings to cross at ") {
				t.Fatalf("%d names: %q", n, rowNamed(p, "squares"))
			}
			named++
		}
	})
	if named < 50 {
		t.Errorf("%d plates named", named)
	}
}

// When tiles tell the squares, when not, and what is said of it.
func TestWhenTilesNameTheSquares(t *testing.T) {
	camera := scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: 10}
	for name, c := range map[string]struct {
		order  [4]int
		set    register.SetUp
		change func(l truth.Laid, k *shot)
		names  bool
		anti   bool
		says   string
		doubt  string
	}{
		"all":                       {[4]int{1, 2, 3, 4}, register.SetUp{}, nil, true, false, "named from the tiles", ""},
		"and letters_run":           {[4]int{1, 2, 3, 4}, register.SetUp{LettersRun: "clockwise"}, nil, true, false, "named from the tiles", ""},
		"letters_run against":       {[4]int{1, 2, 3, 4}, register.SetUp{LettersRun: "anticlockwise"}, nil, false, false, "the letters do not run anticlockwise, as letters_run of set-up S1 says", "do not run"},
		"two, letters_run":          {[4]int{1, 0, 3, 0}, register.SetUp{LettersRun: "anticlockwise"}, nil, true, true, "named from the tiles", ""},
		"two, nobody says":          {[4]int{1, 0, 3, 0}, register.SetUp{}, nil, false, false, "alone do not tell which way the letters run", ""},
		"too few":                   {[4]int{1, 2, 0, 0}, register.SetUp{}, nil, false, false, "only A1 and LETTERS were read", ""},
		"swapped":                   {[4]int{1, 2, 4, 3}, register.SetUp{}, nil, false, false, "do not stand at the corners of one frame", "do not stand"},
		"other cells":               {[4]int{1, 2, 3, 4}, register.SetUp{Cells: &register.Cells{Across: 10, Down: 8}}, nil, false, false, "stand 10 x 10 squares apart, but set-up S1 has 10 x 8", "has 10 x 8"},
		"turned over":               {[4]int{1, 2, 3, 4}, register.SetUp{}, func(_ truth.Laid, k *shot) { k.r.Belongs.View = register.ViewUnderside }, false, false, "lies no longer as it did", "no longer"},
		"a person agrees":           {[4]int{1, 2, 3, 4}, register.SetUp{LettersRun: "clockwise"}, func(l truth.Laid, k *shot) { k.said = marked(t, l, -truth.Half, -truth.Half) }, true, false, "", ""},
		"a person says otherwise":   {[4]int{1, 2, 3, 4}, register.SetUp{LettersRun: "clockwise"}, func(l truth.Laid, k *shot) { k.said = marked(t, l, truth.Half, truth.Half) }, false, false, "CONTRADICTED. squares: named as marked by RKA; the tiles at the frame's corners tell them otherwise", "otherwise"},
		"too few, a person says it": {[4]int{1, 2, 0, 0}, register.SetUp{LettersRun: "clockwise"}, func(l truth.Laid, k *shot) { k.said = marked(t, l, -truth.Half, -truth.Half) }, true, false, "", ""},
	} {
		l := truth.LayDown(t, 0, camera, 0)
		c.set.Name = "S1"
		k := testTask(l.Plane, nil, c.set, register.Find{FieldNumber: "14"})
		tiled(t, l, k, c.order)
		if c.change != nil {
			c.change(l, k)
		}
		p := k.plates()[0].Made
		if c.names && namedIn(t, l, p, c.anti) < 10 {
			t.Errorf("%s: not named: %q", name, rowNamed(p, "squares"))
		}
		if !c.names && !strings.HasPrefix(c.says, "CONTRADICTED") {
			for _, label := range p.Labels {
				if label.Plain {
					t.Errorf("%s: named %s", name, label.Text)
					break
				}
			}
		}
		if !strings.Contains(rowNamed(p, "squares"), c.says) || (c.says == "") != (rowNamed(p, "squares") == "") {
			t.Errorf("%s: %q, want %q", name, rowNamed(p, "squares"), c.says)
		}
		if said := strings.Join(k.doubts, "; "); !strings.Contains(said, c.doubt) || (c.doubt == "") != (said == "") {
			t.Errorf("%s: doubts %q, want %q", name, said, c.doubt)
		}
	}
}

func marked(t *testing.T, l truth.Laid, u, v float64) *figure.Marks {
	return &figure.Marks{Origin: &figure.Origin{Corner: l.Photo(t, u, v), From: "marked by RKA"}}
}
