package words

import (
	"fmt"
	"math"
	"strconv"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// A ManualReference is a reference that a person showed in a photo: its kind and size, and its four corners as
// [calibrate.FitCorners] wants them; of a bar its two ends, of points the two places.
type ManualReference struct {
	Reference calibrate.Reference // of points with From and To
	Corners   []calibrate.Point   // four, clockwise; of a bar two; none for points
	PickPx    float64             // standard uncertainty of each coordinate; 0: not said
}

// An Arrow runs from its tail to its head.
type Arrow struct{ Tail, Head calibrate.Point }

// A NorthArrow points north as a compass or map says; Of is magnetic, true or grid.
type NorthArrow struct {
	Arrow
	Of register.North
}

// What an outline runs round.
const (
	OfBone  = "bone"
	OfBlock = "block"
)

// An Outline runs round a bone or the block.
type Outline struct {
	Name    string
	Of      string            // OfBone or OfBlock
	LevelCm *float64          // below the reference; nil: not said
	Points  []calibrate.Point // at least three, not closed
}

// A Taped is a length measured with a tape, to hold against the plate.
type Taped struct {
	From, To string
	LengthMm float64
	At       []calibrate.Point // both places in the photo, or none
}

// ParseManualReference reads "checker 7x5/2cm at x,y x,y x,y x,y", "bar 10cm/1cm at x,y x,y" or "points 12.5cm at x,y x,y";
// "tolerance 1mm" and behind it "picked 2px" may stand before at.
func ParseManualReference(text string) (ManualReference, error) {
	head, places, ok := strings.Cut(text, " at ")
	if !ok {
		return ManualReference{}, fmt.Errorf("reference %q: want its kind, size and corners, such as checker 7x5/2cm at 10,20 90,22 88,70 12,66", text)
	}
	head, picked, hasPicked := strings.Cut(head, " picked ")
	kind, size, _ := strings.Cut(strings.TrimSpace(head), " ")
	size, tolerance, hasTolerance := strings.Cut(size, "tolerance ")
	size = strings.TrimSpace(size)
	corners := calibrate.Reference{Kind: calibrate.Kind(kind)}.Puts()
	at, err := parsePoints(places, corners, corners)
	if err != nil {
		return ManualReference{}, err
	}
	var h ManualReference
	if hasPicked {
		if h.PickPx, err = strconv.ParseFloat(strings.TrimSuffix(strings.TrimSpace(picked), "px"), 64); err != nil || !(h.PickPx > 0 && h.PickPx < 1e4) {
			return ManualReference{}, fmt.Errorf("picked %q: want over 0 px and below 10000, such as 2px", picked)
		}
	}
	switch k := calibrate.Kind(kind); k {
	case calibrate.KindPoints:
		length, err := calibrate.ParseLength(size)
		if err != nil {
			return ManualReference{}, err
		}
		if h.Reference, err = calibrate.Points(at[0], at[1], length); err != nil {
			return ManualReference{}, err
		}
	default:
		size, squares, hasSquares := strings.Cut(size, " of ")
		if h.Reference, err = calibrate.ParseReference(k, size); err != nil {
			return ManualReference{}, err
		}
		if hasSquares && k == calibrate.KindGrid {
			h.Reference.CellsAcross, h.Reference.CellsDown, err = calibrate.ParseCounts(strings.TrimSuffix(strings.TrimSuffix(squares, " cells"), " squares"))
		} else if hasSquares {
			err = fmt.Errorf("%s %q: only a grid has squares", kind, size)
		}
		h.Corners = at
	}
	if hasTolerance && err == nil {
		var cm float64
		cm, err = calibrate.ParseLength(tolerance)
		h.Reference.ToleranceCm = &cm
	}
	if err == nil {
		err = h.Reference.Validate()
	}
	return h, err
}

// String writes the value as in the log.
func (h ManualReference) String() string {
	text, at := h.Reference.String(), h.Corners
	if h.Reference.Kind == calibrate.KindPoints && h.Reference.From != nil && h.Reference.To != nil {
		at = []calibrate.Point{*h.Reference.From, *h.Reference.To}
	}
	if t := h.Reference.ToleranceCm; t != nil {
		text += " tolerance " + number(*t) + "cm"
	}
	if h.PickPx != 0 {
		text += " picked " + number(h.PickPx) + "px"
	}
	return text + " at " + FormatPoints(at...)
}

// ParseNorth reads "x,y x,y magnetic".
func ParseNorth(text string) (NorthArrow, error) {
	i := strings.LastIndex(strings.TrimSpace(text), " ")
	of := register.North(strings.TrimSpace(text)[i+1:])
	if i < 0 || of != register.NorthMagnetic && of != register.NorthTrue && of != register.NorthGrid {
		return NorthArrow{}, fmt.Errorf("north %q: want tail, head and magnetic, true or grid, such as 10,80 10,20 magnetic", text)
	}
	a, err := parseArrow(strings.TrimSpace(text)[:i])
	return NorthArrow{a, of}, err
}

// String writes the value as in the log.
func (n NorthArrow) String() string { return n.Arrow.String() + " " + string(n.Of) }

// String writes the value as in the log.
func (a Arrow) String() string { return FormatPoints(a.Tail, a.Head) }

func parseArrow(text string) (Arrow, error) {
	p, err := parsePoints(text, 2, 2)
	if err != nil {
		return Arrow{}, err
	}
	if d := math.Hypot(p[0].XPx-p[1].XPx, p[0].YPx-p[1].YPx); d < 2 {
		return Arrow{}, fmt.Errorf("an arrow of %g px: want at least 2", d)
	}
	return Arrow{p[0], p[1]}, nil
}

// ParseOutline reads "bone level 8cm at x,y x,y x,y ..."; its name stands in the word.
func ParseOutline(text string) (Outline, error) {
	head, places, ok := strings.Cut(text, " at ")
	of, level, hasLevel := strings.Cut(strings.TrimSpace(head), " level ")
	if !ok || of != OfBone && of != OfBlock {
		return Outline{}, fmt.Errorf("outline %q: want bone or block and the points round it, such as bone level 8cm at 10,20 90,22 88,70", text)
	}
	o := Outline{Of: of}
	if hasLevel {
		cm, err := parseDepth(level)
		if err != nil {
			return Outline{}, err
		}
		o.LevelCm = &cm
	}
	var err error
	o.Points, err = parsePoints(places, 3, 2000)
	return o, err
}

// String writes the value as in the log.
func (o Outline) String() string {
	text := o.Of
	if o.LevelCm != nil {
		text += " level " + number(*o.LevelCm) + "cm"
	}
	return text + " at " + FormatPoints(o.Points...)
}

// ParseTaped reads "412mm" or "412mm at x,y x,y"; the places stand in the word.
func ParseTaped(text string) (Taped, error) {
	length, places, hasPlaces := strings.Cut(text, " at ")
	cm, err := calibrate.ParseLength(length)
	if err == nil && !(cm >= 0.1 && cm <= 10000) {
		err = fmt.Errorf("length %q: want 1 mm to 100 m", length)
	}
	t := Taped{LengthMm: cm * 10}
	if err == nil && hasPlaces {
		t.At, err = parsePoints(places, 2, 2)
	}
	return t, err
}

// parseDepth reads a depth in cm below the reference; negative: above it.
func parseDepth(text string) (cm float64, err error) {
	if cm, err = calibrate.ParseLength(text); err == nil && math.Abs(cm) > 300 {
		err = fmt.Errorf("depth %q: want at most 300 cm", text)
	}
	return cm, err
}

// parsePoints reads "x,y x,y", from lo to hi of them.
func parsePoints(text string, lo, hi int) ([]calibrate.Point, error) {
	words := strings.Fields(text)
	if len(words) < lo || len(words) > hi {
		return nil, fmt.Errorf("%d points: want %s, as x,y in pixels of the upright photo", len(words), span(lo, hi))
	}
	out := make([]calibrate.Point, len(words))
	for i, w := range words {
		x, y, ok := strings.Cut(w, ",")
		var err1, err2 error
		out[i].XPx, err1 = strconv.ParseFloat(x, 64)
		out[i].YPx, err2 = strconv.ParseFloat(y, 64)
		if !ok || err1 != nil || err2 != nil || !(math.Abs(out[i].XPx) <= 1e6 && math.Abs(out[i].YPx) <= 1e6) {
			return nil, fmt.Errorf("point %q: want x,y in pixels of the upright photo, such as 812.5,1440", w)
		}
	}
	return out, nil
}

func span(lo, hi int) string {
	if lo == hi {
		return strconv.Itoa(lo)
	}
	return fmt.Sprintf("%d to %d", lo, hi)
}

// FormatPoints writes points as in the log, to a hundredth of a pixel.
func FormatPoints(points ...calibrate.Point) string {
	var out []string
	for _, p := range points {
		out = append(out, number(math.Round(p.XPx*100)/100)+","+number(math.Round(p.YPx*100)/100))
	}
	return strings.Join(out, " ")
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }
