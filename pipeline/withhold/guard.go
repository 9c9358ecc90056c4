package withhold

import (
	"reflect"
	"regexp"
	"slices"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fieldjacket/pipeline/register"
)

// heldBack stands in an exported text for what is not passed on.
const heldBack = "[held back]"

// A Guard keeps what a season's register says in confidence out of texts that leave the crew's hands: besides positions, which [Text]
// knows by their form, the names of localities, owners, permits and ways in, numbers out of positions that were typed, and the
// names of people who did not agree to be named.
type Guard struct {
	positions bool           // they may be passed on
	secret    *regexp.Regexp // nil: the register holds none
	people    []register.Person
	known     map[string]string // texts that were cleaned before
}

// NewGuard is the guard of a register. With positions, only names of people are held back.
func NewGuard(r *register.Register, positions bool) *Guard {
	g := &Guard{positions: positions, people: people(r), known: map[string]string{}}
	var s secrets
	if !positions {
		s.ofPlaces(r)
	}
	for _, p := range g.people {
		if !p.MayPrint {
			s.name(p.Name)
		}
	}
	if c := r.Season.Contact; !c.MayPrint {
		s.phrase(c.Owner)
		s.phrase(c.Ask)
	}
	if len(s) > 0 {
		slices.SortStableFunc(s, func(a, b string) int { return len(b) - len(a) }) // the longest is taken out first
		g.secret = regexp.MustCompile(strings.Join(slices.Compact(s), "|"))
	}
	return g
}

// people are the crew of this season and of those from which jackets were carried over.
func people(r *register.Register) []register.Person {
	all := slices.Clone(r.Season.People)
	for _, j := range r.Jackets {
		for c := j.Carried; c != nil; c = c.Before {
			for _, p := range c.Season.People {
				if !slices.ContainsFunc(all, func(o register.Person) bool { return o.Name == p.Name }) {
					all = append(all, p)
				}
			}
		}
	}
	return all
}

// Text is a text as it may be passed on.
func (g *Guard) Text(text string) string {
	if out, ok := g.known[text]; ok {
		return out
	}
	out := norm.NFC.String(text)
	if g.secret != nil {
		out = g.secret.ReplaceAllString(out, heldBack)
	}
	if !g.positions {
		out = Text(out)
	}
	g.known[text] = out
	return out
}

// Holds tells whether any text of v, whatever its type, holds what may not be passed on.
func (g *Guard) Holds(v any) bool { return g.within(reflect.ValueOf(v)) }

func (g *Guard) within(v reflect.Value) bool {
	switch v.Kind() {
	case reflect.String:
		return g.Text(v.String()) != norm.NFC.String(v.String())
	case reflect.Pointer, reflect.Interface:
		return !v.IsNil() && g.within(v.Elem())
	case reflect.Slice, reflect.Array:
		for i := range v.Len() {
			if g.within(v.Index(i)) {
				return true
			}
		}
	case reflect.Struct:
		for i := range v.NumField() {
			if v.Type().Field(i).IsExported() && g.within(v.Field(i)) {
				return true
			}
		}
	}
	return false
}

// Names are those in a "by" cell as they may be passed on: the name of whoever agreed to it, else the initials. A full name that
// stands in no list of people is given by its initials too, since nobody said that it may be printed.
func (g *Guard) Names(by string) (names, orcids []string) {
	for _, who := range strings.FieldsFunc(by, func(c rune) bool { return strings.ContainsRune(",;/&+|", c) }) {
		who = strings.Join(strings.Fields(who), " ")
		if who == "" {
			continue
		}
		i := slices.IndexFunc(g.people, func(p register.Person) bool { return p.Initials == who || p.Name != "" && p.Name == who })
		switch {
		case i >= 0 && g.people[i].MayPrint && g.people[i].Name != "":
			names = append(names, g.Text(g.people[i].Name))
			if id := g.people[i].ORCID; id != "" {
				orcids = append(orcids, "https://orcid.org/"+id)
			}
		case i >= 0 && g.people[i].Initials != "":
			names = append(names, g.people[i].Initials)
		default:
			names = append(names, initials(who))
		}
	}
	return names, orcids
}

// initials are those of a full name; what is none stays as it is.
func initials(who string) string {
	if !strings.ContainsFunc(who, unicode.IsLower) && len([]rune(who)) <= 5 {
		return who
	}
	var b strings.Builder
	for _, word := range strings.FieldsFunc(who, func(c rune) bool { return !unicode.IsLetter(c) }) {
		b.WriteRune(unicode.ToUpper([]rune(word)[0]))
	}
	return b.String()
}

// Columns are a row's unknown columns that may be passed on, as they may be.
func (g *Guard) Columns(row []register.Other) (out []register.Other) {
	for i, o := range row {
		if g.positions || !held(row, i) {
			out = append(out, register.Other{Head: g.Text(o.Head), Text: g.Text(o.Text)})
		}
	}
	return out
}
