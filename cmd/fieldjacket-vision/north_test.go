//go:build cgo

package main

import (
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"testing"

	"github.com/disintegration/imaging"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/card"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/overlay"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// TestCardsNorthInPhotos photographs a card and a board at another level from four sides, has the handler look for both, and
// holds the north that the card's arrow gives on either plate, seen from above and mirrored, to the scene's within a degree;
// and the card's squares in the drawn plate to the place and hand that they truly have.
func TestCardsNorthInPhotos(t *testing.T) {
	path := filepath.Join(t.TempDir(), "photo.jpg")
	const laidDeg, declination = 37.0, 8.5 // the arrow lies to magnetic north, which is so far east of true
	check := 100.0
	refs := []calibrate.Reference{{Kind: calibrate.KindCard, Card: 7, CheckLineMm: &check}, {Kind: calibrate.KindChecker, SquaresAcross: 7, SquaresDown: 5, SquareCm: 2}}
	norths := figure.Norths{DeclinationDeg: &calibrate.Quantity{Value: declination}, Source: "invented"}
	for side := range 4 {
		boardDeg := float64(120 + 50*side)
		s := scene.Scene{
			Seed:   uint64(side),
			Ground: scene.Ground{RoughCm: 1, PebblesPerM2: 40},
			Light:  scene.Light{SunFromDeg: -50, SunHighDeg: 42},
			Camera: scene.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26, DistanceCm: 60, TiltDeg: 18, HeadingDeg: float64(90 * side), RollDeg: float64(10 * side)},
			Checkers: []scene.Checker{{Pose: scene.Pose{XCm: -11, YCm: -3, ZCm: 1.5, TurnDeg: boardDeg}, Across: 7, Down: 5, SquareCm: 2,
				MarginCm: 1, ThickCm: 0.3}},
			Cards: []scene.Card{{Pose: scene.Pose{XCm: 9, YCm: 4, ZCm: 4, TurnDeg: laidDeg}, Number: 7, MarginCm: 2, ThickCm: 0.1}},
		}
		img, truth := s.Render()
		f, err := os.Create(path)
		if err != nil {
			t.Fatal(err)
		}
		if err := jpeg.Encode(f, img, &jpeg.Options{Quality: 92}); err != nil {
			t.Fatal(err)
		}
		f.Close()
		h := handler{}
		defer h.close()
		source := look.Source{Path: path, Orientation: 1, WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26}
		reply, err := h.look(&look.LookRequest{Source: source, References: refs})
		if err != nil {
			t.Fatal(err)
		}
		var planes []*calibrate.Plane
		for i, found := range reply.Look.Found {
			if found.Refused != nil {
				t.Fatalf("side %d: %s", side, found.Refused.Reason)
			}
			plane, err := calibrate.FitReference(refs[i], calibrate.Camera{WidthPx: 1600, HeightPx: 1200, Focal35Mm: 26}, found.Marks)
			if err != nil {
				t.Fatalf("side %d: %v", side, err)
			}
			planes = append(planes, plane)
		}
		from, to, ok := planes[0].CardArrow()
		if !ok {
			t.Fatalf("side %d: no arrow", side)
		}
		arrow := []figure.NorthArrow{{Arrow: figure.Arrow{Tail: from, Head: to}, Of: register.NorthMagnetic, From: "card 7's arrow"}}
		for i, plane := range planes {
			on, onDeg := truth.Planes[1], laidDeg
			if i == 1 {
				on, onDeg = truth.Planes[0], boardDeg
			}
			u, v := plane.MiddleCm()
			upright := figure.Lay{Picture: look.Picture{WidthPx: 1200, HeightPx: 1200, PxPerCm: 20, Plane: plane, From: [6]float64{0.05, 0, u - 30, 0, 0.05, v - 30}}}
			for _, l := range []figure.Lay{upright, upright.Mirror()} {
				north, why := figure.North(l, arrow, nil, norths)
				if north == nil {
					t.Fatalf("side %d: %s", side, why)
				}
				sin, cos := math.Sincos(north.TurnDeg * math.Pi / 180)
				at := func(x, y float64) (u, v float64) {
					g := l.Picture.From
					level, _ := plane.At(0)
					p, _ := level.Photo(g[0]*x+g[1]*y+g[2], g[3]*x+g[4]*y+g[5])
					u, v, _ = on.Cm(p, 0)
					return u, v
				}
				u0, v0 := at(600, 600)
				u1, v1 := at(600+100*sin, 600-100*cos)
				got := math.Atan2(v1-v0, u1-u0)*180/math.Pi + 90 + onDeg
				off := math.Remainder(got-(laidDeg-declination), 360)
				t.Logf("side %d, plate of %s, mirrored %t: %.3f degrees off", side, refs[i].Kind, l.Mirrored, off)
				if i == 0 {
					out := filepath.Join(filepath.Dir(path), "plate.jpg")
					request := look.DrawRequest{Source: source, Plate: look.Plate{Number: "14", Picture: l.Picture, North: north.Arrow()}, Out: out}
					if _, err := h.draw(&request); err != nil {
						t.Fatal(err)
					}
					if wrong := squaresWrong(t, out, request.Plate, l, truth.Planes[1]); wrong > 0 {
						t.Errorf("side %d, mirrored %t: %d squares of the card are drawn where they are not", side, l.Mirrored, wrong)
					}
				}
				if math.Abs(off) > 1 || north.Of != register.NorthTrue {
					t.Errorf("side %d, plate of %s, mirrored %t: %s north %.2f degrees off", side, refs[i].Kind, l.Mirrored, north.Of, off)
				}
			}
		}
	}
}

// squaresWrong counts the squares of card 7 that a drawn plate does not show where they truly are: each dark, light, or with a dot in its middle.
func squaresWrong(t *testing.T, file string, p look.Plate, l figure.Lay, truth scene.Plane) (wrong int) {
	t.Helper()
	plate, err := imaging.Open(file)
	if err != nil {
		t.Fatal(err)
	}
	corner := overlay.Arrange(p).Picture.Min
	const square = card.SquareMm / 10
	for r := range card.Cards.Rows {
		for c := range card.Cards.Columns {
			cell := card.Cell{T: c, R: r}
			at, ok := truth.Photo((float64(c)+0.5)*square-truth.HalfUCm, (float64(r)+0.5)*square-truth.HalfVCm, 0)
			x, y, ok2 := l.Plate(at)
			if !ok || !ok2 || !l.Inside(x, y) {
				t.Fatal("the card is not in the picture")
			}
			grey := color.GrayModel.Convert(plate.At(corner.X+int(x+0.5), corner.Y+int(y+0.5))).(color.Gray).Y
			if (grey < 100) != (cell.Dark() || card.Cards.Dot(7, cell)) {
				wrong++
			}
		}
	}
	return wrong
}
