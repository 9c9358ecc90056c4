package scene_test

import (
	"math"
	"slices"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/scene"
)

// TestShadowsFollowTheRelief: the shadow of each piece of string is drawn, from above and from aside, where the sun's ray past the
// string meets the ground at the depth that the relief tells.
func TestShadowsFollowTheRelief(t *testing.T) {
	s := strung()
	s.Ground = scene.Ground{Rock: scene.Colour{0.4, 0.4, 0.4}, RoughCm: 4}
	s.Light = scene.Light{SunFromDeg: -60, SunHighDeg: 50, Sky: scene.Colour{0.02, 0.02, 0.02}}
	s.Grids[0].ZCm, s.Grids[0].String.ThickCm, s.Grids[0].ShadowOnly = 9, 0.4, true
	s.Film.ExposureEV = 0
	s.Camera.K1, s.Camera.AimZCm = 0, 0
	sin, cos := math.Sincos(8 * math.Pi / 180) // the frame's turn
	high, from := 50*math.Pi/180, -60*math.Pi/180
	for n, place := range [][2]float64{{3, 20}, {34, 60}} {
		s.Camera.TiltDeg, s.Camera.HeadingDeg = place[0], place[1]
		img, truth := s.Render()
		p, relief := truth.Planes[0], s.Relief()
		bare := s
		bare.Grids = nil
		lit, _ := bare.Render()
		for i := range img.Pix { // what the shadow takes away
			img.Pix[i] = lit.Pix[i] - min(img.Pix[i], lit.Pix[i])
		}
		// shadow is where the shadow of (u, v) is drawn, and how deep below the plane it falls
		shadow := func(u, v float64) (calibrate.Point, float64) {
			x, y, below := u*cos-v*sin, -u*sin-v*cos, 0.0
			dx, dy := -math.Sin(from)/math.Tan(high), -math.Cos(from)/math.Tan(high)
			for ; 9-below > relief.HeightCm(x+below*dx, y+below*dy); below += 0.002 {
			}
			x, y = x+below*dx, y+below*dy
			at, _ := p.Photo(x*cos-y*sin, -x*sin-y*cos, below)
			if d := p.DepthCm(relief, x*cos-y*sin, -x*sin-y*cos); math.Abs(d-below) > 0.01 {
				t.Errorf("the ground lies %.3f cm below (%.1f, %.1f), the shadow falls %.3f cm deep", d, u, v, below)
			}
			return at, below
		}
		var offs []float64
		least, most := math.Inf(1), math.Inf(-1)
		for i, m := range p.Marks {
			if i%7 == 6 {
				continue
			}
			u, v := m.UCm+5, m.VCm
			at, below := shadow(u, v)
			a, _ := shadow(u-0.7, v)
			b, _ := shadow(u+0.7, v)
			least, most = min(least, below), max(most, below)
			if off, ok := middleOfLine(img, at, a, b); ok {
				offs = append(offs, math.Abs(off))
			}
		}
		median := medianOf(offs)
		t.Logf("place %d: %d places in shadows, median %.2f px off, from %.1f to %.1f cm deep", n+1, len(offs), median, least, most)
		if len(offs) < 15 || median > 0.7 || most-least < 4 {
			t.Errorf("place %d: %d places in shadows, median %.2f px off, want at most 0.7", n+1, len(offs), median)
		}
	}
}

// TestSquaresAreAsDeepAsTheGround: over flat ground every square is as deep as the strings are high, however the frame is turned; a
// bone makes the squares over it shallower by what it stands out.
func TestSquaresAreAsDeepAsTheGround(t *testing.T) {
	s := strung()
	p := s.Truth().Planes[0]
	for _, q := range p.Squares(s.Relief()) {
		if math.Abs(q.DepthCm-6) > 0.01 || q.MostCm-q.LeastCm > 0.01 {
			t.Errorf("square %d, %d is %.3f cm deep, from %.3f to %.3f; want 6", q.Across, q.Down, q.DepthCm, q.LeastCm, q.MostCm)
		}
	}
	s.Grids[0].TurnDeg = 0
	s.Bones = []scene.Bone{{XCm: -25, YCm: 20, LengthCm: 8, ThickCm: 3}} // in the square that is first both ways
	p = s.Truth().Planes[0]
	squares := p.Squares(s.Relief())
	if len(squares) != 30 || squares[0].Across != 0 || squares[29].Down != 4 {
		t.Fatalf("%d squares, want 6 x 5 row by row", len(squares))
	}
	if q := squares[0]; q.LeastCm > 4.6 || q.LeastCm < 3.8 || q.DepthCm > 5.8 {
		t.Errorf("under the bone's square: %+v; want a least depth of 6 cm less the bone's 1.5 to 2 cm", q)
	}
	if q := squares[29]; math.Abs(q.DepthCm-6) > 0.01 {
		t.Errorf("far from the bone: %+v; want 6 cm", q)
	}
}

func medianOf(v []float64) float64 {
	slices.Sort(v)
	return v[len(v)/2]
}
