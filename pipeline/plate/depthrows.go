package plate

import (
	"fmt"
	"regexp"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// squareName is how a diary names a place by its square: C4, 102E 205N.
var squareName = regexp.MustCompile(`^(?:[A-Za-z]{1,2}\d{1,3}|\d+(?:\.\d+)?[Ee] ?\d+(?:\.\d+)?[Nn])$`)

// besideRows are what stands beside a plate with a level: who told the depth to
// bone, depths by square, the warning of parallax, and the diary's lines on single squares.
func (d *draft) besideRows(number string, plane *calibrate.Plane) (rows []look.Row) {
	add := func(name, text string) {
		if text != "" {
			rows = append(rows, look.Row{Name: name, Text: letters.Spell(text)})
		}
	}
	for _, level := range d.DepthsBetween {
		add("levels", level.String())
	}
	if text := d.AgainstCard(number); text != "" {
		add("bone below", "CONTRADICTED. "+text)
		d.doubt(text)
	}
	_, sighting := d.Plane()
	kind, bone := sighting.Reference.Kind, d.DepthToBone(number)
	if bone != nil && bone.On != "" {
		add("depth to bone", fmt.Sprintf("%g cm, by %s", bone.Cm, bone.On))
	}
	u := d.Taped(number)
	strung := kind == calibrate.KindGrid
	switch {
	case d.Belongs.View.Plaster(): // it shows plaster
	case strung:
		bar := 0.0
		if bone != nil {
			bar = bone.Cm
		}
		add("bone below", figure.BySquare(plane, bar, d.DepthsBySquare(u)))
		rows = append(rows, d.groundRows(number, bone)...)
		parallax := figure.Parallax(plane, bone, calibrate.Thing(kind), strung)
		if d.Ground != nil {
			parallax = d.Ground.Parallax(d.named(number, sighting))
		}
		add("parallax", parallax)
	default:
		if u != nil && u.DepthToBoneCm != nil && bone == nil {
			add("bone below", fmt.Sprintf("set-up %s says %g cm: that counts below strings, not below a %s. Say it of this photo", u.Name, *u.DepthToBoneCm, kind))
		}
		if d.Belongs.View == register.ViewGridded {
			add("parallax", figure.Parallax(plane, bone, calibrate.Thing(kind), strung))
		}
	}
	if d.SetUp(number) == nil || number == "" {
		return rows
	}
	for _, e := range d.Sheets.DiaryOf(number) {
		if squareName.MatchString(strings.TrimSpace(e.Where)) {
			add("diary "+e.Where, strings.Join(nonEmpty(e.What, e.Mix, e.Date.String()), ", "))
		}
	}
	return rows
}

// bedRows echo how a find lay: strike and dip, plunge, height in section.
func bedRows(f register.Find) (rows []look.Row) {
	var parts []string
	add := func(name string, v *float64, unit string) {
		if v != nil {
			parts = append(parts, fmt.Sprintf("%s %g%s", name, *v, unit))
		}
	}
	add("strike", f.StrikeDeg, "°")
	add("dip direction", f.DipDirectionDeg, "°")
	add("dip", f.DipDeg, "°")
	add("axis plunges", f.PlungeDeg, "°")
	add("height in section", f.HeightInSectionM, " m")
	if len(parts) > 0 {
		rows = append(rows, look.Row{Name: "lay of " + f.FieldNumber, Text: strings.Join(parts, ", ")})
	}
	return rows
}
