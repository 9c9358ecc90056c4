package evidence

import (
	"errors"
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/figure"
)

// A weighed is what speaks for and against the size of one reference in a
// photo, a phrase each.
type weighed struct {
	by, against []string
	denied      []string // of what is against it, what proves that it is of another size
	gross       bool     // what speaks against it leaves no room for its size
	here        bool     // something speaks for it that is of this very photo
}

// Where a thing is believed to lie by strings, or by another that lies on the
// ground or on the bone. Within these a size is borne out; a half or double one
// lies beyond them.
const (
	overStringsCm  = 10
	underStringsCm = 40
	underShare     = 0.6 // of the strings' distance from the camera
	besideCm       = 15
	besideShare    = 0.3 // of the nearer one's distance
	tapeLeast      = 0.8 // plate over tape where the level is not known
	tapeMost       = 1.15
)

// weigh gathers what is known of the size of one reference. References that are
// open, not yet known to be there, tell nothing of others.
func (p *weighing) weigh(i int) (w weighed) {
	s, told := p.out[i], p.told
	if s.Reference.Kind == calibrate.KindGrid {
		if told.PitchCm > 0 && !SamePitch(told.PitchCm, s.Reference.PitchCm) {
			w.against, w.gross = append(w.against, fmt.Sprintf("%s has a pitch of %g cm", told.PitchBy, told.PitchCm)), true
		}
		for _, span := range told.Spans {
			held := span.Hold(s.Reference)
			w.add(held.Within, !held.Within, "tape check "+held.String())
			w.here = w.here || held.Within && span.By == ""
			w.deny(held.Gross, "tape check "+held.String())
		}
	}
	if s.Plane == nil {
		return w
	}
	for _, c := range figure.Checks(s.Plane, told.Depth, told.Tapes) {
		ratio := c.PlateMm.Value / c.LengthMm
		far := !c.Within && (ratio < tapeLeast || ratio > tapeMost)
		w.add(c.Within, far, "tape check "+c.String())
		w.here = w.here || c.Within
		w.deny(far, "tape check "+c.String())
	}
	if s.Reference.Kind == calibrate.KindGrid {
		for _, from := range p.seen {
			if len(from.Tiles) == 0 {
				continue
			}
			if w.tiles(s.Plane, s.Reference, from.Tiles) {
				break
			}
		}
	}
	for k, o := range p.out {
		if k != i && !p.open[k] && o.Plane != nil && o.By == "" && !coincide(p.seen[k], p.seen[i]) {
			w.beside(s, o)
		}
	}
	return w
}

func (w *weighed) add(agrees, contradicts bool, text string) {
	switch {
	case agrees:
		w.by = append(w.by, text)
	case contradicts:
		w.against = append(w.against, text)
	}
}

// tiles holds a grid against the tiles of its frame; false where they tell nothing of its size.
func (w *weighed) tiles(plane *calibrate.Plane, grid calibrate.Reference, tiles []calibrate.Tile) bool {
	mm, printed, ok := plane.TileMm(grid, tiles)
	if !ok {
		return false
	}
	far := max(mm/printed, printed/mm) > calibrate.MaxTileRatio
	text := fmt.Sprintf("the squares of the frame's tiles are %.1f mm wide by it, printed %.0f mm wide", mm, printed)
	w.add(!far, far, text)
	w.here = w.here || !far
	w.deny(far, text)
	return true
}

// deny adds what leaves no room for the size, if it does.
func (w *weighed) deny(proven bool, text string) {
	if proven {
		w.denied, w.gross = append(w.denied, text), true
	}
}

// beside weighs another reference in the same photo: it lies where such things
// do, and would not if either were half or twice as large.
func (w *weighed) beside(s, o calibrate.Sighting) {
	q, err := calibrate.DepthBetween(s, o)
	var refused *calibrate.Refusal
	if errors.As(err, &refused) && refused.Near == calibrate.Contradicts {
		w.against, w.denied = append(w.against, refused.Reason), append(w.denied, refused.Reason)
	}
	near, known := s.Plane.DistanceCm()
	if err != nil || !known {
		return
	}
	name := o.Reference.Called()
	lies := fmt.Sprintf("%s lies %s cm below it", name, q)
	if q.Value < 0 {
		lies = fmt.Sprintf("%s lies %s cm above it", name, calibrate.Quantity{Value: -q.Value, U: q.U})
	}
	switch {
	case !plausible(s, o, q, near.Value, besideCm):
		w.against = append(w.against, lies)
	case plausible(s, o, q, near.Value, min(besideCm, besideShare*min(near.Value, near.Value+q.Value))) &&
		!plausible(s, o, resized(q, near, 0.5), near.Value/2, besideCm) && !plausible(s, o, resized(q, near, 2), 2*near.Value, besideCm):
		w.by, w.here = append(w.by, lies), true
	}
}

// resized is the depth if the nearer reference were so many times as large,
// and so as far away.
func resized(q, distance calibrate.Quantity, times float64) calibrate.Quantity {
	more := (1 - times) * distance.Value
	return calibrate.Quantity{Value: q.Value + more, U: math.Hypot(q.U, more*distance.U/distance.Value)}
}

// plausible tells whether o may lie so far behind s, which is farCm away. Where
// neither are strings, up to apartCm is believed: a share of their distance, less
// where both are close to the lens, may keep a size from being confirmed, but rules
// none out, since so near a lens the true one lies as far.
func plausible(s, o calibrate.Sighting, q calibrate.Quantity, farCm, apartCm float64) bool {
	over, under := apartCm, apartCm
	strings, other := s.Reference.Kind == calibrate.KindGrid, o.Reference.Kind == calibrate.KindGrid
	switch {
	case strings && !other:
		over, under = overStringsCm, min(underStringsCm, underShare*farCm)
	case other && !strings:
		over, under = min(underStringsCm, underShare*(farCm+q.Value)), overStringsCm
	}
	return q.Value+q.U >= -over && q.Value-q.U <= under
}

// sizeOf says how the size of a reference that is scaled is known; gross: it is
// not what is said of it.
func (p *weighing) sizeOf(i int) (size calibrate.Size, gross bool) {
	s, told, w := p.out[i], p.told, p.weigh(i)
	others := shown(s, told, w)
	if len(others) > 0 && !w.here {
		w.against, w.gross = append(w.against, others...), true
		others = nil
	}
	size = calibrate.Size{Known: calibrate.Confirmed, Against: append(w.against, others...)}
	line := s.Reference.CheckLineMm
	other, lent := borrowed(s, told)
	switch {
	case len(w.against) > 0: // nothing that is contradicted is confirmed
	case len(w.by) > 0 && !p.lent[i]:
		size.By = strings.Join(w.by, "; ")
		return size, w.gross
	case s.Reference.Kind == calibrate.KindCard && line != nil:
		size.By = fmt.Sprintf("its check line of 100 mm measured %g mm", *line)
		return size, w.gross
	case lent:
		size.Photo, size.By = other.Photo, other.By
		return size, w.gross
	}
	size.Known = calibrate.Assumed
	switch {
	case s.By != "":
		size.Known, size.By = calibrate.Said, s.By
	case s.Reference.Kind == calibrate.KindGrid && told.PitchCm > 0:
		size.Known, size.By = calibrate.Said, told.PitchBy
	case told.Named != "":
		size.Known, size.By = calibrate.Said, told.Named
	}
	return size, w.gross
}
