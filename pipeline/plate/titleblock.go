package plate

import (
	"cmp"
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/withhold"
)

// notRecorded is printed where nobody wrote anything down.
const notRecorded = "not recorded"

// heading is what the photo shows and the day it was taken.
func (d *draft) heading() string {
	view := "no view"
	if d.Belongs.View != "" {
		view = string(d.Belongs.View)
	}
	day := "day " + notRecorded
	if d.When != nil {
		day = d.When.Day()
	}
	return view + ", " + day
}

// rows is the title block of a plate. It never names a position.
func (d *draft) rows(number string, mirrored bool) []look.Row {
	var rows []look.Row
	add := func(name, text string) {
		if text != "" {
			rows = append(rows, look.Row{Name: letters.Spell(name), Text: letters.Spell(printable(d.Sheets, text))})
		}
	}
	finds := d.Sheets.FindsOf(number)
	var names, localities []string
	for _, f := range finds {
		names = append(names, strings.Join(nonEmpty(f.FieldNumber, f.Side, cmp.Or(f.Element, f.What)), " "))
		if f.Locality != "" && !slices.Contains(localities, f.Locality) {
			localities = append(localities, f.Locality)
		}
	}
	if number != "" {
		if j, ok := d.Sheets.Jacket(number); ok {
			add("formerly", strings.Join(j.Formerly, ", "))
		}
		add("finds", cmp.Or(strings.Join(names, "; "), notRecorded))
		for _, f := range finds {
			add("ends of "+f.FieldNumber, endsOf(f))
			for _, row := range bedRows(f) {
				add(row.Name, row.Text)
			}
		}
		add("locality", cmp.Or(strings.Join(localities, "; "), notRecorded))
	}
	add("taken", cmp.Or(d.Taken(), notRecorded))
	add("seen from", d.seenFrom(mirrored))
	if _, sighting := d.Plane(); sighting != nil {
		text := sighting.Reference.String()
		if sighting.Counted != "" {
			text += ", " + sighting.Counted
		}
		if tilt, known := sighting.Plane.TiltDeg(); known {
			text += fmt.Sprintf(", camera tilt %.0f°", tilt)
		}
		add("reference", text)
		rows = append(rows, d.sizeRows(sighting)...)
		if sighting.By != "" {
			add("scale set by hand", d.Sheets.Season.PrintedName(sighting.By))
		}
	}
	b := d.Belongs
	if b.Strength != "" && number != "" {
		add("jacket assigned by", strings.TrimSuffix(b.Reason, " says so"))
	}
	add("caption", b.Caption)
	if b.By != "" {
		add("words by", d.Sheets.Season.PrintedName(b.By))
	}
	if len(d.Record.Photo.SHA256) >= 8 {
		add("photo", d.Record.Photo.File+", "+d.Record.Photo.SHA256[:8])
	}
	return rows
}

// endsOf names a find's ends and the bearing of its long axis, as recorded; "": nothing is.
func endsOf(f register.Find) string {
	if f.EndA == "" && f.EndB == "" && f.AxisBearingAToBDeg == nil {
		return ""
	}
	one, two := figure.NamesOfEnds(f)
	text := one + ", " + two
	if f.AxisBearingAToBDeg != nil {
		north := string(f.BearingNorth)
		if north == "" {
			north = "north " + notRecorded
		}
		text += fmt.Sprintf("; long axis from %s to %s %g° (%s)", one, two, *f.AxisBearingAToBDeg, north)
	}
	return text
}

func nonEmpty(texts ...string) (out []string) {
	for _, s := range texts {
		if s != "" {
			out = append(out, s)
		}
	}
	return out
}

// printable is a text as plates may show it: without what reads as a position, unless the season lets positions be printed.
func printable(sheets *register.Register, text string) string {
	if sheets.Season.Print.Positions == register.PrintFull {
		return text
	}
	return withhold.Text(text)
}
