package plate

import (
	"fmt"
	"math"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// steepDeg is the plunge from which a bone is longer than it is seen from above by more than a hundredth.
const steepDeg = 8

// endLengths are those of the finds whose ends are both marked, and not contradicted. Where a closed jacket hides the bone
// its ends are not in sight.
func (d *draft) endLengths(p *look.Plate, plane *calibrate.Plane, number string, contradicted []figure.Against, sighting *calibrate.Sighting) {
	if d.Marks == nil || d.Belongs.View.Plaster() {
		return
	}
	thing := calibrate.Thing(sighting.Reference.Kind)
	finds := d.Sheets.FindsOf(number)
	for _, f := range finds {
		a, b := figure.MarkedEnds(d.Marks.Ends, finds, f)
		if a == nil || b == nil {
			continue
		}
		if slices.ContainsFunc(contradicted, func(c figure.Against) bool { return c.Find == f.FieldNumber }) {
			d.says(p, "length of "+f.FieldNumber, "not given: its ends are contradicted")
			continue
		}
		bone := d.DepthToBone(number)
		l, err := figure.LengthOf(plane, a.At, b.At, bone, "bone", thing)
		if err != nil {
			d.says(p, "length of "+f.FieldNumber, "not given: "+err.Error())
			continue
		}
		l.Find, l.What = f.FieldNumber, figure.EndNames(f)
		if bone == nil || bone.Ground == nil { // else the slope is in it
			l.Mind(d.plunging(f, number))
		}
		d.told(p, "length of "+f.FieldNumber, l, sighting)
	}
}

// outlineLengths are how long and how wide an outline is.
func (d *draft) outlineLengths(p *look.Plate, plane *calibrate.Plane, number string, o figure.Outline, sighting *calibrate.Sighting) {
	lengths, err := o.Lengths(plane, d.DepthToBone(number), calibrate.Thing(sighting.Reference.Kind))
	if err != nil {
		d.says(p, "size of "+o.Name, "not given: "+err.Error())
		return
	}
	for _, l := range lengths {
		d.told(p, "size of "+o.Name, l, sighting)
	}
}

// told keeps a length and writes it on the plate, with what is to be minded of the scale that it goes by.
func (d *draft) told(p *look.Plate, name string, l figure.Length, sighting *calibrate.Sighting) {
	if s := sighting.Size; s != nil {
		l.Size = s.Known
		if s.Known == calibrate.Assumed {
			l.Mind(sighting.Reference.Size() + " assumed")
		}
		if len(s.Against) > 0 {
			l.Mind("the size of the " + calibrate.Thing(sighting.Reference.Kind) + " is CONTRADICTED")
		}
	}
	l.Photo = d.Record.Photo.File
	d.long = append(d.long, l)
	d.says(p, name, l.What+": "+l.Says)
}

func (d *draft) says(p *look.Plate, name, text string) {
	p.Rows = append(p.Rows, look.Row{Name: letters.Spell(name), Text: letters.Spell(text)})
}

// plunging tells how much longer a bone is that lies askew to what is seen square on; "": it lies level, or nobody says.
func (d *draft) plunging(f register.Find, number string) string {
	if f.PlungeDeg == nil || !(math.Abs(*f.PlungeDeg) >= steepDeg) || d.Belongs.View.Displaced() {
		return ""
	}
	text := fmt.Sprintf("its axis plunges %g°", *f.PlungeDeg)
	if u := d.SetUp(number); u != nil && (u.Plane == "slope" || u.Plane == "vertical") || math.Abs(*f.PlungeDeg) > 75 {
		return text + ": the bone itself is longer than is seen here"
	}
	return fmt.Sprintf("%s: along the bone %.0f %% longer", text, 100*(1/math.Cos(*f.PlungeDeg*math.Pi/180)-1))
}
