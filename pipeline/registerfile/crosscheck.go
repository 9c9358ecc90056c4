package registerfile

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

func sameAs(row int) string {
	return fmt.Sprintf("row %d has the same number: want each number once", row)
}

// numbers is what one sheet gives a number to.
type numbers struct {
	what  string              // "jacket"
	known map[string]bool     // exactly as typed
	looks map[string][]string // what numbers look like, see Twins, and which look so, in the sheet's order
}

func numbersOf[T any](what string, items []T, number func(T) string) numbers {
	n := numbers{what: what, known: map[string]bool{}, looks: map[string][]string{}}
	for _, item := range items {
		text := number(item)
		n.known[text] = true
		n.looks[register.Look(text)] = append(n.looks[register.Look(text)], text)
	}
	return n
}

// crossCheck reports what the sheets say of each other and cannot be: unknown numbers, and numbers that are easily
// taken for each other.
func (r reading) crossCheck() {
	jackets := numbersOf("jacket", r.Jackets, func(j register.Jacket) string { return j.Number })
	finds := numbersOf("find", r.Finds, func(f register.Find) string { return f.FieldNumber })
	setUps := numbersOf("set-up", r.SetUps, func(s register.SetUp) string { return s.Name })
	localities := numbersOf("locality", r.Localities, func(l register.Locality) string { return l.Number })

	for _, f := range r.Finds {
		if f.Row == 0 { // see checkCarried
			continue
		}
		r.warnTwin(table.FindsForm, f.Row, f.FieldNumber, finds)
		if len(r.Localities) > 0 {
			r.warnUnknown(table.FindsForm, f.Row, "locality", f.Locality, localities)
		}
	}
	for _, j := range r.Jackets {
		if j.Row > 0 {
			r.checkJacket(j, jackets, finds)
		}
	}
	for _, s := range r.SetUps {
		r.warnTwin(table.SetUpsForm, s.Row, s.Name, setUps)
		for _, n := range s.Jackets {
			r.warnUnknown(table.SetUpsForm, s.Row, "jackets", n, jackets)
		}
	}
	for _, e := range r.Diary {
		for _, n := range e.Numbers {
			if !register.IsAll(n) {
				r.warnUnknown(table.DiaryForm, e.Row, "numbers", n, jackets, finds)
			}
		}
		if e.Mix != "" && len(r.Season.Mixes) > 0 {
			if _, ok := r.Season.Mix(e.Mix); !ok {
				r.warn(register.Problem{File: table.DiaryForm.File, Row: e.Row, Column: "mix", Value: e.Mix, Lost: register.LostNothing,
					Allowed: "season.toml has no mix of that name: only the name is printed"})
			}
		}
	}
	for _, w := range r.Words {
		for _, n := range w.Jackets {
			r.warnUnknown(table.PhotosForm, w.Row, "jackets", n, jackets)
		}
		r.warnUnknown(table.PhotosForm, w.Row, "setup", w.SetUp, setUps)
	}
}

func (r reading) checkJacket(j register.Jacket, jackets, finds numbers) {
	r.warnTwin(table.JacketsForm, j.Row, j.Number, jackets)
	for _, n := range j.Finds {
		r.warnUnknown(table.JacketsForm, j.Row, "finds", n, finds)
	}
	if finds.known[j.Number] && !slices.Contains(j.Finds, j.Number) {
		r.warn(register.Problem{File: table.JacketsForm.File, Row: j.Row, Column: "finds", Value: strings.Join(j.Finds, "; "), Lost: register.LostNothing,
			Allowed: fmt.Sprintf("find %s is not in the jacket of the same number: a name with %s alone in it does not tell which is meant", j.Number, j.Number)})
	}
	if j.CarriedFrom != "" && j.Carried == nil {
		r.warn(register.Problem{File: table.JacketsForm.File, Row: j.Row, Column: "carried_from", Value: j.CarriedFrom, Lost: register.LostCell,
			Allowed: fmt.Sprintf("no jacket %s was brought over from there: fieldjacket bring SEASON EARLIER-SEASON %s", j.Number, j.Number)})
	}
	if stage, source := r.StageOf(j.Number); j.Stage != "" && !slices.Contains(j.FromEarlier, "stage") && stage != j.Stage && j.Stage.Reached(stage) {
		r.warn(register.Problem{File: table.JacketsForm.File, Row: j.Row, Column: "stage", Value: string(j.Stage), Lost: register.LostNothing,
			Allowed: fmt.Sprintf("the last stage in the diary is %s (%s), and the diary counts: write the step into the diary too", stage, source)})
	}
}

// warnUnknown reports a number that no sheet has, and which it may have been taken for.
func (r reading) warnUnknown(f table.Form, row int, column, number string, sheets ...numbers) {
	var whats, twins []string
	for _, s := range sheets {
		if number == "" || s.known[number] {
			return
		}
		whats = append(whats, s.what)
		for _, twin := range s.looks[register.Look(number)] {
			if !slices.Contains(twins, twin) {
				twins = append(twins, twin)
			}
		}
	}
	text := "no such " + strings.Join(whats, " or ") + " in the register"
	if now := r.NowOf(number); slices.ContainsFunc(sheets, func(s numbers) bool { return s.what == "jacket" }) && len(now) > 0 {
		if f.Key == table.DiaryForm.Key {
			return // the history of what it has become, see means
		}
		text = fmt.Sprintf("that number is no longer in use: it is now %s", strings.Join(now, " and "))
	} else if twins != nil {
		text += fmt.Sprintf("; it looks like %s: write the number in the same way everywhere", strings.Join(twins, " and "))
	} else if strings.ContainsAny(number, ",/+&") {
		text += "; several numbers in a cell are separated by semicolons"
	}
	r.warn(register.Problem{File: f.File, Row: row, Column: column, Value: number, Allowed: text, Lost: register.LostCell})
}

// warnTwin warns of a number that looks like one further up in the same sheet.
func (r reading) warnTwin(f table.Form, row int, number string, all numbers) {
	if first := all.looks[register.Look(number)][0]; first != number {
		r.warn(register.Problem{File: f.File, Row: row, Column: f.Key, Value: number, Lost: register.LostNothing,
			Allowed: fmt.Sprintf("%s and %s are both in this sheet and are easily taken for each other", first, number)})
	}
}
