package registerfile

import (
	"errors"
	"fmt"
	"reflect"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// ErrClash says that a number of a carried jacket is another's in this season, and nobody can know which one a photo or a
// line of the diary means.
var ErrClash = errors.New("one number would mean two things")

// CanCarry reports why jackets cannot be carried into the season folder dir, whether they are there already or not: a number of
// theirs is that of another jacket, find or locality, or is easily taken for one.
func CanCarry(dir string, all ...register.Carried) error {
	sheets, err := readWithout(dir, func(c register.Carried) bool {
		return slices.ContainsFunc(all, func(o register.Carried) bool { return o.Folder == c.Folder })
	})
	if err != nil {
		return err
	}
	r := reading{sheets}
	for _, c := range all {
		if err := r.importCarried(c); err != nil {
			return err
		}
		for _, p := range r.carriedTwins(c) {
			return fmt.Errorf("%s: %w: give one another number: fieldjacket bring ... %s=NEW", p.Allowed, ErrClash, c.Number)
		}
	}
	return nil
}

// importCarried puts a carried jacket, its finds and their localities into the register. A row of the jackets sheet that names the
// earlier season in carried_from goes on with it: its cells count, and those left blank are taken over. Every other use of
// the same number is an error that wraps [ErrClash].
func (r reading) importCarried(c register.Carried) error {
	now := c.NowIs(c.Number)
	var finds []register.Find
	for _, f := range c.Finds {
		n := c.NowIs(f.FieldNumber)
		as := carriedFind(c, f)
		have, there := r.Find(n)
		jacket, isJacket := r.Jacket(n)
		switch {
		case there && (have.Row > 0 || !reflect.DeepEqual(have, as)): // a find in two jackets comes along with each
			return clashOf(c, "find", f.FieldNumber, n, r.whereFind(have))
		case isJacket && n != now:
			return clashOf(c, "find", f.FieldNumber, n, r.whereJacket(jacket))
		case !there:
			finds = append(finds, as)
		}
	}
	for _, l := range c.Localities {
		n := c.NowIs(l.Number)
		if i := slices.IndexFunc(r.Localities, func(o register.Locality) bool { return o.Number == n }); i >= 0 && !samePlace(r.Localities[i], l) {
			return clashOf(c, "locality", l.Number, n, fmt.Sprintf("locality %s (%s), another place by its name or position", n, where(table.LocalitiesForm, r.Localities[i].Row)))
		}
	}
	j := carriedJacket(c)
	i := slices.IndexFunc(r.Jackets, func(o register.Jacket) bool { return o.Number == now })
	switch {
	case i < 0:
		r.Jackets = append(r.Jackets, j)
	case r.Jackets[i].Carried != nil, !named(c, r.Jackets[i].CarriedFrom):
		return clashOf(c, "jacket", c.Number, now, r.whereJacket(r.Jackets[i]))
	default:
		goOn(&r.Jackets[i], j)
	}
	r.Finds = append(r.Finds, finds...)
	for _, l := range c.Localities {
		l.Row, l.Number = 0, c.NowIs(l.Number)
		if !slices.ContainsFunc(r.Localities, func(o register.Locality) bool { return o.Number == l.Number }) {
			r.Localities = append(r.Localities, l)
		}
	}
	return nil
}

// named reports whether a carried_from cell names the season that c comes from.
func named(c register.Carried, cell string) bool {
	return cell != "" && register.SameWord(cell, c.From)
}

func clashOf(c register.Carried, what, was, now, other string) error {
	own := fmt.Sprintf("%s %s of %s", what, was, c.From)
	if was != now {
		own += fmt.Sprintf(" (here %s)", now)
	}
	says := fmt.Sprintf("give it another number in this season: fieldjacket bring ... %s=NEW", was)
	if what == "jacket" {
		says = fmt.Sprintf("if they are the same, write %q into that row's column carried_from; if not, give the earlier one another number here: fieldjacket bring ... %s=NEW", c.From, was)
	}
	return fmt.Errorf("%s, and %s: %w: %s", own, other, ErrClash, says)
}

func where(f table.Form, row int) string {
	if row == 0 {
		return "carried over"
	}
	return fmt.Sprintf("%s row %d", f.Name(), row)
}

func (r reading) whereFind(f register.Find) string {
	if f.Row == 0 {
		for _, j := range r.JacketsOf(f.FieldNumber) {
			if j.Carried != nil {
				return fmt.Sprintf("find %s in %s", f.FieldNumber, j.Carried)
			}
		}
	}
	return fmt.Sprintf("find %s of this season (%s, %s)", f.FieldNumber, where(table.FindsForm, f.Row), f.What)
}

func (r reading) whereJacket(j register.Jacket) string {
	if j.Carried != nil {
		return j.Carried.String()
	}
	return fmt.Sprintf("jacket %s of this season (%s, finds %s)", j.Number, where(table.JacketsForm, j.Row), strings.Join(j.Finds, ", "))
}

// carriedFind is a find of the carried jacket as a row of this season.
func carriedFind(c register.Carried, f register.Find) register.Find {
	f.Row, f.Locality = 0, c.NowIs(f.Locality)
	if n := c.NowIs(f.FieldNumber); n != f.FieldNumber {
		f.Formerly, f.FieldNumber = with(f.Formerly, f.FieldNumber), n
	}
	return f
}

// carriedJacket is the carried jacket as a row of this season. Its mass is left out: whoever works on it changes that.
func carriedJacket(c register.Carried) register.Jacket {
	j := c.Jacket
	j.Row, j.Stage, j.Waivers, j.Carried, j.CarriedFrom = 0, c.Stage, nil, &c, c.From
	j.Finds, j.SisterJackets, j.WeighedKg = nil, nil, nil
	for _, n := range c.Jacket.Finds {
		j.Finds = append(j.Finds, c.NowIs(n))
	}
	for _, n := range c.Jacket.SisterJackets {
		j.SisterJackets = append(j.SisterJackets, c.NowIs(n))
	}
	if j.Number = c.NowIs(c.Number); j.Number != c.Number {
		j.Formerly = with(j.Formerly, c.Number)
	}
	return j
}

// goOn fills the cells that this season's row leaves blank from the same jacket of an earlier season, and keeps their heads
// in FromEarlier. Finds and earlier numbers are added: none leaves a closed jacket.
func goOn(j *register.Jacket, was register.Jacket) {
	j.Carried = was.Carried
	take := func(head string, blank bool, set func()) {
		if blank {
			set()
			j.FromEarlier = append(j.FromEarlier, head)
		}
	}
	take("kind", j.Kind == "" && was.Kind != "", func() { j.Kind = was.Kind })
	take("stage", j.Stage == "" && was.Stage != "", func() { j.Stage = was.Stage })
	take("pieces", j.Piece == nil && was.Piece != nil, func() { j.Piece = was.Piece })
	for _, text := range []struct {
		head string
		to   *string
		from string
	}{
		{"matrix", &j.Rock, was.Rock}, {"wet", &j.Wet, was.Wet}, {"separator", &j.Separator, was.Separator},
		{"jacket_materials", &j.JacketKind, was.JacketKind}, {"layers", &j.Layers, was.Layers}, {"splints", &j.Splints, was.Splints},
		{"open_side", &j.OpenSide, was.OpenSide}, {"samples", &j.Samples, was.Samples}, {"sent_to", &j.SentTo, was.SentTo},
	} {
		take(text.head, *text.to == "" && text.from != "", func() { *text.to = text.from })
	}
	for _, size := range []struct {
		head string
		to   **float64
		from *float64
	}{
		{"length_cm", &j.LengthCm, was.LengthCm}, {"width_cm", &j.WidthCm, was.WidthCm}, {"depth_cm", &j.DepthCm, was.DepthCm},
		{"bone_to_plaster_mm", &j.BoneCoverMm, was.BoneCoverMm},
	} {
		take(size.head, *size.to == nil && size.from != nil, func() { *size.to = size.from })
	}
	if j.OutlinedCm2 == nil {
		j.OutlinedCm2 = was.OutlinedCm2
	}
	j.Finds, j.Formerly, j.SisterJackets = with(j.Finds, was.Finds...), with(j.Formerly, was.Formerly...), with(j.SisterJackets, was.SisterJackets...)
	for _, o := range was.Other {
		if !slices.ContainsFunc(j.Other, func(own register.Other) bool { return register.SameWord(own.Head, o.Head) }) {
			j.Other = append(j.Other, o)
			j.FromEarlier = append(j.FromEarlier, o.Head)
		}
	}
}

// with is a list with what it does not have yet put behind.
func with(list []string, more ...string) []string {
	out := slices.Clone(list)
	for _, m := range more {
		if !slices.Contains(out, m) {
			out = append(out, m)
		}
	}
	return out
}

// samePlace reports whether two rows can be the same locality: no name or position in both that differs. Owners,
// permits and access change from year to year.
func samePlace(l, o register.Locality) bool {
	differ := func(a, b string) bool { return a != "" && b != "" && !register.SameWord(a, b) }
	return !differ(l.Name, o.Name) && !differ(l.Position.Typed, o.Position.Typed) && !differ(l.Position.Datum, o.Position.Datum)
}
