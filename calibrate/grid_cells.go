package calibrate

import "math"

// judgeCells compares the strings counted with the cells that the reference
// says its frame has: more than it can have is a grid read too fine. Fewer are
// allowed where the frame runs out of the picture; where there is room for
// more strings at both ends of a direction, fewer is a grid read too coarse.
//
// A frame of ten cells has nine strings, or eleven lines with its own edges.
func judgeCells(ref Reference, p *Plane) error {
	if ref.CellsAcross == 0 {
		return nil
	}
	least, most := min(ref.CellsAcross, ref.CellsDown), max(ref.CellsAcross, ref.CellsDown)
	low, high := p.Spans(ref)
	few, many := min(low, high), max(low, high)
	if few > least || many > most {
		return Refuse(retakeGrid, "grid: %d x %d squares counted, but the frame has %d x %d: the pitch is in doubt", few, many, least, most).At(Other)
	}
	if (few < least-2 || many < most-2) && p.roomBeyond(ref, 0) && p.roomBeyond(ref, 1) || low < least-2 && p.roomBeyond(ref, 0) || high < least-2 && p.roomBeyond(ref, 1) {
		return Refuse(retakeGrid, "grid: %d x %d squares counted with room for more, but the frame has %d x %d: the pitch is in doubt", few, many, least, most).At(Other)
	}
	return nil
}

// Spans is how many cells of a grid lie between the outermost strings, each way.
func (p *Plane) Spans(ref Reference) (across, down int) {
	return int(math.Round((p.Corners[2][0] - p.Corners[0][0]) / ref.PitchCm)), int(math.Round((p.Corners[2][1] - p.Corners[0][1]) / ref.PitchCm))
}

// roomBeyond tells whether the picture shows two more cells beyond the strings
// at both ends, along the plane's first (0) or second (1) direction.
func (p *Plane) roomBeyond(ref Reference, direction int) bool {
	level := Level{plane: p}
	lo, hi := p.Corners[0], p.Corners[2]
	middle := (lo[1-direction] + hi[1-direction]) / 2
	for _, end := range []float64{lo[direction] - 2*ref.PitchCm, hi[direction] + 2*ref.PitchCm} {
		c := [2]float64{middle, middle}
		c[direction] = end
		at, ok := level.Photo(c[0], c[1])
		if !ok || at.XPx < 0 || at.YPx < 0 || at.XPx > float64(p.Camera.WidthPx) || at.YPx > float64(p.Camera.HeightPx) {
			return false
		}
	}
	return true
}
