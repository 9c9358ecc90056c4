package plate

import (
	"fmt"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// TestTheBarHoldsOnBoneSeenAskew: a plate's scale bar at the depth to bone is that of lengths which truly lie there, within U as the
// headline says it, however far the phone was tilted; and what a bone reads too short below the strings is the truth's too.
func TestTheBarHoldsOnBoneSeenAskew(t *testing.T) {
	rng := rand.New(rand.NewPCG(3, 19))
	for _, tilt := range []float64{0, 15, 30, 45, 55} {
		l := truth.LayDown(t, 20, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 200, TiltDeg: tilt, HeadingDeg: 30}, 0)
		for _, depth := range []float64{5, 15} {
			p := testTask(l.Plane, nil, register.SetUp{Name: "S1", DepthToBoneCm: &depth}, register.Find{FieldNumber: "14"}).plate("14", false)
			var u float64
			if _, err := fmt.Sscanf(p.Headline[strings.Index(p.Headline, "±"):], "± %f", &u); err != nil {
				t.Fatal(p.Headline, err)
			}
			for range 20 {
				mu, mv, way := 60*rng.Float64()-30, 60*rng.Float64()-30, 2*math.Pi*rng.Float64()
				var px [2][2]float64
				for i, s := range []float64{-10, 10} {
					at, ok := l.Truth.Photo(mu+s*math.Cos(way), mv+s*math.Sin(way), depth)
					if !ok {
						t.Fatal("behind the camera")
					}
					px[i][0], px[i][1], _ = placeOn(p, at)
				}
				reads := math.Hypot(px[1][0]-px[0][0], px[1][1]-px[0][1]) / p.Bar.PxPerCm // by the bar, of 20 cm
				if off := 100 * math.Abs(reads/20-1); off > u {
					t.Errorf("tilt %g, %g cm deep: 20 cm on bone read %.2f by the bar, off by %.2f %%; %s", tilt, depth, reads, off, p.Headline)
					break
				}
			}
		}
	}
}

// placeOn is where a photo point lies on a plate.
func placeOn(p look.Plate, at calibrate.Point) (x, y float64, ok bool) {
	return figure.Lay{Picture: p.Picture}.Plate(at)
}
