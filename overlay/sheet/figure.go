package sheet

import (
	"math"

	"fieldjacket/overlay/letters"
)

// A Figure is a part of a plate's picture, cut out of its JPEG, at a round scale and with its words set anew.
type Figure struct {
	JPEG    []byte
	Part    Area    // of the JPEG, px
	PxPerCm float64 // of the thing shown, by its scale bar; 0: no scale, and the part is WideMm wide
	N       float64 // of 1:N
	WideMm  float64
	Tags    []Tag
}

// An Area is a rectangle in a JPEG's pixels, from its first corner to its second.
type Area struct {
	X0 float64 `json:"X0"`
	Y0 float64 `json:"Y0"`
	X1 float64 `json:"X1"`
	Y1 float64 `json:"Y1"`
}

// A Tag is a word in the figure's margin for a place of the picture.
type Tag struct {
	X, Y float64 // of the place, in the JPEG's pixels
	Side string  // the margin it stands in: top, right, bottom, left
	Text string
	Bold bool
}

// roundRatios are the n of 1:n that figures are printed at.
var roundRatios = []float64{1, 2, 5, 10, 20, 50, 100, 200, 500}

// Window cuts a part out of a picture for a room on the sheet: at the largest round scale, no larger than life, at which all of
// what must be seen finds room, and as much of the picture around its middle as the room holds.
func Window(picture, must Area, pxPerCm, wideMm, tallMm float64) (part Area, n float64) {
	n = roundRatios[len(roundRatios)-1]
	px := func(n float64) float64 { return pxPerCm * n / 10 } // px of the picture in a mm of the sheet
	for _, ratio := range roundRatios {
		if (must.X1-must.X0) <= wideMm*px(ratio)*(1+1e-9) && (must.Y1-must.Y0) <= tallMm*px(ratio)*(1+1e-9) {
			n = ratio
			break
		}
	}
	part.X0, part.X1 = span(picture.X0, picture.X1, must.X0, must.X1, wideMm*px(n))
	part.Y0, part.Y1 = span(picture.Y0, picture.Y1, must.Y0, must.Y1, tallMm*px(n))
	return part, n
}

// span is as much of lo to hi as long is, about the middle of what must be seen.
func span(lo, hi, from, to, long float64) (float64, float64) {
	if hi-lo <= long {
		return lo, hi
	}
	at := min(max((from+to-long)/2, lo), hi-long)
	return at, at + long
}

// Sizes of tags, mm.
const (
	tagEm    = 3.6
	tickMm   = 3.0
	besideMm = 26 // a tag beside the picture is broken into lines of this
)

// margins is the room that the tags take on each side.
type margins struct{ left, right, top, bottom float64 }

func (s *Sheets) margins(tags []Tag) (m margins) {
	for _, t := range tags {
		switch t.Side {
		case "top":
			m.top = tickMm + leadEm*tagEm
		case "bottom":
			m.bottom = tickMm + leadEm*tagEm
		case "left":
			m.left = max(m.left, tickMm+1+s.tagWide(t))
		case "right":
			m.right = max(m.right, tickMm+1+s.tagWide(t))
		}
	}
	return m
}

func (s *Sheets) tagWide(t Tag) (wide float64) {
	for _, line := range s.wrap(t.Text, tagEm, besideMm, t.weight()) {
		wide = max(wide, s.widthMm(line, tagEm, t.weight()))
	}
	return wide
}

func (t Tag) weight() letters.Weight {
	if t.Bold {
		return letters.Bold
	}
	return letters.Regular
}

// FigureRoom is the room for the picture itself, within wide x tall mm, beside the tags' margins.
func (s *Sheets) FigureRoom(tags []Tag, wide, tall float64) (float64, float64) {
	m := s.margins(tags)
	return wide - m.left - m.right, tall - m.top - m.bottom
}

// AreaMm2 is how much of the sheet its picture takes.
func (f Figure) AreaMm2() float64 { return f.mm(f.Part.X1-f.Part.X0) * f.mm(f.Part.Y1-f.Part.Y0) }

// mm is a number of the JPEG's pixels on the sheet.
func (f Figure) mm(px float64) float64 {
	if f.PxPerCm > 0 {
		return px / f.PxPerCm * 10 / f.N
	}
	return px / (f.Part.X1 - f.Part.X0) * f.WideMm
}

// shown are the tags whose places the part shows.
func (f Figure) shown() (out []Tag) {
	for _, t := range f.Tags {
		across := t.X >= f.Part.X0 && t.X <= f.Part.X1
		down := t.Y >= f.Part.Y0 && t.Y <= f.Part.Y1
		if across && down {
			out = append(out, t)
		}
	}
	return out
}

// Figure sets a figure from the cell's left edge on.
func (c *Cell) Figure(f Figure) {
	s := c.s
	name, w, h, err := s.registered(f.JPEG)
	if err != nil {
		s.fail(err)
		return
	}
	tags := f.shown()
	m := s.margins(tags)
	wide, tall := f.mm(f.Part.X1-f.Part.X0), f.mm(f.Part.Y1-f.Part.Y0)
	c.add(m.top+tall+m.bottom+1, func(x, y float64) {
		x, y = x+m.left, y+m.top
		s.pdf.ClipRect(x, y, wide, tall, false)
		s.image(name, x-f.mm(f.Part.X0), y-f.mm(f.Part.Y0), f.mm(float64(w)), f.mm(float64(h)))
		s.pdf.ClipEnd()
		s.rect(x, y, wide, tall, 0.3)
		for _, side := range []string{"top", "right", "bottom", "left"} {
			s.tags(f, tags, side, x, y, wide, tall)
		}
	})
}

// tags sets the tags of one side, each at its place, moved on where they would meet.
func (s *Sheets) tags(f Figure, all []Tag, side string, x, y, wide, tall float64) {
	across := side == "top" || side == "bottom"
	var own []set
	for _, t := range all {
		if t.Side != side {
			continue
		}
		one := set{Tag: t, lines: s.wrap(t.Text, tagEm, besideMm, t.weight())}
		if across {
			one.lines = []string{t.Text}
			one.best, one.room = f.mm(t.X-f.Part.X0), s.widthMm(t.Text, tagEm, t.weight())
		} else {
			one.best, one.room = f.mm(t.Y-f.Part.Y0), leadEm*tagEm*float64(len(one.lines))
		}
		own = append(own, one)
	}
	long := tall
	if across {
		long = wide
	}
	apart(own, long)
	for _, t := range own {
		middle := t.from + t.room/2
		switch side {
		case "top":
			s.rule(x+t.best, y, x+middle, y-tickMm+0.4, 0.35)
			s.line(t.Text, x+t.from, y-tickMm-0.6, tagEm, t.weight())
		case "bottom":
			s.rule(x+t.best, y+tall, x+middle, y+tall+tickMm-0.4, 0.35)
			s.line(t.Text, x+t.from, y+tall+tickMm+tagEm*0.8, tagEm, t.weight())
		default:
			edge, out := x, -1.0
			if side == "right" {
				edge, out = x+wide, 1
			}
			s.rule(edge, y+t.best, edge+out*(tickMm-0.4), y+middle, 0.35)
			for i, line := range t.lines {
				at := edge + out*(tickMm+0.6)
				if side == "left" {
					at -= s.widthMm(line, tagEm, t.weight())
				}
				s.line(line, at, y+t.from+tagEm*0.95+leadEm*tagEm*float64(i), tagEm, t.weight())
			}
		}
	}
}

// A set is a tag being set along one side: where its middle would best stand, how much room it takes, and where it begins.
type set struct {
	Tag
	lines            []string
	best, room, from float64
}

// apart puts tags in order along a side, each as near to its place as those before it allow, and back from the end.
func apart(tags []set, long float64) {
	for i := 1; i < len(tags); i++ {
		for k := i; k > 0 && tags[k].best < tags[k-1].best; k-- {
			tags[k], tags[k-1] = tags[k-1], tags[k]
		}
	}
	const white = 0.8
	at := math.Inf(-1)
	for i := range tags {
		tags[i].from = max(tags[i].best-tags[i].room/2, at)
		at = tags[i].from + tags[i].room + white
	}
	end := max(long, 0) + 4 // a word may stand out a little
	for i := len(tags) - 1; i >= 0 && tags[i].from+tags[i].room > end; i-- {
		tags[i].from = end - tags[i].room
		end = tags[i].from - white
	}
}

// SizePx is how many pixels a JPEG has across and down.
func (s *Sheets) SizePx(jpeg []byte) (w, h int, err error) {
	_, w, h, err = s.registered(jpeg)
	return w, h, err
}
