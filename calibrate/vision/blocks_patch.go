package vision

import (
	"bytes"
	"slices"
)

// A stretch is a run of set pixels in one row of a mask, from x0 to before x1,
// and the one that it hangs on: itself for the first of its patch.
type stretch struct {
	y, x0, x1 int32
	on        int32
}

// A patchBox is the upright box and the area of one patch.
type patchBox struct {
	x0, y0, x1, y1, area, last int32 // last: the patch's latest run
}

// patches gives the block-shaped patches of a mask whose pixels are 0 or 255.
// Pixels hang together over their sides, not over corners, so that blocks that
// touch at corners stay apart. A mask of ground is nearly empty, so runs are
// found by searching bytes and joined row by row: labelling every pixel takes
// several times as long.
func patches(mask []uint8, width, height int) []quad {
	runs := runsOf(mask, width, height)
	boxes := make([]patchBox, len(runs))
	before := make([]int32, len(runs)) // the patch's run before this one
	for i := range runs {
		r := &runs[i]
		root := rootOf(runs, int32(i))
		b := &boxes[root]
		if b.area == 0 {
			*b = patchBox{r.x0, r.y, r.x1, r.y + 1, 0, -1}
		}
		b.x0, b.x1, b.y1 = min(b.x0, r.x0), max(b.x1, r.x1), max(b.y1, r.y+1)
		b.area += r.x1 - r.x0
		before[i], b.last = b.last, int32(i)
	}
	most := int32(maxBlockShare * float64(max(width, height)))
	var out []quad
	var rows []stretch
	var hull []place
	for i := range boxes {
		b := &boxes[i]
		w, h := b.x1-b.x0, b.y1-b.y0
		if b.area < minBlockArea || min(w, h) < minBlockPx || max(w, h) > most || 4*b.area < w*h {
			continue
		}
		if b.x0 == 0 || b.y0 == 0 || int(b.x1) == width || int(b.y1) == height {
			continue // cut by the frame: not whole
		}
		rows = rowsOf(runs, before, b, rows)
		hull = hullOf(hull, rows)
		if q, ok := quadOf(hull, float64(b.area)); ok {
			out = append(out, q)
		}
	}
	return out
}

// runsOf lists the runs of a mask, joined to those of the row above.
func runsOf(mask []uint8, width, height int) []stretch {
	var runs []stretch
	above, aboveEnd := 0, 0 // the runs of the row before
	for y := range height {
		row := mask[y*width : (y+1)*width]
		first := len(runs)
		up := above
		for x := 0; x < width; {
			gap := bytes.IndexByte(row[x:], 255)
			if gap < 0 {
				break
			}
			x += gap
			end := bytes.IndexByte(row[x:], 0)
			if end < 0 {
				end = width - x
			}
			n := int32(len(runs))
			r := stretch{int32(y), int32(x), int32(x + end), n}
			runs = append(runs, r)
			x += end
			for up < aboveEnd && runs[up].x1 <= r.x0 {
				up++
			}
			for k := up; k < aboveEnd && runs[k].x0 < r.x1; k++ {
				a, b := rootOf(runs, int32(k)), rootOf(runs, n)
				runs[max(a, b)].on = min(a, b)
			}
		}
		above, aboveEnd = first, len(runs)
	}
	return runs
}

// rootOf is the first run of a run's patch; it shortens the way there.
func rootOf(runs []stretch, i int32) int32 {
	for runs[i].on != i {
		runs[i].on = runs[runs[i].on].on
		i = runs[i].on
	}
	return i
}

// rowsOf gives the ends of a patch's rows, from x0 to before x1, downwards.
func rowsOf(runs []stretch, before []int32, b *patchBox, rows []stretch) []stretch {
	rows = rows[:0]
	for i := b.last; i >= 0; i = before[i] {
		r := runs[i]
		if n := len(rows) - 1; n >= 0 && rows[n].y == r.y {
			rows[n].x0, rows[n].x1 = min(rows[n].x0, r.x0), max(rows[n].x1, r.x1)
			continue
		}
		rows = append(rows, r)
	}
	slices.Reverse(rows)
	return rows
}
