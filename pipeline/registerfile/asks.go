package registerfile

import (
	"fmt"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// Sizes over which a jacket is a rarity: more is asked after (common practice, no source).
const (
	askCm = 300
	askKg = 1000
)

// ask reports what may be so but is mostly a slip of the pen: sizes of jackets, and initials of nobody. Nothing is lost by it.
func (r reading) ask() {
	millimetres := func(cm float64) string { return fmt.Sprintf("where %g mm are meant, type %g", cm, cm/10) }
	kilograms := func(kg float64) string { return fmt.Sprintf("where %g g are meant, type %g", kg, kg/1000) }
	for _, j := range r.Jackets {
		if j.Row == 0 {
			continue
		}
		for _, size := range []struct {
			column string
			v      *float64
			most   float64
			unit   string
			slip   func(v float64) string
		}{
			{"length_cm", j.LengthCm, askCm, "cm", millimetres},
			{"width_cm", j.WidthCm, askCm, "cm", millimetres},
			{"depth_cm", j.DepthCm, askCm, "cm", millimetres},
			{"weighed_kg", j.WeighedKg, askKg, "kg", kilograms},
		} {
			if size.v != nil && *size.v > size.most {
				r.warn(register.Problem{File: table.JacketsForm.File, Row: j.Row, Column: size.column, Value: fmt.Sprintf("%g", *size.v), Lost: register.LostNothing,
					Allowed: fmt.Sprintf("%g %s? Few jackets are over %g %s; %s. It is printed as it stands", *size.v, size.unit, size.most, size.unit, size.slip(*size.v))})
			}
		}
	}
	r.askWho()
}

// askWho reports initials that stand in no list of people, each once in a sheet; nothing where season.toml names nobody.
func (r reading) askWho() {
	if len(r.Season.People) == 0 {
		return
	}
	asked := map[string]bool{}
	ask := func(file string, row int, column, by string) {
		for _, who := range r.Season.Unknown(by) {
			if row > 0 && !asked[file+"\x00"+who] {
				asked[file+"\x00"+who] = true
				r.warn(register.Problem{File: file, Row: row, Column: column, Value: who, Lost: register.LostNothing, Allowed: register.UnknownPerson})
			}
		}
	}
	for _, f := range r.Finds {
		ask(table.FindsForm.File, f.Row, "by", f.By)
	}
	for _, j := range r.Jackets {
		for _, w := range j.Waivers {
			ask(table.JacketsForm.File, j.Row, "waiver", w.By)
		}
	}
	for _, e := range r.Diary {
		ask(table.DiaryForm.File, e.Row, "by", e.By)
	}
	for _, w := range r.Words {
		ask(table.PhotosForm.File, w.Row, "by", w.By)
	}
}
