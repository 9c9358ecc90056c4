package overlay

import (
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"testing"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

// photocopy is a poor copy: grey by the luma of ITU-R BT.601 (color.GrayModel), noise with a deviation of a fifth of the
// range, then black or white by the middle. How bad a copier gets is common practice, no source.
func photocopy(canvas *image.RGBA, seed uint64) *image.Gray {
	r := rand.New(rand.NewPCG(seed, 1))
	copied := image.NewGray(canvas.Rect)
	for y := range canvas.Rect.Dy() {
		for x := range canvas.Rect.Dx() {
			grey := float64(color.GrayModel.Convert(canvas.RGBAAt(x, y)).(color.Gray).Y)
			if grey+51*r.NormFloat64() >= 128 {
				copied.SetGray(x, y, color.Gray{Y: 255})
			}
		}
	}
	return copied
}

// lightShare is the share of light pixels in a rectangle.
func lightShare(copied *image.Gray, r image.Rectangle) float64 {
	light := 0
	for y := r.Min.Y; y < r.Max.Y; y++ {
		for x := r.Min.X; x < r.Max.X; x++ {
			if copied.GrayAt(x, y).Y > 0 {
				light++
			}
		}
	}
	return float64(light) / float64(r.Dx()*r.Dy())
}

// blockContrast is the least difference of light between two neighbouring blocks of a bar whose blocks begin at x.
func blockContrast(copied *image.Gray, x, y, block, tall, blocks int) float64 {
	least, before := 1.0, 0.0
	for i := range blocks {
		share := lightShare(copied, image.Rect(x+i*block+2, y+2, x+(i+1)*block-2, y+tall-2))
		if i > 0 {
			least = min(least, math.Abs(share-before))
		}
		before = share
	}
	return least
}

const leastContrast = 0.9

// On a poor photocopy every block of the bar still differs from the next, whatever it lies on. Two greys would not do.
func TestBarSurvivesThePhotocopier(t *testing.T) {
	const perMm, block, blocks = 10, 60, 5
	tall := int(barTall * perMm)
	for name := range grounds {
		canvas := ground(name, 500, 120)
		newPen(canvas, perMm).bar(look.Bar{BlockCm: 2, Blocks: blocks, PxPerCm: block / 2}, 5, 5)
		if got := blockContrast(photocopy(canvas, 1), 50, 50, block, tall, blocks); got < leastContrast {
			t.Errorf("on %s two blocks differ by %.2f of their pixels, want %g", name, got, leastContrast)
		}
		for i := range blocks { // the measure itself fails a bar of two greys
			newPen(canvas, perMm).fill(color.RGBA{R: uint8(90 + 70*(i%2)), G: uint8(90 + 70*(i%2)), B: uint8(90 + 70*(i%2)), A: 255},
				float64(50+i*block), 50, block, float64(tall))
		}
		if got := blockContrast(photocopy(canvas, 1), 50, 50, block, tall, blocks); got >= leastContrast {
			t.Errorf("a bar of two greys passes with %.2f: the measure is blind", got)
		}
	}
}

// On a poor photocopy a line on the picture is still a dark core between two light bands, whatever it lies on, and dashes still have
// gaps. A line without its light bands would not show on dark rock.
func TestLinesSurviveThePhotocopier(t *testing.T) {
	const perMm, y = 8, 60
	across := [][2]float64{{20, y}, {480, y}}
	cross := func(copied *image.Gray, x0, x1 int) (core, bands float64) { // how dark the core is, how light what flanks it
		const flank = 3 // px from the middle to within a band
		return 1 - lightShare(copied, image.Rect(x0, y-1, x1, y+1)), (lightShare(copied, image.Rect(x0, y-flank, x1, y-flank+1)) + lightShare(copied, image.Rect(x0, y+flank-1, x1, y+flank))) / 2
	}
	for name := range grounds {
		canvas := ground(name, 500, 120)
		doubleLine(newPen(canvas, perMm).dc, across, false, perMm)
		if core, bands := cross(photocopy(canvas, 3), 20, 480); core < leastContrast || bands < leastContrast {
			t.Errorf("on %s a copied line is %.2f dark between %.2f light", name, core, bands)
		}
		dashed := ground(name, 500, 120)
		newPen(dashed, perMm).dashed([][2]float64{{20, y}, {480, y}, {480, 500}, {20, 500}})
		copied, dash, gap := photocopy(dashed, 4), float64(dashMm*perMm), float64(gapsMm*perMm)
		for i := range 7 {
			from := 20.5 + float64(i)*(dash+gap)
			core, bands := cross(copied, int(from)+1, int(from+dash)-1)
			emptyCore, emptyBands := cross(copied, int(from+dash)+1, int(from+dash+gap)-1)
			if core < 0.8 || bands < 0.8 || emptyCore > 0.8 && emptyBands > 0.8 {
				t.Errorf("on %s dash %d is %.2f dark between %.2f light, the gap behind it %.2f between %.2f", name, i+1, core, bands, emptyCore, emptyBands)
			}
		}
	}
	canvas := ground("dark", 500, 120) // the measure itself fails a line without light bands
	stroke(newPen(canvas, perMm).dc, across, false, black, 0.35*perMm)
	if _, bands := cross(photocopy(canvas, 3), 20, 480); bands >= leastContrast {
		t.Errorf("a black line on dark ground passes: the measure is blind")
	}
}

// The copied arrow still points north: its tip, the black half and the N keep their side.
func TestArrowSurvivesThePhotocopier(t *testing.T) {
	draw := func(deg float64) *image.RGBA {
		canvas := image.NewRGBA(image.Rect(0, 0, 400, 400))
		margins(canvas, image.Rectangle{})
		newPen(canvas, 10).north(20, 20, deg)
		return canvas
	}
	turns := []float64{0, 45, 90, 135, 180, 225, 270, 315}
	for _, deg := range turns {
		if got := turns[nearest(photocopy(draw(deg), 2), len(turns), func(i int) *image.RGBA { return draw(turns[i]) })]; got != deg {
			t.Errorf("the copy of an arrow at %g° looks most like one at %g°", deg, got)
		}
	}
}

// Every letter of a plate's smallest print is still told from all others after a copy, at the coarsest resolution of a plate.
func TestLettersSurviveThePhotocopier(t *testing.T) {
	const all = "0123456789ABCDEFGHKLMNPRSTUVWXYZabdeghkmnprstuwxyz±°/-"
	signs := []rune(all)
	draw := func(i int) *image.RGBA {
		canvas := image.NewRGBA(image.Rect(0, 0, 40, 40))
		margins(canvas, image.Rectangle{})
		newPen(canvas, leastPxMm).words(words{text: string(signs[i]), x: 1, y: 4, em: smallMm, weight: letters.Regular})
		return canvas
	}
	for i, sign := range signs {
		if got := signs[nearest(photocopy(draw(i), uint64(i)), len(signs), draw)]; got != sign {
			t.Errorf("the copy of %q looks most like %q", sign, got)
		}
	}
}

// nearest is which of n drawings a copy looks most like, by the light of their pixels.
func nearest(copied *image.Gray, n int, draw func(int) *image.RGBA) int {
	best, least := -1, math.Inf(1)
	for i := range n {
		drawn, off := draw(i), 0.0
		for y := range copied.Rect.Dy() {
			for x := range copied.Rect.Dx() {
				d := float64(drawn.RGBAAt(x, y).R) - float64(copied.GrayAt(x, y).Y)
				off += d * d
			}
		}
		if off < least {
			best, least = i, off
		}
	}
	return best
}
