package register

import (
	"errors"
	"fmt"

	"fieldjacket/pipeline/locate"
)

// Unclear lists the UTM positions of which nothing in the register tells the half of the globe, with where each stands: "finds
// sheet row 3".
func (r *Register) Unclear() map[string]*locate.HalfUnclear {
	out := map[string]*locate.HalfUnclear{}
	note := func(sheet string, row int, p Position) {
		var unclear *locate.HalfUnclear
		if _, err := p.Read(); row > 0 && errors.As(err, &unclear) {
			out[fmt.Sprintf("%s sheet row %d", sheet, row)] = unclear
		}
	}
	for _, f := range r.Finds {
		note("finds", f.Row, f.Position)
	}
	for _, l := range r.Localities {
		note("localities", l.Row, l.Position)
	}
	return out
}
