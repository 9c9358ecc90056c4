package plate

import (
	"fmt"
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// TestNamedSquaresAreTheOnesDrawn: a part named by squares shows those squares whole and next to nothing else, wherever the photo was
// taken from and however its plate is turned; no end is labelled that lies outside it.
func TestNamedSquaresAreTheOnesDrawn(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := truth.LayDown(t, rapid.Float64Range(0, 360).Draw(t, "turn"), scene.Camera{
			WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: rapid.Float64Range(0, 25).Draw(t, "tilt"),
			HeadingDeg: rapid.Float64Range(0, 360).Draw(t, "heading"), RollDeg: rapid.Float64Range(-180, 180).Draw(t, "roll"),
		}, rapid.IntRange(0, 7).Draw(t, "relabel"))
		downward := rapid.Bool().Draw(t, "letters run down v")
		to := l.Photo(t, -truth.Half+30, -truth.Half)
		if downward {
			to = l.Photo(t, -truth.Half, -truth.Half+30)
		}
		marks := &figure.Marks{
			Origin: &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to},
			Ends:   []figure.End{{End: "1", At: l.Photo(t, -45, -45)}, {End: "2", At: l.Photo(t, 45, 45)}}, // in squares A1 and J10
		}
		if rapid.Bool().Draw(t, "by letters") {
			marks.Ends = nil
		}
		a, b := rapid.IntRange(1, 8).Draw(t, "from column"), rapid.IntRange(1, 8).Draw(t, "from row")
		c, d := rapid.IntRange(a, 8).Draw(t, "to column"), rapid.IntRange(b, 8).Draw(t, "to row")
		k := testTask(l.Plane, marks, register.SetUp{Name: "S1", Cells: &register.Cells{Across: 10, Down: 10}}, register.Find{FieldNumber: "14"})
		square := func(column, row int) string { return fmt.Sprintf("%c%d", 'A'+column, row+1) }
		names := square(a, b) + ".." + square(c, d)
		if rapid.Bool().Draw(t, "other corners") {
			names = square(c, b) + ".." + square(a, d)
		}
		in, err := Part{Squares: names}.Of(k.input(), "14")
		if err != nil {
			t.Fatal(err)
		}
		for i, made := range Compose(in) {
			p := made.Made
			if i == 0 {
				// Its corners go to squares counted along the letters and across.
				lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
				for _, at := range [][2]float64{{0, 0}, {1, 0}, {1, 1}, {0, 1}} {
					u, v := l.Truly(t, p, at[0]*float64(p.Picture.WidthPx), at[1]*float64(p.Picture.HeightPx))
					q := [2]float64{(u + truth.Half) / 10, (v + truth.Half) / 10}
					if downward {
						q[0], q[1] = q[1], q[0]
					}
					for n := range 2 {
						lo[n], hi[n] = min(lo[n], q[n]), max(hi[n], q[n])
					}
				}
				if marks.Ends == nil && (lo[0] < float64(a)-0.3 || lo[0] > float64(a)+0.01 || hi[0] > float64(c)+1.3 || hi[0] < float64(c)+0.99 ||
					lo[1] < float64(b)-0.3 || lo[1] > float64(b)+0.01 || hi[1] > float64(d)+1.3 || hi[1] < float64(d)+0.99) {
					t.Fatalf("%s: columns %.2f to %.2f, rows %.2f to %.2f", names, lo[0], hi[0], lo[1], hi[1])
				}
			}
			lay := figure.Lay{Picture: p.Picture}
			for _, label := range p.Labels {
				if !lay.Inside(label.XPx, label.YPx) {
					t.Fatalf("label %q stands outside, at (%.0f, %.0f)", label.Text, label.XPx, label.YPx)
				}
			}
			for row := b; row <= d; row++ {
				for column := a; column <= c; column++ {
					u, v := float64(column)*10+5-truth.Half, float64(row)*10+5-truth.Half
					if downward {
						u, v = v, u
					}
					if x, y, ok := lay.Plate(l.Photo(t, u, v)); !ok || !lay.Inside(x, y) {
						t.Fatalf("%s: square %s is not on it", names, square(column, row))
					}
				}
			}
		}
	})
}

// TestAFindAlone is shown by its outline, else about its ends, with its end up; what the photo does not tell is refused.
func TestAFindAlone(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, HeadingDeg: 50, TiltDeg: 15}, 0)
	outline := func(name string, u, v float64) figure.Outline {
		return figure.Outline{Name: name, Of: "bone", Points: []calibrate.Point{l.Photo(t, u-20, v), l.Photo(t, u, v+4), l.Photo(t, u+20, v), l.Photo(t, u, v-4)}}
	}
	ends := []figure.End{{Find: "21", End: "1", At: l.Photo(t, -19, 10)}, {Find: "21", End: "2", At: l.Photo(t, 19, 10)}}
	for name, c := range map[string]struct {
		find       string
		ends       []figure.End
		outlines   []figure.Outline
		long, wide float64 // of the plate, cm
		fault      string
	}{
		"outline and ends": {"21", ends, []figure.Outline{outline("Femur", 0, 10), outline("22", 0, -30)}, 40 * 1.1, 8 + 2*2, ""},
		"by number":        {"22", nil, []figure.Outline{outline("Femur", 0, 10), outline("22", 0, -30)}, 0, 0, ""},
		"ends alone":       {"21", ends, nil, 38 * 1.1, (2*0.1 + 0.1) * 38, ""},
		"one end":          {"21", ends[:1], nil, 0, 0, "nobody outlined find 21"},
		"another's":        {"22", ends, []figure.Outline{outline("femur", 0, 10)}, 0, 0, "nobody outlined find 22"},
		"not inside":       {"30", ends, nil, 0, 0, `holds no find "30"`},
	} {
		k := testTask(l.Plane, &figure.Marks{Ends: c.ends, Outlines: c.outlines}, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "21", Element: "femur", EndA: "proximal"})
		k.season.Register.Finds = append(k.season.Register.Finds, register.Find{FieldNumber: "22"})
		k.season.Register.Jackets[0].Finds = []string{"21", "22"}
		in, err := Part{Find: c.find}.Of(k.input(), "14")
		if c.fault != "" || err != nil {
			if err == nil || c.fault == "" || !strings.Contains(err.Error(), c.fault) {
				t.Errorf("%s: %v, want %q", name, err, c.fault)
			}
			continue
		}
		p := Compose(in)[0].Made
		tall, wide := float64(p.Picture.HeightPx)/p.Picture.PxPerCm, float64(p.Picture.WidthPx)/p.Picture.PxPerCm
		if c.long > 0 && (math.Abs(tall-c.long) > 1 || math.Abs(wide-c.wide) > 1 || !strings.HasSuffix(p.Heading, ", 21: proximal end up")) {
			t.Errorf("%s: %.1f x %.1f cm, %q; want %.1f x %.1f", name, tall, wide, p.Heading, c.long, c.wide)
		}
		lay := figure.Lay{Picture: p.Picture}
		if x, y, ok := lay.Plate(l.Photo(t, 0, map[string]float64{"21": 10, "22": -30}[c.find])); !ok || !lay.Inside(x, y) {
			t.Errorf("%s: its middle is not on the plate", name)
		}
	}
}

// TestPartsThatAreNotKnown are refused: squares that nobody named or that there are none of, a photo without scale.
func TestPartsThatAreNotKnown(t *testing.T) {
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170}, 0)
	to := l.Photo(t, 0, -truth.Half)
	origin := &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to}
	for want, c := range map[string]struct {
		part   Part
		origin *figure.Origin
		scaled bool
	}{
		`no square "K1": its squares are A1 to J10`: {Part{Squares: "C3..K1"}, origin, true},
		`no square "": its squares are A1 to J10`:   {Part{Squares: "C3.."}, origin, true},
		"its squares are not named: nobody marked":  {Part{Squares: "C3"}, nil, true},
		"the photo has no scale":                    {Part{Squares: "C3"}, origin, false},
		"":                                          {Part{Squares: " c 3 .. e5"}, origin, true},
	} {
		k := testTask(l.Plane, &figure.Marks{Origin: c.origin}, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14"})
		if !c.scaled {
			k.r.Sightings = nil
		}
		if _, err := c.part.Of(k.input(), "14"); (err == nil) != (want == "") || err != nil && !strings.Contains(err.Error(), want) {
			t.Errorf("%+v: %v, want %q", c.part, err, want)
		}
	}
	k := testTask(l.Plane, nil, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14"})
	own := k.plates()[0].Made.Picture
	in, err := Part{Whole: true}.Of(k.input(), "14")
	if err != nil {
		t.Fatal(err)
	}
	whole := Compose(in)[0].Made
	size := func(px int, perCm float64) float64 { return float64(px) / perCm }
	if size(whole.Picture.WidthPx, whole.Picture.PxPerCm) < 1.3*size(own.WidthPx, own.PxPerCm) || strings.Contains(whole.OutlineText, "Not on this plate") {
		t.Errorf("the whole is %d px at %g px/cm, cropped %d at %g: %s", whole.Picture.WidthPx, whole.Picture.PxPerCm, own.WidthPx, own.PxPerCm, whole.OutlineText)
	}
}
