package overlay

import (
	"cmp"
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

const (
	northWide = 46 // mm, the column that the arrow or its absence stands in
	columnGap = 6
	barTall   = 4.2
	barEnds   = 16 // mm for the words over a bar's two ends, which stand out to its sides
	barBlock  = lineEm*labelMm + 0.6 + barTall + 2
	sheetMm   = 183 // the narrowest paper's room: a wider plate may be cut into sheets
)

// wordsWide is how wide the words below a picture run: where the plate may be cut into sheets, no wider than the first of the
// narrowest paper, so that no line is cut in two.
func wordsWide(width float64) float64 {
	if width > sheetMm {
		return widestMm - 2*edgeMm
	}
	return width
}

// footOf is the block below the picture: what its line means, the scale bar with the headline, the north arrow beside
// them, and the title block. barWide is the bar's length in mm of print, 0 where it is not known yet.
func footOf(p look.Plate, width, barWide float64) *block {
	if barWide > width-barEnds {
		return &block{err: fmt.Errorf("scale bar of %.0f mm of print: the plate is %.0f mm wide", barWide, width)}
	}
	width = wordsWide(width)
	b := &block{width: width}
	y := 0.0
	if p.OutlineText != "" {
		const sample = 9 // mm of the line itself, as a key
		b.shape(func(d *pen) { d.doubleLine([][2]float64{{0, 0.6 * smallMm}, {sample, 0.6 * smallMm}}, false) })
		y = b.text(p.OutlineText, sample+2, 0, width-sample-2, smallMm, letters.Regular) + gapMm
	}
	left, northY := width-northWide-columnGap, y
	if barWide > left-barEnds { // a long bar: the arrow stands below it
		northY += barBlock
	}
	right := b.north(p, width-northWide, northY)
	below := b.ups(p.Ups, b.scale(p, y, left, barWide), right, left)
	for _, profile := range p.Profiles {
		below = b.profile(profile, below+gapMm)
	}
	if p.Table != nil {
		below = b.table(*p.Table, below+gapMm)
	}
	b.rows(p.Rows, below+gapMm)
	return b
}

// scale sets the bar, the headline and what stands below it, and returns the y below them.
func (b *block) scale(p look.Plate, y, room, barWide float64) float64 {
	if p.Bar != nil {
		if err := barFault(*p.Bar); err != nil {
			b.fail(err)
		} else {
			b.bar(*p.Bar, y, barWide)
			y += barBlock
		}
	}
	y = b.text(p.Headline, 0, y, room, headlineMm, letters.Bold)
	return b.text(p.Small, 0, y+0.6, room, smallMm, letters.Regular)
}

func barFault(bar look.Bar) error {
	if bar.Blocks < 1 || bar.Blocks > 20 || !(bar.BlockCm > 0) || !(bar.PxPerCm > 0) || math.IsInf(bar.BlockCm*bar.PxPerCm, 0) {
		return fmt.Errorf("scale bar of %d blocks of %g cm at %g px/cm: want 1 to 20 blocks and positive lengths", bar.Blocks, bar.BlockCm, bar.PxPerCm)
	}
	return nil
}

// north sets the arrow with what it is and whence, or why there is none.
func (b *block) north(p look.Plate, x, y float64) float64 {
	if p.North == nil {
		text := p.NoNorth
		if text == "" {
			text = "NO BEARING"
		}
		end := b.text(text, x+2, y+1.4, northWide-4, labelMm, letters.Bold) + 1.4
		b.shape(func(d *pen) { d.box(x, y, northWide, end-y, 0.4) })
		b.height = max(b.height, end)
		return end
	}
	if n := p.North.ClockwiseFromUpDeg; math.IsNaN(n) || math.IsInf(n, 0) {
		b.fail(fmt.Errorf("north arrow at %g degrees: want a finite angle", n))
		return y
	}
	const tall = 30 // mm, the arrow with its letter turned any way
	middle, north := y+tall/2, *p.North
	b.shape(func(d *pen) { d.north(x+northWide/2, middle, north.ClockwiseFromUpDeg) })
	y = b.text(north.Text, x, y+tall, northWide, labelMm, letters.Bold)
	return b.text(north.Source, x, y, northWide, smallMm, letters.Regular)
}

// ups sets the arrows that are not north, each where the block is least tall by then: side by side below the scale, which ends
// at scaleY and is room mm wide, or below north, which ends at northY. It returns the y below everything.
func (b *block) ups(all []look.North, scaleY, northY, room float64) float64 {
	ends := map[float64]float64{b.width - northWide: northY} // where a column begins: its y so far
	xs := []float64{b.width - northWide}
	for x := 0.0; x+northWide <= room; x += northWide + columnGap {
		ends[x], xs = scaleY, append(xs, x)
	}
	below := max(scaleY, northY)
	for _, up := range all {
		at := slices.MinFunc(xs, func(a, b float64) int { return cmp.Or(cmp.Compare(ends[a], ends[b]), cmp.Compare(a, b)) })
		ends[at] = b.up(up, at, ends[at]+gapMm)
		below = max(below, ends[at])
	}
	return below
}

// up sets a plain arrow with which of the ups it is, and whence.
func (b *block) up(up look.North, x, y float64) float64 {
	if n := up.ClockwiseFromUpDeg; math.IsNaN(n) || math.IsInf(n, 0) {
		b.fail(fmt.Errorf("arrow %q at %g degrees: want a finite angle", up.Text, n))
		return y
	}
	const box = 14 // mm, the arrow turned any way
	b.shape(func(d *pen) { d.up(x+box/2, y+box/2, up.ClockwiseFromUpDeg) })
	end := b.text(up.Text, x+box+1, y+1, northWide-box-1, labelMm, letters.Bold)
	end = b.text(up.Source, x+box+1, end, northWide-box-1, smallMm, letters.Regular)
	b.height = max(b.height, end, y+box)
	return max(end, y+box)
}

// rows sets the title block in two columns of names and texts, the first half of the rows to the left.
func (b *block) rows(rows []look.Row, y float64) {
	if len(rows) == 0 {
		return
	}
	const inset, name = 1.5, 17
	column := b.width / 2
	set := func(into *block, from, to int, x float64) float64 {
		at := y + 0.8
		for i := from; i < to; i++ {
			one := into.text(rows[i].Name, x+inset, at+0.1, name, smallMm, letters.Bold)
			two := into.text(rows[i].Text, x+inset+name+1, at, column-name-1-2*inset, rowMm, letters.Regular)
			at = max(one, two, at+lineEm*rowMm) + 0.5
			if line := at - 0.1; i < to-1 {
				into.shape(func(d *pen) { d.rule(x, line, x+column, line, 0.15) })
			}
			at += 0.5
		}
		return at
	}
	// The split that gives the lowest block.
	split, least := len(rows), math.Inf(1)
	for i := (len(rows) + 1) / 2; i <= len(rows); i++ {
		if tall := max(set(&block{}, 0, i, 0), set(&block{}, i, len(rows), column)); tall < least {
			split, least = i, tall
		}
	}
	end := max(set(b, 0, split, 0), set(b, split, len(rows), column))
	b.shape(func(d *pen) {
		d.box(0, y, b.width, end-y, 0.35)
		d.rule(column, y, column, end, 0.35)
	})
	b.height = max(b.height, end+0.2)
}
