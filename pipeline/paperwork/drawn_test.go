package paperwork

import (
	"math"
	"strconv"
	"testing"

	"pgregory.net/rapid"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/sheet"
)

// TestSquaresKeepTheirNames: on whatever part of a plate, however the grid lies on it, each name in the margin stands where its row or
// column of squares leaves the part, and none stands twice.
func TestSquaresKeepTheirNames(t *testing.T) {
	named := 0
	rapid.Check(t, func(t *rapid.T) {
		at := func(name string, lo, hi float64) float64 { return rapid.Float64Range(lo, hi).Draw(t, name) }
		d := Drawn{Picture: sheet.Area{X0: 100, Y0: 200, X1: 3100, Y1: 2400}, Strings: true}
		across, down := rapid.IntRange(2, 12).Draw(t, "across"), rapid.IntRange(2, 12).Draw(t, "down")
		sin, cos := math.Sincos(at("turn", 0, 2*math.Pi))
		side, hand := at("side", 60, 250), float64(rapid.SampledFrom([]int{-1, 1}).Draw(t, "hand"))
		ox, oy := at("ox", 100, 3100), at("oy", 200, 2400)
		square := func(a, b float64) [2]float64 { // squares along the letters, and along the numbers, from the origin corner
			return [2]float64{ox + side*(a*cos-hand*b*sin), oy + side*(a*sin+hand*b*cos)}
		}
		where := func(x, y float64) (a, b float64) {
			x, y = (x-ox)/side, (y-oy)/side
			return x*cos + y*sin, hand * (y*cos - x*sin)
		}
		add := func(text string, p [2]float64) {
			d.Labels = append(d.Labels, look.Label{XPx: p[0], YPx: p[1], Side: "top", Text: text, Plain: true})
		}
		for i := range across {
			add(string(rune('A'+i)), square(float64(i)+0.5, 0))
		}
		for i := range down {
			add(strconv.Itoa(i+1), square(0, float64(i)+0.5))
		}
		part := sheet.Area{X0: at("x0", 100, 2000), Y0: at("y0", 200, 1500)}
		part.X1, part.Y1 = part.X0+at("w", 300, 1100), part.Y0+at("h", 300, 900)
		seen := map[string]bool{}
		for _, tag := range d.tags(part) {
			if seen[tag.Text] {
				t.Fatalf("%s stands twice", tag.Text)
			}
			seen[tag.Text] = true
			if tag.X < part.X0 || tag.X > part.X1 || tag.Y < part.Y0 || tag.Y > part.Y1 {
				t.Fatalf("%s stands outside the part", tag.Text)
			}
			a, b := where(tag.X, tag.Y)
			in, want := a, float64(tag.Text[0]-'A')
			if n, err := strconv.Atoi(tag.Text); err == nil {
				in, want = b, float64(n-1)
			}
			if math.Abs(in-want-0.5) > 0.01 {
				t.Fatalf("%s stands %.2f squares from the corner, want %.2f", tag.Text, in, want+0.5)
			}
			named++
		}
	})
	if named < 100 {
		t.Errorf("only %d names were looked at", named)
	}
}

// TestDirectionsOfEndsStayDirections: an end that only a bearing tells stands where that direction leaves the part, and counts as no
// place.
func TestDirectionsOfEndsStayDirections(t *testing.T) {
	d := Drawn{Picture: sheet.Area{X0: 0, Y0: 0, X1: 2000, Y1: 1000}, Strings: true, Measured: [][2]float64{{800, 300}, {1200, 300}, {1200, 700}, {800, 700}}, Labels: []look.Label{
		{XPx: 0, YPx: 500, Side: "left", Text: "A (by its bearing)"}, {XPx: 2000, YPx: 500, Side: "right", Text: "B (by its bearing)"},
	}}
	if places := d.ends(); places != nil {
		t.Errorf("directions count as places: %v", places)
	}
	part := d.bone()
	if part.X0 != 800 || part.X1 != 1200 {
		t.Errorf("the part goes by the directions: %+v", part)
	}
	tags := d.tags(part)
	if len(tags) != 2 || tags[0].Side != "left" || tags[0].X != 800 || tags[1].Side != "right" || tags[1].X != 1200 || tags[1].Y != 500 || !tags[1].Bold {
		t.Errorf("%+v", tags)
	}
}
