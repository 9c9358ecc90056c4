package plate

import (
	"math"
	"strings"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

func near(a, b, by float64) bool { return math.Abs(math.Remainder(a-b, 360)) <= by }

// TestPlatesTellTheTruth holds north, ends, squares and the mirror to the scene, from all four sides, however the finder
// numbered the strings, whichever north the edge's bearing counts from, as seen from above and from below.
func TestPlatesTellTheTruth(t *testing.T) {
	rapid.Check(t, func(t *rapid.T) {
		side := rapid.IntRange(0, 3).Draw(t, "side")
		l := truth.LayDown(t, rapid.Float64Range(0, 360).Draw(t, "turn"), scene.Camera{
			WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, K1: rapid.Float64Range(-0.02, 0.02).Draw(t, "k1"), DistanceCm: 170,
			TiltDeg: rapid.Float64Range(0, 20).Draw(t, "tilt"), HeadingDeg: float64(90 * side), RollDeg: rapid.Float64Range(-40, 40).Draw(t, "roll"),
		}, rapid.IntRange(0, 7).Draw(t, "relabel"))
		downward := rapid.Bool().Draw(t, "letters run down v")
		declination, convergence := rapid.Float64Range(-40, 40).Draw(t, "declination"), rapid.Float64Range(-3, 3).Draw(t, "convergence")
		of := rapid.SampledFrom([]register.North{register.NorthTrue, register.NorthMagnetic, register.NorthGrid}).Draw(t, "of")

		along := [2]float64{1, 0}
		if downward {
			along = [2]float64{0, 1}
		}
		typed := l.Bearing(along[0], along[1])
		switch of {
		case register.NorthMagnetic:
			typed -= declination
		case register.NorthGrid:
			typed -= convergence
		}
		ends := [2][2]float64{{rapid.Float64Range(-40, -5).Draw(t, "au"), rapid.Float64Range(-40, 40).Draw(t, "av")}, {rapid.Float64Range(5, 40).Draw(t, "bu"), rapid.Float64Range(-40, 40).Draw(t, "bv")}}
		axis := l.Bearing(ends[1][0]-ends[0][0], ends[1][1]-ends[0][1])
		swapped := rapid.Bool().Draw(t, "ends swapped")
		to := l.Photo(t, -truth.Half+30*along[0], -truth.Half+30*along[1])
		marks := figure.Marks{
			Origin: &figure.Origin{Corner: l.Photo(t, -truth.Half, -truth.Half), LettersTo: &to},
			Ends:   []figure.End{{End: "1", At: l.Photo(t, ends[0][0], ends[0][1])}, {End: "2", At: l.Photo(t, ends[1][0], ends[1][1])}},
		}
		if swapped {
			marks.Ends[0].At, marks.Ends[1].At = marks.Ends[1].At, marks.Ends[0].At
		}
		k := testTask(l.Plane, &marks, register.SetUp{Name: "S1", EdgeBearingDeg: &typed, BearingNorth: of, Cells: &register.Cells{Across: 10, Down: 10}},
			register.Find{FieldNumber: "14", EndA: "proximal", EndB: "distal", AxisBearingAToBDeg: &axis, BearingNorth: register.NorthTrue})
		k.season.norths = inventedNorths(declination, convergence)
		plates := k.plates()
		if len(plates) != 2 {
			t.Fatalf("%d plates of a jacket that is turned over, want 2", len(plates))
		}
		for i, made := range plates {
			p := made.Made
			mirrored := i == 1
			if (p.Stamp == fromBottom) != mirrored || strings.Contains(made.File, "mirrored") != mirrored {
				t.Fatalf("plate %d: stamp %q, file %s", i, p.Stamp, made.File)
			}
			cx, cy := float64(p.Picture.WidthPx)/2, float64(p.Picture.HeightPx)/2
			u0, v0 := l.Truly(t, p, cx, cy)
			ux, vx := l.Truly(t, p, cx+1, cy)
			uy, vy := l.Truly(t, p, cx, cy+1)
			if hand := (ux-u0)*(vy-v0) - (vx-v0)*(uy-u0); hand < 0 != mirrored {
				t.Fatalf("plate %d, stamp %q, is %g: mirrored where it should not be, or the reverse", i, p.Stamp, hand)
			}
			if p.North == nil || p.North.Text != "TRUE NORTH" {
				t.Fatalf("north %v, %q", p.North, p.NoNorth)
			}
			sin, cos := math.Sincos(p.North.ClockwiseFromUpDeg * math.Pi / 180)
			un, vn := l.Truly(t, p, cx+50*sin, cy-50*cos)
			if got := l.Bearing(un-u0, vn-v0); !near(got, 0, 0.5) {
				t.Fatalf("the arrow points to %g° true (from %s, mirrored %t)", got, of, mirrored)
			}
			squares, tips := 0, 0
			for _, label := range p.Labels {
				u, v := l.Truly(t, p, label.XPx, label.YPx)
				switch {
				case label.Plain:
					squares++
					a, c := (u+truth.Half)/10, (v+truth.Half)/10
					if downward {
						a, c = c, a
					}
					at, name := c, label.Text
					want := string(rune('1' + int(at)))
					if int(at) == 9 {
						want = "10"
					}
					if name[0] >= 'A' {
						at, want = a, string(rune('A'+int(a)))
					}
					if name != want || math.Abs(at-math.Floor(at)-0.5) > 0.2 {
						t.Fatalf("square %s stands at %.2f squares along the letters, %.2f across", name, a, c)
					}
				case label.Text == "proximal end" || label.Text == "distal end":
					tips++
					want := ends[0]
					if label.Text == "distal end" {
						want = ends[1]
					}
					if math.Hypot(u-want[0], v-want[1]) > 0.5 {
						t.Fatalf("%s stands at (%.1f, %.1f), want %v", label.Text, u, v, want)
					}
				default:
					t.Fatalf("label %q", label.Text)
				}
			}
			if want := map[bool]int{false: 2, true: 0}[swapped]; squares != 20 || tips != want {
				t.Fatalf("%d squares and %d ends are named, want 20 and %d; rows %v", squares, tips, want, p.Rows)
			}
		}
		if told := len(k.doubts) == 1; told != swapped {
			t.Fatalf("ends swapped: %t, doubts %q", swapped, k.doubts)
		}
	})
}

// inventedNorths are the same everywhere and on every day.
func inventedNorths(declinationDeg, convergenceDeg float64) func(*record.Record, string) figure.Norths {
	return func(*record.Record, string) figure.Norths {
		return figure.Norths{DeclinationDeg: &calibrate.Quantity{Value: declinationDeg, U: 1}, ConvergenceDeg: &calibrate.Quantity{Value: convergenceDeg}, Source: "invented"}
	}
}

// testTask is a gridded photo of jacket 14, lifted, in set-up S1.
func testTask(plane *calibrate.Plane, marks *figure.Marks, u register.SetUp, f register.Find) *shot {
	u.Jackets = []string{"14"}
	reg := &register.Register{
		Finds: []register.Find{f}, SetUps: []register.SetUp{u},
		Jackets: []register.Jacket{{Number: "14", Finds: []string{f.FieldNumber}, Stage: register.Lifted}},
	}
	r := &record.Record{Belongs: assign.Belongs{Jackets: []string{"14"}, View: register.ViewGridded}}
	r.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: plane}}
	return &shot{season: &season{Register: reg}, said: marks, r: r}
}
