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
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// photosUpDeg is where the photo's own up points on a plate, clockwise from its top.
func photosUpDeg(p look.Plate) float64 {
	upright, _ := layout.Upright(p.Picture.Plane)
	u0, v0 := upright.Source(0, 0)
	u1, v1 := upright.Source(0, -1)
	lay := figure.Lay{Picture: p.Picture}
	x0, y0 := lay.OfPlane(u0, v0)
	x1, y1 := lay.OfPlane(u1, v1)
	return math.Atan2(x1-x0, y0-y1) * 180 / math.Pi
}

// TestPlatesAreTurnedAsTheySay holds the turn of every kind of plate to the scene: where the heading says north, an end or the
// letters' way, it truly lies so; from all sides, however the phone was held, whatever is known; a plate is mirrored where its
// stamp says so and nowhere else; of a block turned over no north is drawn or turned by.
func TestPlatesAreTurnedAsTheySay(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		l := truth.LayDown(t, rapid.Float64Range(0, 360).Draw(t, "turn"), scene.Camera{
			WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, TiltDeg: rapid.Float64Range(0, 25).Draw(t, "tilt"),
			HeadingDeg: rapid.Float64Range(0, 360).Draw(t, "heading"), RollDeg: rapid.Float64Range(-180, 180).Draw(t, "roll"),
		}, rapid.IntRange(0, 7).Draw(t, "relabel"))
		view := rapid.SampledFrom([]register.View{register.ViewGridded, register.ViewEnds, register.ViewJacketed, register.ViewUnderside, register.ViewOpened}).Draw(t, "view")
		north, ends, squares := rapid.Bool().Draw(t, "north"), rapid.Bool().Draw(t, "ends"), rapid.Bool().Draw(t, "squares")
		proximalB := rapid.Bool().Draw(t, "B is the proximal one")
		bearing := rapid.Float64Range(0, 2*math.Pi).Draw(t, "way of B")
		marks, u := &figure.Marks{}, register.SetUp{Name: "S1", Cells: &register.Cells{Across: 10, Down: 10}}
		f := register.Find{FieldNumber: "14", EndA: "proximal", EndB: "distal"}
		if proximalB {
			f.EndA, f.EndB = f.EndB, f.EndA
		}
		toUp := [2]float64{-math.Cos(bearing), -math.Sin(bearing)} // from B to A
		if proximalB {
			toUp = [2]float64{-toUp[0], -toUp[1]}
		}
		if ends {
			at := func(way float64) calibrate.Point {
				return l.Photo(t, way*20*math.Cos(bearing), way*20*math.Sin(bearing))
			}
			marks.Ends = []figure.End{{End: "1", At: at(-1)}, {End: "2", At: at(1)}}
		}
		if north {
			s, c := math.Sincos(l.TurnDeg * math.Pi / 180) // north is (0, -1) turned back by it
			marks.North = &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 0), Head: l.Photo(t, -20*s, -20*c)}, Of: register.NorthTrue, From: "arrow set by RKA"}
		}
		if squares {
			to := l.Photo(t, -truth.Half+30, -truth.Half)
			marks.Origin = &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to}
		}
		k := testTask(l.Plane, marks, u, f)
		k.r.Belongs.View = view
		turned, displaced := view.Turned(), view.Displaced()
		for i, made := range k.plates() {
			p := made.Made
			mirrored := i == 1
			dir := func(dx, dy float64) [2]float64 { // of the plate, on the set-up, a unit long
				cx, cy := float64(p.Picture.WidthPx)/2, float64(p.Picture.HeightPx)/2
				u0, v0 := l.Truly(t, p, cx-100*dx, cy-100*dy)
				u1, v1 := l.Truly(t, p, cx+100*dx, cy+100*dy)
				n := math.Hypot(u1-u0, v1-v0)
				return [2]float64{(u1 - u0) / n, (v1 - v0) / n}
			}
			up, right := dir(0, -1), dir(1, 0)
			if hand := up[0]*right[1] - up[1]*right[0]; hand > 0 == mirrored {
				t.Fatalf("plate %d, stamp %q: mirrored %t, hand %g", i, p.Stamp, mirrored, hand)
			}
			if (p.Stamp == fromBottom) != mirrored || (p.Stamp == fromBelow) != (turned && !mirrored) || !mirrored && !turned && p.Stamp != "" {
				t.Fatalf("plate %d of %s: stamp %q", i, view, p.Stamp)
			}
			along := func(a, b [2]float64) bool { return a[0]*b[0]+a[1]*b[1] > math.Cos(1.5*math.Pi/180) }
			says := "up as in the photo"
			switch {
			case north && !displaced:
				if says = "true north up"; !near(l.Bearing(up[0], up[1]), 0, 1) || p.North == nil || !near(p.North.ClockwiseFromUpDeg, 0, 0.01) {
					t.Fatalf("%s: up is %.1f° true, the arrow %+v", p.Heading, l.Bearing(up[0], up[1]), p.North)
				}
			case ends:
				if says = "proximal end up"; !along(up, toUp) {
					t.Fatalf("%s: up is %v, the end lies to %v", p.Heading, up, toUp)
				}
			case squares && !displaced:
				way := right
				if mirrored {
					way = [2]float64{-right[0], -right[1]}
				}
				if says = "letters to the right"; !along(way, [2]float64{1, 0}) {
					t.Fatalf("%s: the right is %v", p.Heading, right)
				}
			default:
				if !near(photosUpDeg(p), 0, 0.1) {
					t.Fatalf("%s: the photo's up points to %g°", p.Heading, photosUpDeg(p))
				}
			}
			if mirrored && says == "letters to the right" {
				says = "letters to the left"
			}
			if !strings.HasSuffix(p.Heading, ", "+says) {
				t.Fatalf("heading %q, want %q", p.Heading, says)
			}
			if turned && p.North != nil {
				t.Fatalf("north is drawn on a block turned over: %+v", p.North)
			}
		}
	})
}

// TestNothingContradictedTurns a plate: ends that a card's arrow contradicts, north told in two ways, squares against the sheets, a
// photo that its phone mirrored, a face that stands.
func TestNothingContradictedTurns(t *testing.T) {
	l := truth.LayDown(t, 30, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 170, HeadingDeg: 70}, 0)
	both := []figure.End{{End: "1", At: l.Photo(t, -20, 0)}, {End: "2", At: l.Photo(t, 20, 0)}}
	to := l.Photo(t, 0, -truth.Half)
	origin := &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to}
	edge := 200.0
	for name, c := range map[string]struct {
		marks figure.Marks
		with  func(*shot)
		want  string
	}{
		"north twice": {figure.Marks{Origin: origin, North: &figure.NorthArrow{Arrow: figure.Arrow{Tail: l.Photo(t, 0, 0), Head: l.Photo(t, 20, 0)}, Of: register.NorthTrue, From: "arrow set by RKA"}}, func(k *shot) {
			k.season.Register.SetUps[0].EdgeBearingDeg, k.season.Register.SetUps[0].BearingNorth = &edge, register.NorthTrue
		}, "letters to the right"},
		"mirrored photo": {figure.Marks{Ends: both, Origin: origin}, func(k *shot) { k.r.Codes = []look.Code{{Mirrored: true}} }, "up as in the photo"},
		"standing face":  {figure.Marks{Ends: both, Origin: origin}, func(k *shot) { k.season.Register.SetUps[0].Plane = "vertical" }, "up as in the photo"},
		"as the others":  {figure.Marks{Ends: both, Origin: origin}, func(k *shot) { k.turned = map[string]Way{"14": ByLetters} }, "letters to the right"},
		"as they cannot": {figure.Marks{Ends: both, Origin: origin}, func(k *shot) { k.turned = map[string]Way{"14": ByNorth} }, "end 1 up"},
	} {
		k := testTask(l.Plane, &c.marks, register.SetUp{Name: "S1"}, register.Find{FieldNumber: "14"})
		c.with(k)
		if p := k.plates()[0].Made; !strings.HasSuffix(p.Heading, ", "+c.want) {
			t.Errorf("%s: heading %q, want %q", name, p.Heading, c.want)
		}
	}
	// A card's arrow that points the other way than the marks.
	finds := []register.Find{{FieldNumber: "14"}}
	picture, _ := layout.Upright(l.Plane)
	lay := figure.Lay{Picture: picture}
	if deg, name, ok := figure.EndUp(lay, finds, both, &figure.EndArrow{Arrow: figure.Arrow{Tail: both[0].At, Head: both[1].At}, To: "1"}); ok {
		t.Errorf("ends that are contradicted turn the plate by %g°, %s up", deg, name)
	}
	if _, name, ok := figure.EndUp(lay, finds, both, &figure.EndArrow{Arrow: figure.Arrow{Tail: both[0].At, Head: both[1].At}, To: "2"}); !ok || name != "end 1" {
		t.Errorf("ends that agree: %q, %t", name, ok)
	}
}
