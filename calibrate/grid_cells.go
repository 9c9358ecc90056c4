package calibrate

import "math"

// judgeCells compares the strings counted with the cells that the reference
// says its frame has: more than it can have is a grid read too fine. Fewer are
// allowed where the frame runs out of the picture; where there is room for
// more strings all round, fewer is a grid read too coarse.
//
// A frame of ten cells has nine strings, or eleven lines with its own edges.
func judgeCells(ref Reference, p *Plane) error {
	if ref.CellsAcross == 0 {
		return nil
	}
	least, most := min(ref.CellsAcross, ref.CellsDown), max(ref.CellsAcross, ref.CellsDown)
	low, high := p.spans(ref)
	few, many := min(low, high), max(low, high)
	if few > least || many > most {
		return Refuse(retakeGrid, "grid: %d x %d cells counted, but the frame has %d x %d: the pitch is in doubt", few, many, least, most)
	}
	if (few < least-2 || many < most-2) && p.roomAround(ref) {
		return Refuse(retakeGrid, "grid: %d x %d cells counted with room for more all round, but the frame has %d x %d: the pitch is in doubt", few, many, least, most)
	}
	return nil
}

// spans is how many cells lie between the outermost strings, each way.
func (p *Plane) spans(ref Reference) (across, down int) {
	return int(math.Round((p.Corners[2][0] - p.Corners[0][0]) / ref.PitchCm)), int(math.Round((p.Corners[2][1] - p.Corners[0][1]) / ref.PitchCm))
}

// roomAround tells whether the picture shows two more cells beyond the
// strings on every side.
func (p *Plane) roomAround(ref Reference) bool {
	level := Level{plane: p}
	margin := 2 * ref.PitchCm
	lo, hi := p.Corners[0], p.Corners[2]
	for _, c := range [][2]float64{{lo[0] - margin, lo[1] - margin}, {hi[0] + margin, lo[1] - margin}, {hi[0] + margin, hi[1] + margin}, {lo[0] - margin, hi[1] + margin}} {
		at, ok := level.Photo(c[0], c[1])
		if !ok || at.XPx < 0 || at.YPx < 0 || at.XPx > float64(p.Camera.WidthPx) || at.YPx > float64(p.Camera.HeightPx) {
			return false
		}
	}
	return true
}
