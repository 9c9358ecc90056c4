package sheet

import (
	"fmt"
	"math"

	"codeberg.org/go-pdf/fpdf"

	"fieldjacket/overlay/drawing"
	"fieldjacket/overlay/letters"
)

// A1 is ISO 216 A1.
var A1 = Paper{"A1", 594, 841}

// Turned is the paper laid across.
func (p Paper) Turned() Paper { return Paper{p.Name, p.HeightMm, p.WidthMm} }

// DrawingRoom is the room that one sheet has for a drawing above a strip so tall.
func DrawingRoom(paper Paper, stripMm float64) (wide, tall float64) {
	return paper.WidthMm - leftMm - rightMm, paper.HeightMm - footMm - topMm - headMm - stripMm - drawingTextMm
}

// drawingTextMm is the line below a drawing.
const drawingTextMm = 10

// mostSheets is how many sheets one drawing may take.
const mostSheets = 200

// Drawing prints a drawing true to size on the fewest sheets, with crop marks where there are several, and below each the strip,
// which holds on all of them. says is the line below.
func (s *Sheets) Drawing(d, strip drawing.Drawing, says string) {
	roomX, roomY := DrawingRoom(s.Paper, strip.TallMm)
	if !(d.WideMm > 0 && d.TallMm > 0) || math.IsInf(d.WideMm*d.TallMm, 0) || roomY < 20 {
		s.fail(fmt.Errorf("drawing of %g x %g mm on %s: want a size, and a sheet with room for it", d.WideMm, d.TallMm, s.Paper.Name))
		return
	}
	across, down := cut(d.WideMm, roomX, 0), cut(d.TallMm, roomY, 0)
	if n := len(across) * len(down); n > mostSheets {
		s.fail(fmt.Errorf("drawing of %.0f x %.0f mm takes %d sheets of %s: want a smaller scale or a larger paper", d.WideMm, d.TallMm, n, s.Paper.Name))
		return
	}
	for j, y := range down {
		for i, x := range across {
			if s.y > topMm+headMm {
				s.Page()
			}
			part := PagePart{X: x[0], Y: y[0], Width: x[1], Height: y[1], AtX: leftMm, AtY: topMm + headMm, Column: i, Row: j}
			s.pdf.ClipRect(part.AtX, part.AtY, part.Width, part.Height, false)
			s.layers(drawing.Drawing{Layers: d.Shifted(part.AtX-part.X, part.AtY-part.Y)}, &part)
			s.pdf.ClipEnd()
			text := says
			if len(across)*len(down) > 1 {
				s.cutMarks(part.AtX, part.AtY, part.Width, part.Height)
				text = fmt.Sprintf("sheet %s of %s to %s; cut at the corner marks and lay over the neighbours by %d mm. %s", part.name(),
					PagePart{}.name(), PagePart{Column: len(across) - 1, Row: len(down) - 1}.name(), overlapMm, says)
			}
			at := part.AtY + part.Height + cutMm
			for _, line := range s.wrap(text, smallEm, s.WidthMm(), letters.Regular) {
				s.line(line, leftMm, at+smallEm, smallEm, letters.Regular)
				at += leadEm * smallEm
			}
			s.layers(drawing.Drawing{Layers: strip.Shifted(leftMm, at+1)}, nil)
			s.y = s.Paper.HeightMm - footMm
		}
	}
}

// layers draws what lies at least in part within the part of the sheet; nil: all of it.
func (s *Sheets) layers(d drawing.Drawing, within *PagePart) {
	for _, l := range d.Layers {
		for _, it := range l.Items {
			if within == nil || touches(it, *within) {
				s.item(it)
			}
		}
	}
}

func touches(it drawing.Item, p PagePart) bool {
	x0, y0, x1, y1 := math.Inf(1), math.Inf(1), math.Inf(-1), math.Inf(-1)
	for _, at := range it.At {
		x0, y0, x1, y1 = min(x0, at[0]), min(y0, at[1]), max(x1, at[0]), max(y1, at[1])
	}
	more := it.WideMm + it.EmMm*float64(len(it.Text))
	return x1+more >= p.AtX && x0-more <= p.AtX+p.Width && y1+more >= p.AtY && y0-more <= p.AtY+p.Height
}

func (s *Sheets) item(it drawing.Item) {
	if len(it.At) == 0 {
		return
	}
	shade := int(math.Round(255 * min(1, max(0, it.Grey))))
	if it.Text != "" {
		weight := letters.Regular
		if it.Bold {
			weight = letters.Bold
		}
		x, y, wide := it.At[0][0], it.At[0][1], s.widthMm(it.Text, it.EmMm, weight)
		switch it.Anchor {
		case drawing.Middle:
			x -= wide / 2
		case drawing.End:
			x -= wide
		}
		if it.Backed {
			s.pdf.SetFillColor(255, 255, 255)
			s.pdf.Rect(x-0.3, y-0.8*it.EmMm, wide+0.6, it.EmMm, "F")
		}
		s.pdf.SetTextColor(shade, shade, shade)
		s.line(it.Text, x, y, it.EmMm, weight)
		s.pdf.SetTextColor(0, 0, 0)
		return
	}
	points := make([]fpdf.PointType, len(it.At))
	for i, p := range it.At {
		points[i] = fpdf.PointType{X: p[0], Y: p[1]}
	}
	how := ""
	if it.Fill != nil {
		fill := int(math.Round(255 * min(1, max(0, *it.Fill))))
		s.pdf.SetFillColor(fill, fill, fill)
		how = "F"
	}
	if it.WideMm > 0 {
		s.pdf.SetLineWidth(it.WideMm)
		s.pdf.SetDrawColor(shade, shade, shade)
		how += "D"
	}
	s.pdf.SetDashPattern(it.DashMm, 0)
	switch {
	case how == "":
	case it.Closed:
		s.pdf.Polygon(points, how)
	default:
		s.pdf.MoveTo(points[0].X, points[0].Y)
		for _, p := range points[1:] {
			s.pdf.LineTo(p.X, p.Y)
		}
		s.pdf.DrawPath(how)
	}
	s.pdf.SetDashPattern(nil, 0)
	s.pdf.SetDrawColor(0, 0, 0)
}

// DrawingSheets is how many sheets a drawing of wide x tall mm takes above a strip so tall.
func DrawingSheets(paper Paper, wide, tall, stripMm float64) int {
	roomX, roomY := DrawingRoom(paper, stripMm)
	if roomX <= overlapMm || roomY <= overlapMm {
		return math.MaxInt
	}
	return len(cut(wide, roomX, 0)) * len(cut(tall, roomY, 0))
}
