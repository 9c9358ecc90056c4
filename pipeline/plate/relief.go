package plate

import (
	"cmp"
	"fmt"
	"math"
	"path"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
)

// drawsRelief tells whether a photo's plates have one more, with the ground's level lines: the photo is the first of those
// that tell its depth together, and a scale stands on it.
func (in Input) drawsRelief() bool {
	plane, _ := in.Plane()
	return in.Ground != nil && in.Ground.First && plane != nil && plane.Homography == in.Ground.Plane.Homography && !in.Mirrored()
}

// relief turns what a plate says into its plate of level lines: the picture pale, lines, profiles and the depth of each square on
// and below it, and of the title block what tells which plate it is.
func (d *draft) relief(p *look.Plate, number string) {
	_, sighting := d.Plane()
	lay, squares := figure.Lay{Picture: p.Picture}, d.named(number, sighting)
	p.Heading = "relief, " + p.Heading
	if p.Pale, p.Under = true, nil; p.Stamp != fromBelow {
		p.Stamp = ""
	}
	p.Contours = d.Ground.Contours(lay)
	p.Rows = slices.DeleteFunc(slices.Clone(p.Rows), func(r look.Row) bool {
		return !slices.Contains([]string{"formerly", "finds", "locality", "taken", "ends", "squares", "photo"}, r.Name)
	})
	add := func(name, text string) { p.Rows = append(p.Rows, look.Row{Name: name, Text: letters.Spell(text)}) }
	add("level lines", fmt.Sprintf("each %g cm, numbered in cm below the strings, where the picture shows the ground; smoothed, and carried across gaps as wide as a string. Where they end nothing was measured",
		d.Ground.EachCm()))
	var files []string
	for _, f := range d.Ground.Files {
		files = append(files, path.Base(f))
	}
	add("measured", d.Ground.From()+": "+strings.Join(files, ", ")+". By photos alone, with no ruler")
	p.Profiles = d.profiles(number)
	if p.Profiles == nil {
		add("profile", "not drawn: nobody marked both ends of a find in this photo, or too little was measured between them")
	}
	bone := d.DepthToBone(number)
	for i := range p.Profiles {
		if bone != nil {
			p.Profiles[i].BarCm = &bone.Cm
		}
	}
	if p.Table = d.Ground.Table(lay, squares); p.Table != nil {
		u := 0.0
		for _, q := range d.Ground.Squares {
			u = max(u, q.UBelowCm)
		}
		p.Table.Title = fmt.Sprintf("Depth of each square in cm below the strings, as the squares lie in the picture; U up to %.1f cm (k = 2); blank: not measured", math.Ceil(10*u)/10)
	}
}

// named are the squares of the photo's strings; nil: they cannot be named.
func (d *draft) named(number string, strings *calibrate.Sighting) *figure.Squares {
	u := d.SetUp(number)
	if u == nil || strings.Reference.Kind != calibrate.KindGrid {
		return nil
	}
	return d.Squaring(*u, *strings).Squares
}

// profiles are the sections through the ground from end to end of the jacket's finds.
func (d *draft) profiles(number string) (out []look.Profile) {
	finds := d.Sheets.FindsOf(number)
	for _, f := range finds {
		if d.Marks == nil {
			continue
		}
		a, b := figure.MarkedEnds(d.Marks.Ends, finds, f)
		if a == nil || b == nil {
			continue
		}
		nameA, nameB := figure.NamesOfEnds(f)
		p := d.Ground.Profile(a.At, b.At, letters.Spell(nameA), letters.Spell(nameB))
		if p == nil {
			continue
		}
		long := ""
		on := figure.Depth{Ground: d.Ground}.Under([]calibrate.Point{a.At, b.At})
		if l, err := figure.LengthOf(d.Ground.Plane, a.At, b.At, &on, "bone", "strings"); err == nil {
			long = ": " + l.Says
		}
		p.Title = letters.Spell(fmt.Sprintf("%s, %s%s. What stands highest within 3 cm of the line between them, in cm below the strings, not exaggerated; dashed: the level of the scale bar", f.FieldNumber, figure.EndNames(f), long))
		out = append(out, *p)
	}
	return out
}

// groundRows say what several photos measured of the ground, on a plate that is a plane: its depth, where it leaves the plate's
// level, and how far it is drawn out of place.
func (d *draft) groundRows(number string, bone *figure.Depth) (rows []look.Row) {
	g := d.Ground
	if g == nil {
		return nil
	}
	least, most, ok := g.RangeCm()
	if !ok {
		return nil
	}
	_, sighting := d.Plane()
	squares := d.named(number, sighting)
	add := func(name, text string) {
		if text != "" {
			rows = append(rows, look.Row{Name: name, Text: letters.Spell(text)})
		}
	}
	where := "its level lines and the depth of each square stand on the relief plate"
	if !g.First {
		where += " of " + path.Base(cmp.Or(g.Files[0], "the first of them"))
	}
	add("ground", fmt.Sprintf("%.1f to %.1f cm below the strings by squares, %s; %s", least, most, g.From(), where))
	level := 0.0
	if bone != nil {
		level = bone.Cm
	}
	add("ground", g.Leaves(level, squares))
	if against := d.AgainstGround(number); against != "" {
		add("bone below", "CONTRADICTED. "+against)
		d.doubt(against)
	}
	return rows
}
