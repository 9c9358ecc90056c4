//go:build cgo && trials

package vision

import (
	"fmt"
	"math"
	"math/rand/v2"
	"testing"

	"gonum.org/v1/gonum/stat"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// TestTrialsPlaces photographs one set-up from twelve places: the same lengths, between the same places on the strings' plane and
// on the ground below, must come out alike from photo to photo, and right, within what U says.
func TestTrialsPlaces(t *testing.T) {
	OneThread()
	first, _ := trialSeeds()
	rng := rand.New(rand.NewPCG(first, 0x706c61636573))
	s := stringScene(rng, 10)
	g := &s.Grids[0]
	g.OffMarksCm, g.OverCm, g.ZCm = 0.1, 0.2, 5
	g.String = scene.String{ThickCm: 0.25, Colour: stringColours[0], SagCm: 0.2, BowCm: 0.1, Knots: 0.3, Twist: 1}
	s.Camera.WidthPx, s.Camera.HeightPx = 1200, 900
	var ends [8][4]float64 // from (u, v) to (u, v) on the grid, cm
	for i := range ends {
		for {
			for k := range ends[i] {
				ends[i][k] = 80*rng.Float64() - 40
			}
			if math.Hypot(ends[i][2]-ends[i][0], ends[i][3]-ends[i][1]) > 25 {
				break
			}
		}
	}
	ref := calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}
	belows := [2]float64{0, g.ZCm}
	var lengths, us [2][len(ends)][]float64 // by level and length, of every photo
	for i := range 12 {
		s.Camera.HeadingDeg, s.Camera.TiltDeg = 30*float64(i), 8+34*float64(i*5%12)/11
		s.Camera.RollDeg, s.Camera.DistanceCm = 20*rng.Float64(), 115+30*rng.Float64()
		p, truth := shoot(t, s)
		found := findGrid(p, ref, p.Camera(), 1)
		camera := p.Camera()
		p.Close()
		if found.Refused != nil {
			t.Errorf("place %d: %v", i+1, found.Refused)
			continue
		}
		plane, err := calibrate.FitReference(ref, camera, found.Marks)
		if err != nil {
			t.Errorf("place %d: %v", i+1, err)
			continue
		}
		grid := truth.Planes[len(truth.Planes)-1]
		for k, below := range belows {
			level, err := plane.At(below)
			if err != nil {
				t.Errorf("place %d: %v", i+1, err)
				continue
			}
			for n, e := range ends {
				a, ok := grid.Photo(e[0], e[1], below)
				b, ok2 := grid.Photo(e[2], e[3], below)
				q, err := level.LengthCm(a, b)
				if err != nil || !ok || !ok2 {
					t.Errorf("place %d, length %d: %v", i+1, n+1, err)
					continue
				}
				lengths[k][n], us[k][n] = append(lengths[k][n], q.Value), append(us[k][n], q.U)
			}
		}
	}
	fmt.Printf("%-34s %6s | %8s %8s %8s | %8s %7s\n", "twelve places", "photos", "spread %", "most %", "U %", "error %", "inside")
	for k, level := range []string{"in the strings' plane", "on the ground below"} {
		var spread, u, errs []float64
		inside, all, most := 0, 0, 0.0
		for n, e := range ends {
			truth := math.Hypot(e[2]-e[0], e[3]-e[1])
			spread, u = append(spread, 100*stat.StdDev(lengths[k][n], nil)/truth), append(u, 100*stat.Mean(us[k][n], nil)/truth)
			most = max(most, spread[n])
			for i, cm := range lengths[k][n] {
				errs, all = append(errs, 100*math.Abs(cm-truth)/truth), all+1
				if math.Abs(cm-truth) <= us[k][n][i] {
					inside++
				}
			}
			if !(spread[n] <= u[n]/2) {
				t.Errorf("%s, length %d of %.1f cm: spread %.3f %% between photos, standard uncertainty %.3f %%", level, n+1, truth, spread[n], u[n]/2)
			}
		}
		fmt.Printf("%-34s %6d | %8.3f %8.3f %8.3f | %8.3f %6.1f%%\n", level, len(lengths[k][0]), atShare(spread, 0.5), most, atShare(u, 0.5), atShare(errs, 0.5), 100*float64(inside)/float64(max(1, all)))
		if float64(inside) < 0.9*float64(all) || all == 0 {
			t.Errorf("%s: %d of %d lengths within U", level, inside, all)
		}
	}
}
