package overlay

import (
	"bytes"
	"errors"
	"image"
	"image/color"
	"math"
	"math/rand/v2"
	"strings"
	"testing"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

// grounds are what bars and lines have to be read on.
var grounds = map[string]func(x, y int) color.RGBA{
	"light": func(x, y int) color.RGBA { return color.RGBA{R: 236, G: 228, B: 210, A: 255} },
	"dark":  func(x, y int) color.RGBA { return color.RGBA{R: 38, G: 34, B: 32, A: 255} },
	"busy": func(x, y int) color.RGBA {
		r := rand.New(rand.NewPCG(uint64(x/9), uint64(y/7)))
		v := uint8(r.IntN(256))
		return color.RGBA{R: v, G: v, B: uint8(int(v) * 4 / 5), A: 255}
	},
}

// onGround gives a canvas whose picture is of one ground, and all else black.
func onGround(size image.Point, picture image.Rectangle, ground string) *image.RGBA {
	canvas := image.NewRGBA(image.Rectangle{Max: size})
	for y := picture.Min.Y; y < picture.Max.Y; y++ {
		for x := picture.Min.X; x < picture.Max.X; x++ {
			canvas.SetRGBA(x, y, grounds[ground](x, y))
		}
	}
	return canvas
}

// plateOn is the canvas of a plate.
func plateOn(p look.Plate, ground string) *image.RGBA {
	l := Arrange(p)
	return onGround(l.Size, l.Picture, ground)
}

func scaledPlate() look.Plate {
	bar := RoundBar(12, 960)
	return look.Plate{
		Picture:  look.Picture{WidthPx: 960, HeightPx: 640, PxPerCm: 12, PrintDPI: 152.4},
		Number:   "VC 07/26-B",
		Heading:  "gridded, 12 March 2026",
		Headline: "100 mm on this scale bar = 100.0 ± 1.4 mm at bone level (6 cm below the board)",
		Small:    "± U (k = 2, about 95 %); photo: 21.43 ± 0.05 px/cm in the middle of the board",
		Bar:      &bar,
		North:    &look.North{ClockwiseFromUpDeg: 32, Text: "TRUE NORTH", Source: "± 4° (k = 2): edge of set-up 2, 118° true"},
		Labels: []look.Label{
			{XPx: 140, YPx: 320, Side: "left", Text: "proximal end"},
			{XPx: 820, YPx: 260, Side: "right", Text: "distal end, broken off in the float block"},
			{XPx: 300, YPx: -3, Side: "top", Text: "1"}, {XPx: 306, YPx: -3, Side: "top", Text: "2"}, {XPx: 600, YPx: 20, Side: "top", Text: "3"},
			{XPx: 955, YPx: 500, Side: "bottom", Text: "rib in two pieces"},
		},
		Outline:     [][2]float64{{200, 150}, {700, 170}, {690, 520}, {190, 500}},
		OutlineText: "line: the measured area; outside it lengths are less sure",
		Rows: []look.Row{
			{Name: "jacket", Text: "VC 07/26-B"}, {Name: "finds", Text: "VC 07/26, VC 11/26"}, {Name: "taken", Text: "2026-03-12 14:02:11 -03:00"},
			{Name: "locality", Text: "no. 4"}, {Name: "view", Text: "gridded"},
			{Name: "assigned", Text: "folder or file name: the folder VC 07-26-B names the jacket; the board was laid by TK on the trampled surface beside the rib and levelled by eye"},
			{Name: "file", Text: "tk/IMG_0412.JPG, 5f3a09c1"},
		},
	}
}

func plainPlate() look.Plate {
	p := scaledPlate()
	p.Bar, p.North, p.Outline, p.OutlineText, p.Labels, p.Small = nil, nil, nil, "", nil, ""
	p.Picture.PxPerCm = 0
	p.Number = "no jacket"
	p.Stamp = "NO SCALE"
	p.Headline = "NO SCALE: checker: 12 of 54 corners found, need 20: retake squarer, the whole board in the picture"
	p.NoNorth = "NO BEARING: nothing in the picture tells it"
	return p
}

// TestPlates holds whole plates on three grounds.
func TestPlates(t *testing.T) {
	mirrored := scaledPlate()
	mirrored.Stamp = "AS SEEN FROM FIELD BOTTOM, MIRRORED"
	tall := plainPlate()
	tall.Picture.WidthPx, tall.Picture.HeightPx = 480, 900
	marked := scaledPlate()
	marked.Labels = []look.Label{{XPx: 140, YPx: 320, Side: "left", Text: "proximal end"}, {XPx: 820, YPx: 260, Side: "right", Text: "distal end"}}
	for i := range 5 {
		at := 100*float64(i) + 250
		marked.Labels = append(marked.Labels, look.Label{XPx: at, YPx: 150, Side: "top", Text: string(rune('A' + i)), Plain: true},
			look.Label{XPx: 200, YPx: at - 50, Side: "left", Text: string(rune('1' + i)), Plain: true})
	}
	marked.Lines = []look.Line{{Through: [][2]float64{{160, 300}, {500, 220}, {830, 240}, {800, 330}, {420, 400}}, Text: "bone here: femur"}}
	marked.Ups = []look.North{{ClockwiseFromUpDeg: 0, Text: "FIELD TOP", Source: "by TK"}, {ClockwiseFromUpDeg: 215, Text: "WAY UP of the beds", Source: "by TK"},
		{ClockwiseFromUpDeg: 90, Text: "CARRY THIS SIDE UP", Source: "by TK"}}
	pale := scaledPlate()
	pale.Pale, pale.Labels, pale.Outline, pale.OutlineText, pale.Rows = true, nil, nil, "", nil
	for name, c := range map[string]struct {
		plate  look.Plate
		ground string
	}{
		"marked_light":  {marked, "light"},
		"marked_dark":   {marked, "dark"},
		"marked_busy":   {marked, "busy"},
		"pale_busy":     {pale, "busy"},
		"scaled_light":  {scaledPlate(), "light"},
		"scaled_dark":   {scaledPlate(), "dark"},
		"scaled_busy":   {scaledPlate(), "busy"},
		"mirrored_busy": {mirrored, "busy"},
		"plain_dark":    {plainPlate(), "dark"},
		"tall_light":    {tall, "light"},
	} {
		t.Run(name, func(t *testing.T) {
			canvas := plateOn(c.plate, c.ground)
			if err := Draw(canvas, c.plate); err != nil {
				t.Fatal(err)
			}
			golden(t, name, canvas)
			again := plateOn(c.plate, c.ground)
			if err := Draw(again, c.plate); err != nil || !bytes.Equal(again.Pix, canvas.Pix) {
				t.Errorf("drawn twice, the bytes differ (%v)", err)
			}
		})
	}
}

func TestDrawRefuses(t *testing.T) {
	for name, c := range map[string]struct {
		change func(*look.Plate)
		want   string
	}{
		"letter":  {func(p *look.Plate) { p.Rows[1].Text = "bone 🦴" }, "U+1F9B4"},
		"label":   {func(p *look.Plate) { p.Labels[0].Text = "化" }, "U+5316"},
		"bar end": {func(p *look.Plate) { p.Bar.Text = "10 ㎝" }, "U+339D"},
		"side":    {func(p *look.Plate) { p.Labels[0].Side = "middle" }, "want top, right, bottom or left"},
		"outline": {func(p *look.Plate) { p.Outline[0][0] = math.NaN() }, "finite"},
		"north":   {func(p *look.Plate) { p.North.ClockwiseFromUpDeg = math.Inf(1) }, "finite"},
		"up":      {func(p *look.Plate) { p.Ups = []look.North{{ClockwiseFromUpDeg: math.NaN()}} }, "finite"},
		"line":    {func(p *look.Plate) { p.Lines = []look.Line{{Through: [][2]float64{{0, math.Inf(1)}}}} }, "finite"},
		"bar":     {func(p *look.Plate) { p.Bar.Blocks = 0 }, "want 1 to 20 blocks"},
		"crowd": {func(p *look.Plate) {
			for range 60 {
				p.Labels = append(p.Labels, look.Label{Side: "top", Text: "twelve words"})
			}
		}, "labels on the top side"},
		"long bar": {func(p *look.Plate) { p.Bar.PxPerCm *= 8 }, "scale bar of"},
	} {
		t.Run(name, func(t *testing.T) {
			p := scaledPlate()
			p.Rows = append([]look.Row{}, p.Rows...)
			c.change(&p)
			err := Draw(plateOn(p, "light"), p)
			if err == nil || !strings.Contains(err.Error(), c.want) {
				t.Errorf("got %v, want an error with %q", err, c.want)
			}
		})
	}
	err := Draw(image.NewRGBA(image.Rect(0, 0, 50, 50)), scaledPlate())
	if err == nil || !strings.Contains(err.Error(), "canvas is") {
		t.Errorf("canvas of another size: %v", err)
	}
	var lacking *letters.Lacking
	p := plainPlate()
	p.Number = "𝟙"
	if err := Draw(plateOn(p, "light"), p); !errors.As(err, &lacking) || lacking.Rune != '𝟙' {
		t.Errorf("number: %v", err)
	}
}

// Nothing but the line of the measured area and the leaders touches the picture, and without them nothing does.
func TestPictureIsLeftAlone(t *testing.T) {
	for name, p := range map[string]look.Plate{"plain": plainPlate(), "scaled": scaledPlate()} {
		p.Outline, p.Labels = nil, nil
		canvas, before := plateOn(p, "busy"), plateOn(p, "busy")
		if err := Draw(canvas, p); err != nil {
			t.Fatal(err)
		}
		r := Arrange(p).Picture
		for y := r.Min.Y; y < r.Max.Y; y++ {
			for x := r.Min.X; x < r.Max.X; x++ {
				if canvas.RGBAAt(x, y) != before.RGBAAt(x, y) {
					t.Fatalf("%s: pixel (%d, %d) of the picture is drawn over", name, x-r.Min.X, y-r.Min.Y)
				}
			}
		}
	}
}
