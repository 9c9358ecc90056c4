package registerfile

import (
	"errors"
	"fmt"

	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// settleHalves reads UTM positions of which the half of the globe is not told, such as 12S 560000 4250000, by the other positions
// of the register, where all of them lie about one of the two places that may be meant.
func (r reading) settleHalves() {
	var known []locate.Place
	r.eachPosition(func(_ table.Form, _ int, p *register.Position) {
		if at, err := p.Read(); err == nil && at.Place != nil {
			known = append(known, *at.Place)
		}
	})
	r.eachPosition(func(f table.Form, row int, p *register.Position) {
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
			r.warn(register.Problem{File: f.File, Row: row, Column: "position", Allowed: says, Lost: register.LostNothing})
		}
	})
}

// eachPosition goes through the positions of finds and localities; row is 0 for those of a jacket that was carried over.
func (r reading) eachPosition(do func(f table.Form, row int, p *register.Position)) {
	for i := range r.Finds {
		do(table.FindsForm, r.Finds[i].Row, &r.Finds[i].Position)
	}
	for i := range r.Localities {
		do(table.LocalitiesForm, r.Localities[i].Row, &r.Localities[i].Position)
	}
}
