package stringgrid

import (
	"cmp"
	"math"
	"slices"
)

// distinct drops chains that run along a stronger one: a string is seen in
// several layers, and a thick one by both its sides.
func distinct(all []chain) (out []chain) {
	slices.SortStableFunc(all, func(a, b chain) int { return cmp.Compare(b.strength(), a.strength()) })
	for i := range all {
		if !slices.ContainsFunc(out, func(k chain) bool { return k.carries(&all[i]) }) {
			out = append(out, all[i])
		}
	}
	return out
}

// carries tells whether most of another chain runs along this one.
func (c *chain) carries(o *chain) bool {
	if math.Abs(c.dx*o.dy-c.dy*o.dx) > 0.06 {
		return false
	}
	wide := 3*float64(int(1)<<max(c.halvings, o.halvings)) + 2*c.straightPx
	inside := 0
	for i := range 5 {
		at := o.lo + (0.1+0.2*float64(i))*o.span()
		x, y := o.x+at*o.dx-c.x, o.y+at*o.dy-c.y
		along, aside := x*c.dx+y*c.dy, math.Abs(y*c.dx-x*c.dy)
		if along > c.lo-10 && along < c.hi+10 && aside < wide {
			inside++
		}
	}
	return inside >= 3
}
