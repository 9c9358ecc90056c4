package overlay

import (
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
)

const (
	tickMm     = 3  // the leader in the margin, from the picture's edge to the word
	sideRoomMm = 30 // a label beside the picture is broken into lines of this
	apartMm    = 1.2
)

// bands is how much room, in mm, the labels take on each side of the picture.
type bands struct {
	top, right, bottom, left float64
	err                      error
}

func bandsOf(all []look.Label) bands {
	var b bands
	for _, l := range all {
		lines, err := linesOf(l)
		if err != nil {
			b.err = err
			continue
		}
		wide := 0.0
		for _, line := range lines {
			wide = max(wide, widthMm(line, labelMm, letters.Regular))
		}
		switch l.Side {
		case "top":
			b.top = lineEm*labelMm + tickMm
		case "bottom":
			b.bottom = lineEm*labelMm + tickMm
		case "left":
			b.left = max(b.left, wide+tickMm+1)
		case "right":
			b.right = max(b.right, wide+tickMm+1)
		}
	}
	return b
}

// linesOf is a label's lines: one above or below the picture, several beside it.
func linesOf(l look.Label) ([]string, error) {
	if l.Text == "" || !finite(l.XPx, l.YPx) {
		return nil, fmt.Errorf("label %q at (%g, %g): want a text and finite pixels", l.Text, l.XPx, l.YPx)
	}
	switch l.Side {
	case "left", "right":
		return letters.Wrap(l.Text, letters.Regular, sideRoomMm/labelMm)
	case "top", "bottom":
		return letters.Wrap(l.Text, letters.Regular, math.Inf(1))
	}
	return nil, fmt.Errorf("label %q on side %q: want top, right, bottom or left", l.Text, l.Side)
}

// A tag is a label being set along one side: where its middle would best stand, how much room it takes, and where it
// stands, in mm along that side.
type tag struct {
	look.Label
	lines            []string
	best, room, from float64
}

// spread puts the tags in order along a side from lo to hi, so that they lie nearest to their best places in the sense of least
// squares without meeting.
func spread(tags []tag, lo, hi float64) error {
	slices.SortStableFunc(tags, func(a, b tag) int {
		switch {
		case a.best < b.best:
			return -1
		case a.best > b.best:
			return 1
		}
		return 0
	})
	total := -apartMm
	for _, t := range tags {
		total += t.room + apartMm
	}
	if total > hi-lo {
		return fmt.Errorf("%d labels on the %s side need %.0f mm, the plate has %.0f mm: leave some out or shorten them", len(tags), tags[0].Side, total, hi-lo)
	}
	// Where all stood one behind the other from 0 on, each would have to be moved by so much to stand best. Those that would
	// overtake each other are moved together, by the mean of theirs.
	type group struct{ sum, n float64 }
	var groups []group
	mean := func(g group) float64 { return g.sum / g.n }
	at := 0.0
	for i := range tags {
		tags[i].from = at
		groups = append(groups, group{tags[i].best - tags[i].room/2 - at, 1})
		at += tags[i].room + apartMm
		for k := len(groups) - 1; k > 0 && mean(groups[k]) < mean(groups[k-1]); k-- {
			groups[k-1] = group{groups[k-1].sum + groups[k].sum, groups[k-1].n + groups[k].n}
			groups = groups[:k]
		}
	}
	i := 0
	for _, g := range groups {
		for range int(g.n) {
			tags[i].from += min(max(mean(g), lo), hi-total)
			i++
		}
	}
	return nil
}

// labels sets the labels of one side as words, and gives a leader for each.
func (a *arranged) labels(all []look.Label, side string) (set []words, leaders []leader, err error) {
	across := side == "top" || side == "bottom"
	var tags []tag
	for _, l := range all {
		if l.Side != side {
			continue
		}
		lines, err := linesOf(l)
		if err != nil {
			return nil, nil, err
		}
		t := tag{Label: l, lines: lines, room: lineEm * labelMm * float64(len(lines))}
		t.best = (float64(a.Picture.Min.Y) + l.YPx + 0.5) / a.PxPerMm
		if across {
			t.best = (float64(a.Picture.Min.X) + l.XPx + 0.5) / a.PxPerMm
			t.room = widthMm(lines[0], labelMm, letters.Regular)
		}
		tags = append(tags, t)
	}
	if len(tags) == 0 {
		return nil, nil, nil
	}
	x0, y0 := float64(a.Picture.Min.X)/a.PxPerMm, float64(a.Picture.Min.Y)/a.PxPerMm
	x1, y1 := float64(a.Picture.Max.X)/a.PxPerMm, float64(a.Picture.Max.Y)/a.PxPerMm
	lo, hi := y0, y1
	if across {
		lo, hi = edgeMm, a.canvasWidth-edgeMm
	}
	if err := spread(tags, lo, hi); err != nil {
		return nil, nil, err
	}
	for _, t := range tags {
		x, y := x0-tickMm-0.5, t.from
		switch side {
		case "top":
			x, y = t.from, y0-tickMm-lineEm*labelMm
		case "bottom":
			x, y = t.from, y1+tickMm
		case "right":
			x = x1 + tickMm + 0.5
		}
		for i, line := range t.lines {
			w := words{text: line, x: x, y: y + baseEm*labelMm + lineEm*labelMm*float64(i), em: labelMm, width: widthMm(line, labelMm, letters.Regular)}
			if side == "left" {
				w.x -= w.width
			}
			set = append(set, w)
		}
		leaders = append(leaders, a.leader(t, side))
	}
	return set, leaders, nil
}

func finite(values ...float64) bool {
	for _, v := range values {
		if math.IsNaN(v) || math.IsInf(v, 0) || math.Abs(v) > 1e7 {
			return false
		}
	}
	return true
}
