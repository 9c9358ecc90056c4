package museum

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/export/dwca"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// A measured is one row, without the find.
type measured struct {
	what, value, unit, accuracy, method, by, date, remarks string
	of                                                     string // what tells it from others of the same kind: a photo, a set-up
}

// expanded says what the accuracies mean.
const expanded = "accuracy is the expanded uncertainty U (k = 2, about 95 %)"

// of takes a quantity: value and U to the same place.
func (m measured) with(q calibrate.Quantity) measured {
	m.value, m.accuracy, _ = strings.Cut(q.String(), " ± ")
	return m
}

// measure makes the rows of what was measured or recorded of each find.
func (a *archive) measure() {
	a.measurements = dwca.Table{RowType: dwca.Measurement, File: "measurement.txt", Terms: []dwca.Term{
		dwca.MeasurementID, dwca.OccurrenceID, dwca.MeasurementType, dwca.MeasurementValue, dwca.MeasurementUnit, dwca.MeasurementAccuracy, dwca.MeasurementMethod, dwca.MeasurementBy, dwca.MeasurementDate, dwca.MeasurementRemarks,
	}}
	for _, f := range a.Sheets.Finds {
		a.recorded(f)
	}
	for _, r := range a.Records {
		if r.Readable() && r.ToSort() && !r.Belongs.LeaveOut {
			a.seen(r)
		}
	}
}

// add enters a row of a find, by whoever and as far as it may be passed on.
func (a *archive) add(f register.Find, m measured) {
	if m.value == "" {
		return
	}
	names, _ := a.guard.Names(m.by)
	id := a.names.Find(f.FieldNumber)
	own := a.names.Other("measurement", id, m.what, m.of)
	if a.measured[own] {
		return // two plates of one photo say it
	}
	a.measured[own] = true
	a.measurements.Rows = append(a.measurements.Rows, dwca.Row{Core: id, Cells: map[dwca.Term]string{
		dwca.MeasurementID: own, dwca.OccurrenceID: id, dwca.MeasurementType: a.guard.Text(m.what), dwca.MeasurementValue: a.guard.Text(m.value), dwca.MeasurementUnit: m.unit,
		dwca.MeasurementAccuracy: m.accuracy, dwca.MeasurementMethod: a.guard.Text(m.method), dwca.MeasurementBy: joined(names), dwca.MeasurementDate: m.date, dwca.MeasurementRemarks: a.guard.Text(m.remarks),
	}})
}

// recorded are the rows of the register.
func (a *archive) recorded(f register.Find) {
	typed := func(what string, v *float64, unit, method, remarks, of string) {
		if v != nil {
			a.add(f, measured{what: what, value: number(*v), unit: unit, method: method, by: f.By, date: f.Date.String(), remarks: remarks, of: of})
		}
	}
	sheet := "as recorded in the field; accuracy not recorded"
	a.add(f, measured{what: "element", value: f.Element, method: "as identified in the field", by: f.By, date: f.Date.String()})
	a.add(f, measured{what: "side", value: f.Side, method: "as identified in the field", by: f.By, date: f.Date.String()})
	north := string(f.BearingNorth)
	if north == "" {
		north = "a north that is not recorded"
	} else {
		north += " north"
	}
	one, two := figure.NamesOfEnds(f)
	typed("bearing of the long axis, from "+one+" to "+two, f.AxisBearingAToBDeg, "degrees", sheet+"; counted clockwise from "+north, "", "")
	typed("plunge of the long axis", f.PlungeDeg, "degrees", sheet+"; below the horizontal", "", "")
	typed("strike of the bed", f.StrikeDeg, "degrees", sheet, "", "")
	typed("dip direction of the bed", f.DipDirectionDeg, "degrees", sheet, "", "")
	typed("dip of the bed", f.DipDeg, "degrees", sheet, "", "")
	typed("height in the section", f.HeightInSectionM, "m", sheet, "", "")
	for _, j := range a.Sheets.JacketsOf(f.FieldNumber) {
		whole := "of the whole package, jacket " + j.Number
		if n := len(j.Finds); n > 1 {
			whole += fmt.Sprintf(", with %d finds in it", n)
		}
		typed("mass of the package", j.WeighedKg, "kg", "weighed; accuracy not recorded", whole, j.Number)
		typed("length of the package", j.LengthCm, "cm", sheet, whole, j.Number)
		typed("width of the package", j.WidthCm, "cm", sheet, whole, j.Number)
		typed("depth of the package", j.DepthCm, "cm", sheet, whole, j.Number)
	}
	for _, u := range a.Sheets.SetUps {
		for _, number := range u.Jackets {
			if j, ok := a.Sheets.Jacket(number); ok && slices.Contains(j.Finds, f.FieldNumber) {
				typed("depth from the strings down to the bone", u.DepthToBoneCm, "cm", sheet, "set-up "+u.Name, u.Name+" "+number)
			}
		}
	}
}

// seen are the rows of a photo: what was measured in it, and at which scale.
func (a *archive) seen(r *record.Record) {
	finds := a.findsOf(r.Belongs.Jackets)
	plane, sighting := r.Plane()
	if len(finds) == 0 || plane == nil {
		return
	}
	photo := "photo " + a.names.Photo(r.Photo.SHA256) + " (SHA-256 " + r.Photo.SHA256 + ")"
	day := ""
	if r.When != nil {
		day = r.When.Day()
	}
	by := "by the " + sighting.Reference.Size() + " in the photo"
	if sighting.Size != nil {
		by += ", whose size is " + string(sighting.Size.Known)
	}
	row := measured{unit: "cm", method: by + "; " + expanded, date: day, by: sighting.By}
	for _, l := range record.LengthsOf(r.Plates) {
		m := row
		m.what, m.remarks, m.of = l.What, joined([]string{l.Says, photo}), r.Photo.SHA256+l.Outline
		switch {
		case l.Cm != nil:
			m = m.with(calibrate.Quantity{Value: *l.Cm, U: l.UCm})
		case l.AtReferenceCm != nil:
			m.what += ", at the level of the reference only"
			m = m.with(calibrate.Quantity{Value: *l.AtReferenceCm, U: l.UCm})
		}
		if l.Outline != "" {
			m.what += ", of outline " + l.Outline
		} else {
			m.what = "length, " + m.what
		}
		for _, f := range finds {
			if f.FieldNumber == l.Find || l.Find == "" && len(finds) == 1 {
				a.add(f, m)
			}
		}
	}
	for i, p := range r.Plates {
		if p.Mirrored || p.Relief || i > 0 && p.Jacket == r.Plates[i-1].Jacket {
			continue
		}
		for _, area := range p.Areas {
			m := row.with(area.Cm2)
			m.what, m.unit, m.of, m.remarks = "area within outline "+area.Outline+" of the "+area.Of, "cm²", r.Photo.SHA256, joined([]string{area.Where, photo})
			if own := a.findsOf([]string{p.Jacket}); len(own) == 1 {
				a.add(own[0], m)
			}
		}
	}
	scale, known := pxPerCm(plane)
	for _, f := range finds {
		if known {
			m := row.with(scale)
			m.what, m.unit, m.of, m.remarks = "scale of the photo at the middle of the reference", "px/cm", r.Photo.SHA256, photo
			a.add(f, m)
		}
		for _, d := range r.DepthsBetween {
			m := row.with(d.DepthCm)
			m.what, m.of, m.remarks = "depth of "+d.Of+" below "+d.Behind+", as the camera sees it", r.Photo.SHA256, photo
			a.add(f, m)
		}
	}
}

// pxPerCm is the photo's scale in the middle of what its plane was measured by.
func pxPerCm(plane *calibrate.Plane) (calibrate.Quantity, bool) {
	u, v := plane.MiddleCm()
	level, err := plane.At(0)
	if err != nil {
		return calibrate.Quantity{}, false
	}
	q, err := level.ScalePxPerCm(u, v)
	return q, err == nil
}
