package paperwork

import (
	"math"
	"slices"
	"strconv"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
)

// Drawn is what a plate's JPEG shows and where, so that a part of it can be printed with its words set anew. Places are pixels of
// the JPEG.
type Drawn struct {
	Picture  sheet.Area   `json:"Picture"`  // the picture without the words round it
	Measured [][2]float64 `json:"Measured"` // corners of the measured area
	Outlined [][2]float64 `json:"Outlined"` // of all outlines that people drew
	Labels   []look.Label `json:"Labels"`
	North    *look.North  `json:"North"`
	NoNorth  string       `json:"NoNorth"`
	Ups      []look.North `json:"Ups"`
	Rows     []look.Row   `json:"Rows"`     // of the title block
	Overlaid bool         `json:"Overlaid"` // the exposed bone is laid over it
	Strings  bool         `json:"Strings"`  // strings were laid over the bone; else what was measured on lies beside it
}

// DrawnOf is what the JPEG of a plate shows. strings: its scale is that of a grid.
func DrawnOf(p look.Plate, strings bool) *Drawn {
	at := overlay.Arrange(p).Picture
	x, y := float64(at.Min.X), float64(at.Min.Y)
	d := &Drawn{
		Picture: sheet.Area{X0: x, Y0: y, X1: float64(at.Max.X), Y1: float64(at.Max.Y)},
		North:   p.North, NoNorth: p.NoNorth, Ups: p.Ups, Rows: p.Rows, Overlaid: p.Under != nil, Strings: strings,
	}
	place := func(px [2]float64) [2]float64 { return [2]float64{x + px[0] + 0.5, y + px[1] + 0.5} }
	for _, c := range p.Outline {
		d.Measured = append(d.Measured, place(c))
	}
	for _, line := range p.Lines {
		for _, c := range line.Through {
			d.Outlined = append(d.Outlined, place(c))
		}
	}
	for _, l := range p.Labels {
		to := place([2]float64{l.XPx, l.YPx})
		l.XPx, l.YPx = to[0], to[1]
		d.Labels = append(d.Labels, l)
	}
	return d
}

// ends are the places of the labels that have a ring: ends of bones that somebody marked. Others stand where a direction leaves
// the picture.
func (d Drawn) ends() (places [][2]float64) {
	for _, l := range d.Labels {
		if !l.Plain && !d.atEdge(l) {
			places = append(places, [2]float64{l.XPx, l.YPx})
		}
	}
	return places
}

// named tells whether any label names an end, by its place or by its direction.
func (d Drawn) named() bool {
	return slices.ContainsFunc(d.Labels, func(l look.Label) bool { return !l.Plain })
}

// atEdge tells whether a label tells a direction from the picture's middle and no place: it stands on the picture's edge.
func (d Drawn) atEdge(l look.Label) bool {
	const near = 2 // px
	p := d.Picture
	return min(l.XPx-p.X0, p.X1-l.XPx, l.YPx-p.Y0, p.Y1-l.YPx) <= near
}

// bone is the area that holds every end and outline with some white round it; where there are no two of them, all that lies
// under strings, and without strings the whole picture.
func (d Drawn) bone() sheet.Area {
	if places := append(d.ends(), d.Outlined...); len(places) > 1 {
		a := around(places)
		white := 0.08 * max(a.X1-a.X0, a.Y1-a.Y0)
		return within(sheet.Area{X0: a.X0 - white, Y0: a.Y0 - white, X1: a.X1 + white, Y1: a.Y1 + white}, d.Picture)
	}
	if !d.Strings {
		return d.Picture
	}
	return d.measured()
}

// measured is the area that holds all that was measured, and every end and outline.
func (d Drawn) measured() sheet.Area {
	places := append(append(d.ends(), d.Outlined...), d.Measured...)
	if len(d.Measured) == 0 {
		return d.Picture
	}
	return within(around(places), d.Picture)
}

func around(places [][2]float64) sheet.Area {
	a := sheet.Area{X0: math.Inf(1), Y0: math.Inf(1), X1: math.Inf(-1), Y1: math.Inf(-1)}
	for _, p := range places {
		a = sheet.Area{X0: min(a.X0, p[0]), Y0: min(a.Y0, p[1]), X1: max(a.X1, p[0]), Y1: max(a.Y1, p[1])}
	}
	return a
}

func within(a, b sheet.Area) sheet.Area {
	clamp := func(v, lo, hi float64) float64 { return min(max(v, lo), hi) }
	return sheet.Area{X0: clamp(a.X0, b.X0, b.X1), Y0: clamp(a.Y0, b.Y0, b.Y1), X1: clamp(a.X1, b.X0, b.X1), Y1: clamp(a.Y1, b.Y0, b.Y1)}
}

// tags are the words in the margin of a part of the picture: a label whose place the part shows has its own side, as its line on
// the picture leads there; names of squares stand where their rows and columns leave the part.
func (d Drawn) tags(part sheet.Area) (tags []sheet.Tag) {
	seen := map[string]bool{}
	middle := func(a sheet.Area) [2]float64 { return [2]float64{(a.X0 + a.X1) / 2, (a.Y0 + a.Y1) / 2} }
	for _, l := range d.Labels {
		if !l.Plain && d.atEdge(l) { // it leaves the part where the direction does
			of, from := middle(d.Picture), middle(part)
			if at, side, ok := leaves(part, from, [2]float64{l.XPx - of[0], l.YPx - of[1]}, true); ok {
				tags = append(tags, sheet.Tag{X: at[0], Y: at[1], Side: side, Text: letters.Spell(l.Text), Bold: true})
			}
			continue
		}
		if l.XPx >= part.X0 && l.XPx <= part.X1 && l.YPx >= part.Y0 && l.YPx <= part.Y1 {
			tags = append(tags, sheet.Tag{X: l.XPx, Y: l.YPx, Side: l.Side, Text: letters.Spell(l.Text), Bold: !l.Plain})
			seen[l.Text] = true
		}
	}
	columns, across, ok1 := row(d.Labels, letterOf)
	rows, down, ok2 := row(d.Labels, numberOf)
	if !ok1 || !ok2 {
		return tags
	}
	for _, of := range []struct {
		labels []look.Label
		along  [2]float64 // from square to square of the other name
	}{{columns, down}, {rows, across}} {
		for _, l := range of.labels {
			if seen[l.Text] {
				continue
			}
			if at, side, ok := leaves(part, [2]float64{l.XPx, l.YPx}, of.along, false); ok {
				tags = append(tags, sheet.Tag{X: at[0], Y: at[1], Side: side, Text: l.Text})
			}
		}
	}
	return tags
}

// row picks the labels that name squares one way, and gives the step from one name to the next.
func row(all []look.Label, index func(string) (int, bool)) (labels []look.Label, step [2]float64, ok bool) {
	first, last := -1, -1
	at := map[int]look.Label{}
	for _, l := range all {
		i, is := index(l.Text)
		if !is || !l.Plain {
			continue
		}
		labels = append(labels, l)
		at[i] = l
		if first < 0 || i < first {
			first = i
		}
		last = max(last, i)
	}
	if first < 0 || last == first || len(at) != len(labels) {
		return nil, step, false
	}
	n := float64(last - first)
	a, b := at[first], at[last]
	return labels, [2]float64{(b.XPx - a.XPx) / n, (b.YPx - a.YPx) / n}, true
}

func letterOf(text string) (int, bool) {
	if len(text) != 1 || text[0] < 'A' || text[0] > 'Z' {
		return 0, false
	}
	return int(text[0] - 'A'), true
}

func numberOf(text string) (int, bool) {
	n, err := strconv.Atoi(text)
	return n, err == nil && n > 0 && n < 100 && strconv.Itoa(n) == text
}

// leaves is where a line through a place leaves a part of the picture: onward, the way that it runs; else nearer to the place,
// above or below where it runs upright, so that one side of the part names letters or numbers alone.
func leaves(part sheet.Area, place, along [2]float64, onward bool) (at [2]float64, side string, ok bool) {
	best := math.Inf(1)
	try := func(t float64, name string) {
		if onward && t < 0 {
			return
		}
		x, y := place[0]+t*along[0], place[1]+t*along[1]
		const edge = 1e-6
		if x < part.X0-edge || x > part.X1+edge || y < part.Y0-edge || y > part.Y1+edge || !(math.Abs(t) < best) {
			return
		}
		best, at, side, ok = math.Abs(t), [2]float64{x, y}, name, true
	}
	upright := math.Abs(along[1]) > math.Abs(along[0])
	if along[0] != 0 && (onward || !upright) {
		try((part.X0-place[0])/along[0], "left")
		try((part.X1-place[0])/along[0], "right")
	}
	if along[1] != 0 && (onward || upright) {
		try((part.Y0-place[1])/along[1], "top")
		try((part.Y1-place[1])/along[1], "bottom")
	}
	if ok { // the sheet takes tags whose places the part shows
		at = [2]float64{min(max(at[0], part.X0), part.X1), min(max(at[1], part.Y0), part.Y1)}
	}
	return at, side, ok
}
