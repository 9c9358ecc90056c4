package evidence

import (
	"fmt"
	"math"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// depthByGround is how deep the bone lies by what several photos of the unmoved
// grid tell together: of what lies under the ends that were marked, or within the
// outlines; else of what lies in the middle of the strings. nil: they tell nothing.
func (p Photo) depthByGround(number string) *figure.Depth {
	if p.Ground == nil {
		return nil
	}
	d := figure.Depth{Ground: p.Ground, Unfound: true}
	places := p.bonePlaces(number)
	least, most, n := math.Inf(1), math.Inf(-1), 0.0
	for _, at := range places {
		one := d.Under(at)
		if one.Unfound {
			continue
		}
		least, most = min(least, one.Cm), max(most, one.Cm)
		if n++; n == 1 {
			d.Cm, d.U = one.Cm, one.U
		}
		d.U = max(d.U, one.U)
	}
	if n > 0 { // of several bones the middle, with all of them within U
		d.Unfound = false
		d.Cm, d.U = (least+most)/2, math.Hypot(d.U, (most-least)/2)
		return &d
	}
	q, ok := p.Ground.Middle()
	if !ok {
		return nil
	}
	d.Cm, d.U = q.Value, q.U
	return &d
}

// bonePlaces are the places that show where a jacket's bones lie: the two ends of
// each find, and bones' outlines.
func (p Photo) bonePlaces(number string) (out [][]calibrate.Point) {
	if p.Marks == nil {
		return nil
	}
	finds := p.Sheets.FindsOf(number)
	for _, f := range finds {
		if a, b := figure.MarkedEnds(p.Marks.Ends, finds, f); a != nil && b != nil {
			out = append(out, []calibrate.Point{a.At, b.At})
		}
	}
	for _, o := range p.Marks.Outlines {
		if o.Of == "bone" {
			out = append(out, o.Points)
		}
	}
	return out
}

// AgainstGround says that a depth which is told, or a card's, contradicts what
// several photos of the unmoved grid measured by more than both U; "": it does not.
// Where nobody showed the bone's place, only a depth that no measured square
// reaches contradicts.
func (p Photo) AgainstGround(number string) string {
	told := p.DepthToBone(number)
	if p.Ground == nil || told == nil || told.Ground != nil {
		return ""
	}
	uTold := math.Hypot(told.U, 2*figure.UDepthCm)
	least, most, ok := p.Ground.RangeCm()
	if !ok {
		return ""
	}
	what, u := fmt.Sprintf("the ground lies %.1f to %.1f cm below the strings", least, most), 0.0
	for _, s := range p.Ground.Squares {
		least, u = min(least, s.HighCm), max(u, s.UBelowCm)
	}
	if by := p.depthByGround(number); by != nil && !by.Unfound {
		least, most, u = by.Cm, by.Cm, by.U
		what = "the bone lies " + by.Below("strings")
	} else {
		what += ", " + p.Ground.From()
	}
	if at, ok := p.cardGround(told); ok {
		least, most, u = at.Value, at.Value, at.U
		what = fmt.Sprintf("there the ground lies %.1f cm below the strings, %s", at.Value, p.Ground.From())
	}
	if by := math.Hypot(uTold, u); told.Cm >= least-by && told.Cm <= most+by {
		return ""
	}
	return fmt.Sprintf("depth to bone: %s was told, and %s: one is wrong, or the frame was moved between the photos", told.Below("strings"), what)
}

// cardGround is how deep the photos have what lies where the card is that told a depth.
func (p Photo) cardGround(told *figure.Depth) (q calibrate.Quantity, ok bool) {
	for _, s := range p.Sightings {
		if told.By == "" || s.Plane == nil || s.Reference.Kind != calibrate.KindCard {
			continue
		}
		level, err := s.Plane.At(0)
		if err != nil {
			return q, false
		}
		at, ok := level.Photo(s.Plane.MiddleCm())
		if !ok {
			return q, false
		}
		return p.Ground.Under(at)
	}
	return q, false
}
