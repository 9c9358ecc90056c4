package layout

import (
	"errors"
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/sheet"
)

const (
	printDPI = 300  // of a printed plate; whole, since a TIFF and a JPEG take nothing else
	leastDPI = 100  // below this its small words cannot be read
	mostPx   = 40e6 // of a printed plate
)

// fitting are the n of 1:n of which a plate takes the first that one sheet holds.
var fitting = []float64{1, 1.5, 2, 2.5, 3, 4, 5, 6, 8, 10, 12, 15, 20, 25, 30, 40, 50, 60, 80, 100, 150, 200, 500, 1000}

// Printed lays a plate out to be printed at 1:ratio, or where that is 0 at the largest round scale at which one sheet
// of the paper holds it; pale: without its labels, to draw on. n is the ratio that it has, dpi the
// resolution.
func Printed(p look.Plate, ratio float64, pale bool, paper sheet.Paper) (out look.Plate, n, dpi float64, err error) {
	if !(PxPerCm(p) > 0) {
		return p, 0, 0, errors.New("the plate has no scale to be printed at: set it by hand with fieldjacket review, or print another photo's")
	}
	if pale {
		p.Pale, p.Labels, p.Outline, p.OutlineText, p.Lines, p.Rows = true, nil, nil, "", nil, nil
		p.Contours, p.Profiles, p.Table = nil, nil, nil
		if p.Under != nil {
			p.Under, p.Stamp = nil, "" // what is drawn on it is of today
		}
	}
	n = ratio
	if n == 0 {
		fits := slices.IndexFunc(fitting, func(n float64) bool {
			f := overlay.Arrange(enlarged(p, n, leastDPI))
			return len(sheet.PageParts(paper, float64(f.Size.X)/f.PxPerMm, float64(f.Size.Y)/f.PxPerMm)) == 1
		})
		if fits < 0 {
			return p, 0, 0, fmt.Errorf("the plate's words do not fit one sheet of %s", paper.Name)
		}
		n = fitting[fits]
	}
	f := overlay.Arrange(enlarged(p, n, leastDPI))
	most := leastDPI * math.Sqrt(mostPx/(float64(f.Size.X)*float64(f.Size.Y)))
	if dpi = math.Floor(min(printDPI, most)); dpi < leastDPI {
		return p, 0, 0, fmt.Errorf("at 1:%g the plate is %.0f x %.0f mm, more than this program draws at once: print it smaller",
			n, float64(f.Size.X)/f.PxPerMm, float64(f.Size.Y)/f.PxPerMm)
	}
	return enlarged(p, n, dpi), n, dpi, nil
}

// PxPerCm is a plate's scale at the level that its bar holds for; 0: none.
func PxPerCm(p look.Plate) float64 {
	if p.Bar == nil {
		return 0
	}
	return p.Bar.PxPerCm
}

// enlarged is a plate whose picture has the resolution that 1:n at dpi asks for
// at the level of its scale bar.
func enlarged(p look.Plate, n, dpi float64) look.Plate {
	k := dpi / 2.54 / n / PxPerCm(p) // new pixels for each of the plate's own
	at := func(px float64) float64 { return (px+0.5)*k - 0.5 }
	enlarge := func(pic *look.Picture) {
		f := pic.From
		shift := 0.5/k - 0.5
		pic.From = [6]float64{f[0] / k, f[1] / k, f[2] + (f[0]+f[1])*shift, f[3] / k, f[4] / k, f[5] + (f[3]+f[4])*shift}
		pic.WidthPx, pic.HeightPx = max(1, int(math.Round(float64(pic.WidthPx)*k))), max(1, int(math.Round(float64(pic.HeightPx)*k)))
		pic.PxPerCm *= k
		pic.PrintDPI, pic.TrueSize = dpi, true
	}
	enlarge(&p.Picture)
	if p.Under != nil {
		under := *p.Under
		enlarge(&under)
		p.Under = &under
	}
	if p.Bar != nil {
		bar := *p.Bar
		bar.PxPerCm *= k
		p.Bar = &bar
	}
	p.Labels = slices.Clone(p.Labels)
	for i, l := range p.Labels {
		p.Labels[i].XPx, p.Labels[i].YPx = at(l.XPx), at(l.YPx)
	}
	points := func(in [][2]float64) (out [][2]float64) {
		for _, q := range in {
			out = append(out, [2]float64{at(q[0]), at(q[1])})
		}
		return out
	}
	p.Outline = points(p.Outline)
	p.Lines = slices.Clone(p.Lines)
	for i, line := range p.Lines {
		p.Lines[i].Through = points(line.Through)
	}
	p.Contours = slices.Clone(p.Contours)
	for i, c := range p.Contours {
		p.Contours[i].Through = points(c.Through)
	}
	return p
}
