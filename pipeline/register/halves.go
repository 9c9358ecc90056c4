package register

import (
	"errors"
	"fmt"

	"fieldjacket/pipeline/locate"
)

// settleHalves reads UTM positions of which the half of the globe is not told, such as 12S 560000 4250000, by the other positions
// of the register, where all of them lie about one of the two places that may be meant.
func (r *Register) settleHalves() {
	var known []locate.Place
	r.eachPosition(func(_ form, _ int, p *Position) {
		if at, err := p.Read(); err == nil && at.Place != nil {
			known = append(known, *at.Place)
		}
	})
	r.eachPosition(func(f form, row int, p *Position) {
		_, err := p.Read()
		var unclear *locate.HalfUnclear
		if p.Typed == "" || !errors.As(err, &unclear) {
			return
		}
		says := err.Error() + notConverted
		if p.ReadAs = unclear.By(known); p.ReadAs != "" {
			says = fmt.Sprintf("position %q: read as %s, which lies where the register's other positions do: write it so", p.Typed, p.ReadAs)
		}
		if row > 0 {
			r.warn(Problem{File: f.file, Row: row, Column: "position", Allowed: says, Lost: LostNothing})
		}
	})
}

// eachPosition goes through the positions of finds and localities; row is 0 for those of a jacket that was carried over.
func (r *Register) eachPosition(do func(f form, row int, p *Position)) {
	for i := range r.Finds {
		do(findsForm, r.Finds[i].Row, &r.Finds[i].Position)
	}
	for i := range r.Localities {
		do(localitiesForm, r.Localities[i].Row, &r.Localities[i].Position)
	}
}

// Unclear lists the UTM positions of which nothing in the register tells the half of the globe, with where each stands: "finds
// sheet row 3".
func (r *Register) Unclear() map[string]*locate.HalfUnclear {
	out := map[string]*locate.HalfUnclear{}
	r.eachPosition(func(f form, row int, p *Position) {
		var unclear *locate.HalfUnclear
		if _, err := p.Read(); row > 0 && errors.As(err, &unclear) {
			out[fmt.Sprintf("%s sheet row %d", f.name(), row)] = unclear
		}
	})
	return out
}
