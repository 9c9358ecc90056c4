package figure

import (
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/register"
)

// An Against is what contradicts the ends of a find, in words.
type Against struct{ Find, Text string }

// swappedDeg is how far the marked ends may lie from the axis bearing of the finds sheet. A bearing off by this much is a
// slip of somebody's, and near 180 degrees the ends are swapped.
const swappedDeg = 35

// Ends are the labels at the ends of the finds, by the places that a person marked, else by an arrow laid along the only
// find, else by the axis bearing where north is known. against says what contradicts what; the ends of that find are not
// drawn. The margins of the squares' names are left to those where an end's place is marked.
func Ends(l Lay, finds []register.Find, ends []End, arrow *EndArrow, north *Sense, squares *Squares) (labels []look.Label, against []Against) {
	for _, f := range finds {
		contradicted := func(format string, args ...any) {
			against = append(against, Against{f.FieldNumber, fmt.Sprintf("ends of %s: ", f.FieldNumber) + fmt.Sprintf(format, args...)})
		}
		a, b := MarkedEnds(ends, finds, f)
		nameA, nameB := endName(finds, f, "1", f.EndA), endName(finds, f, "2", f.EndB)
		axis, known := 0.0, false
		if north != nil && f.AxisBearingAToBDeg != nil {
			axis, known = north.turnOfBearing(Bearing{*f.AxisBearingAToBDeg, f.BearingNorth})
		}
		toB, laid := 0.0, false
		if arrow != nil && len(finds) == 1 {
			if toB, laid = l.turnDeg(arrow.Arrow); strings.EqualFold(arrow.To, "1") {
				toB = positiveDeg(toB + 180)
			}
		}
		if laid && known && apartDeg(toB, axis) > swappedDeg {
			contradicted("by %s end 2 lies to %s: one of them is turned round or wrong", arrow.From, north.against(toB, axis, f))
			continue
		}
		if a != nil && b != nil && laid {
			if turn, ok := l.turnDeg(Arrow{a.At, b.At}); ok && apartDeg(turn, toB) > swappedDeg {
				contradicted("as marked, end 2 lies another way from end 1 than by %s: one of them is turned round or wrong", arrow.From)
				continue
			}
		}
		if a == nil && b == nil && laid {
			by := " (by " + arrow.From + ")"
			labels = append(labels, atEdge(l, toB+180, nameA+by), atEdge(l, toB, nameB+by))
			continue
		}
		if a == nil && b == nil {
			if known && (f.EndA != "" || f.EndB != "") {
				labels = append(labels, atEdge(l, axis+180, nameA+" (by its bearing)"), atEdge(l, axis, nameB+" (by its bearing)"))
			}
			continue
		}
		if a != nil && b != nil && known {
			if turn, ok := l.turnDeg(Arrow{a.At, b.At}); ok && apartDeg(turn, axis) > swappedDeg {
				contradicted("as marked, end 2 lies to %s: one of them is turned round or wrong", north.against(turn, axis, f))
				continue
			}
		}
		labels = append(labels, placed(l, a, b, nameA, squares)...)
		labels = append(labels, placed(l, b, a, nameB, squares)...)
	}
	return labels, against
}

func endOf(ends []End, finds []register.Find, f register.Find, which string) *End {
	for i := range ends {
		if e := &ends[i]; strings.EqualFold(e.End, which) && (e.Find == f.FieldNumber || e.Find == "" && len(finds) == 1) {
			return e
		}
	}
	return nil
}

// MarkedEnds are the places of a find's ends A and B, of the jacket's finds; nil: nobody marked it.
func MarkedEnds(ends []End, finds []register.Find, f register.Find) (a, b *End) {
	return endOf(ends, finds, f, "1"), endOf(ends, finds, f, "2")
}

// EndNames is "proximal end to distal end".
func EndNames(f register.Find) string {
	a, b := NamesOfEnds(f)
	return a + " to " + b
}

// NamesOfEnds are "proximal end" and "distal end", "end 1" where it has no name.
func NamesOfEnds(f register.Find) (a, b string) {
	one := []register.Find{f}
	return endName(one, f, "1", f.EndA), endName(one, f, "2", f.EndB)
}

// EndUp is the direction on the plate towards the end of a find that is turned up: the proximal one, else end 1, by the marks of
// the first find that has both, else by an arrow laid along the only find. name is the end's. ok is false where neither tells,
// or they contradict each other.
func EndUp(l Lay, finds []register.Find, ends []End, arrow *EndArrow) (deg float64, name string, ok bool) {
	for _, f := range finds {
		toA, marked := 0.0, false
		if a, b := MarkedEnds(ends, finds, f); a != nil && b != nil {
			toA, marked = l.turnDeg(Arrow{b.At, a.At})
		}
		if arrow != nil && len(finds) == 1 {
			laid, told := l.turnDeg(arrow.Arrow)
			if !strings.EqualFold(arrow.To, "1") {
				laid = positiveDeg(laid + 180)
			}
			switch {
			case told && marked && apartDeg(laid, toA) > swappedDeg:
				return 0, "", false
			case told && !marked:
				toA, marked = laid, true
			}
		}
		if !marked {
			continue
		}
		if strings.Contains(strings.ToLower(f.EndB), "proximal") && !strings.Contains(strings.ToLower(f.EndA), "proximal") {
			return positiveDeg(toA + 180), endName(finds, f, "2", f.EndB), true
		}
		return toA, endName(finds, f, "1", f.EndA), true
	}
	return 0, "", false
}

// endName is "proximal end", or "end 1" where it has no name, with the find's number before it where there are several.
func endName(finds []register.Find, f register.Find, number, name string) string {
	text := "end " + number
	if name != "" {
		text = name
		if !strings.Contains(" "+strings.ToLower(name)+" ", " end ") {
			text += " end"
		}
	}
	if len(finds) > 1 {
		text = f.FieldNumber + ": " + text
	}
	return text
}

// against is where B lies by the plate, beside what the finds sheet says, in the plate's own north.
func (s *Sense) against(turnDeg, axisDeg float64, f register.Find) string {
	sheet := ""
	if f.BearingNorth != s.Of {
		sheet = fmt.Sprintf(", which is %.0f° %s", s.bearingDeg(axisDeg, s.TurnDeg), s.Of)
	}
	return fmt.Sprintf("%.0f° %s from end 1 by the plate's north; the finds sheet says %.4g° %s%s", s.bearingDeg(turnDeg, s.TurnDeg), s.Of, *f.AxisBearingAToBDeg, f.BearingNorth, sheet)
}

// placed is the label of a marked end, in the margin away from the other end that no square's name stands in.
func placed(l Lay, e, other *End, name string, squares *Squares) []look.Label {
	if e == nil {
		return nil
	}
	x, y, ok := l.Plate(e.At)
	if !ok || !l.Inside(x, y) { // a plate of a part
		return nil
	}
	ox, oy := float64(l.Picture.WidthPx)/2, float64(l.Picture.HeightPx)/2
	if other != nil {
		if bx, by, ok := l.Plate(other.At); ok {
			ox, oy = bx, by
		}
	}
	return []look.Label{{XPx: x, YPx: y, Side: sideOf(x-ox, y-oy, squares.sides(l)...), Text: name}}
}

// atEdge is a label where a direction from the picture's middle leaves it.
func atEdge(l Lay, turnDeg float64, text string) look.Label {
	sin, cos := math.Sincos(turnDeg * math.Pi / 180)
	w, h := float64(l.Picture.WidthPx-1)/2, float64(l.Picture.HeightPx-1)/2
	t := math.Inf(1)
	if sin != 0 {
		t = min(t, w/math.Abs(sin))
	}
	if cos != 0 {
		t = min(t, h/math.Abs(cos))
	}
	x, y := t*sin, -t*cos
	return look.Label{XPx: w + x, YPx: h + y, Side: sideOf(x*h, y*w), Text: text}
}

// Ups are the arrows of the three ups that were marked.
func Ups(l Lay, ups []Up) (out []look.North) {
	for _, up := range ups {
		if turn, ok := l.turnDeg(up.Arrow); ok {
			out = append(out, look.North{ClockwiseFromUpDeg: turn, Text: up.Which, Source: up.From})
		}
	}
	return out
}

// Face says where a vertical face looks to and how sure that is, from the bearing of its level edge and the way that edge runs in
// the photo: who stands before the face sees its right hand at the bearing he faces and 90 degrees. Else it says why that is not
// known: nobody took the bearing, or the edge is not level in the photo within 30 degrees of the plate's sides.
func Face(l Lay, edge *Edge, n Norths) string {
	switch {
	case edge == nil:
		return "nobody wrote down the bearing of its level edge"
	case edge.Along == nil:
		return "its edge has a bearing, but nobody marked the origin corner in this photo"
	case edge.Of == "" || edge.Of == register.NorthUnknown:
		return "nobody wrote down which north its edge's bearing counts from"
	}
	turn, ok := l.turnDeg(*edge.Along)
	if l.Mirrored {
		turn = positiveDeg(-turn)
	}
	if !ok || apartDeg(turn, 90) > 30 && apartDeg(turn, 270) > 30 {
		return "its marked edge does not run level in this photo"
	}
	q, _, known := n.offset(edge.Of)
	deg, of := edge.Deg, edge.Of
	if known {
		deg, of = deg+q.Value, register.NorthTrue
	}
	out := positiveDeg(deg + 90)
	if apartDeg(turn, 270) <= 30 {
		out = positiveDeg(deg - 90)
	}
	return fmt.Sprintf("looks towards %.0f° %s, ± %.0f° (k = 2), by the edge of set-up %s at %.4g° %s", out, of, math.Ceil(math.Hypot(2*uCompassDeg, q.U)), edge.SetUp, edge.Deg, edge.Of)
}
