package registerfile

import (
	"errors"
	"slices"
	"strings"

	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// The limits of quantities below are those of a person's handiwork: wide enough for any dig, narrow enough to catch a
// slipped decimal or a wrong unit (common practice, no source).

func findOf(r table.Row) (register.Find, bool) {
	number, ok := r.Key()
	if !ok {
		return register.Find{}, false
	}
	r.WarnBlank()
	return register.Find{
		Row: r.Number, FieldNumber: number, Date: r.Day("date", register.LostCell), What: r.Cell("what"), By: r.Cell("by"),
		Context:            table.Choose(r, "context", "in situ", "float"),
		Locality:           register.Tidy(r.Cell("locality")),
		Horizon:            r.Cell("horizon"),
		HeightInSectionM:   r.Quantity("height_in_section_m", -10000, 10000, "metres"),
		MarkerBed:          r.Cell("marker_bed"),
		Element:            r.Cell("element"),
		Side:               r.Cell("side"),
		EndA:               r.Cell("end_1"),
		EndB:               r.Cell("end_2"),
		AxisBearingAToBDeg: r.Quantity("long_axis_bearing_deg", 0, 360, "degrees"),
		BearingNorth:       northOf(r),
		PlungeDeg:          r.Quantity("plunge_deg", 0, 90, "degrees"),
		StrikeDeg:          r.Quantity("strike_deg", 0, 360, "degrees"),
		DipDirectionDeg:    r.Quantity("dip_direction_deg", 0, 360, "degrees"),
		DipDeg:             r.Quantity("dip_deg", 0, 90, "degrees"),
		Position:           positionOf(r),
		Condition:          r.Cell("condition"),
		Formerly:           r.List("formerly"),
		MuseumNumber:       r.Cell("museum_number"),
		Remarks:            r.Cell("remarks"),
		Other:              r.Other(),
	}, true
}

func northOf(r table.Row) register.North {
	return table.Choose(r, "north_reference", register.NorthMagnetic, register.NorthTrue, register.NorthGrid, register.NorthUnknown)
}

const notConverted = "; it is printed as typed and not converted"

// positionOf takes a position as typed. One that cannot be read is kept and printed all the same.
func positionOf(r table.Row) register.Position {
	p := register.Position{
		Typed: r.Cell("position"), Datum: r.Cell("datum"), Source: r.Cell("position_source"),
		UncertaintyM: r.Quantity("position_uncertainty_m", 0, 100000, "metres"),
		AltitudeM:    r.Quantity("altitude_m", -500, 9000, "metres"),
	}
	if p.Typed != "" {
		var unclear *locate.HalfUnclear // settleHalves tells of it
		if _, err := p.Read(); err != nil && !errors.As(err, &unclear) {
			r.Reject("position", "", err.Error()+notConverted, register.LostNothing)
		}
	}
	return p
}

func localityOf(r table.Row) (register.Locality, bool) {
	number, ok := r.Key()
	if !ok {
		return register.Locality{}, false
	}
	return register.Locality{
		Row: r.Number, Number: number, Name: r.Cell("name"), Position: positionOf(r), Formation: r.Cell("formation"),
		Member: r.Cell("member"), Age: r.Cell("age"), Landowner: r.Cell("landowner"), Permit: r.Cell("permit"),
		PermitUntil: r.Day("permit_until", register.LostCell), Access: r.Cell("access"), Remarks: r.Cell("remarks"), Other: r.Other(),
	}, true
}

func jacketOf(r table.Row) (register.Jacket, bool) {
	number, ok := r.Key()
	if !ok {
		return register.Jacket{}, false
	}
	j := register.Jacket{
		Row: r.Number, Number: number, Finds: r.List("finds"),
		Kind:          table.Choose(r, "kind", register.Packages...),
		Stage:         stageOf(r),
		Formerly:      r.List("formerly"),
		SisterJackets: r.List("sister_jackets"),
		LengthCm:      r.Quantity("length_cm", 0.1, 2000, "centimetres"),
		WidthCm:       r.Quantity("width_cm", 0.1, 2000, "centimetres"),
		DepthCm:       r.Quantity("depth_cm", 0.1, 2000, "centimetres"),
		Rock:          r.Cell("matrix"),
		Wet:           r.Cell("wet"),
		Separator:     r.Cell("separator"),
		JacketKind:    r.Cell("jacket_materials"),
		Layers:        r.Cell("layers"),
		Splints:       r.Cell("splints"),
		BoneCoverMm:   r.Quantity("bone_to_plaster_mm", 0, 2000, "millimetres"),
		OpenSide:      r.Cell("open_side"),
		WeighedKg:     r.Quantity("weighed_kg", 0.001, 50000, "kilograms"),
		Samples:       r.Cell("samples"),
		SentTo:        r.Cell("sent_to"),
		Waivers:       waiversOf(r),
		CarriedFrom:   register.Tidy(r.Cell("carried_from")),
		Other:         r.Other(),
	}
	if n, of, ok := r.Pair("pieces", "want a piece of how many, such as 2 of 3"); ok {
		if n <= of {
			j.Piece = &register.Piece{N: n, Of: of}
		} else {
			r.Reject("pieces", r.Cell("pieces"), "want a piece of how many, such as 2 of 3", register.LostCell)
		}
	}
	return j, true
}

// waiversOf reads "view: reason, initials", several separated by semicolons.
func waiversOf(r table.Row) []register.Waiver {
	var out []register.Waiver
	for _, text := range r.List("waiver") {
		view, rest, _ := strings.Cut(text, ":")
		comma := strings.LastIndex(rest, ",")
		w := register.Waiver{View: register.View(strings.ToLower(register.Tidy(view)))}
		if comma >= 0 {
			w.Reason, w.By = register.Tidy(rest[:comma]), register.Tidy(rest[comma+1:])
		}
		switch {
		case w.Reason == "" || w.By == "":
			r.Reject("waiver", text, "want a view, the reason and who waives it, such as gridded: rain, AB", register.LostCell)
		case !w.View.Known():
			r.Reject("waiver", text, "no such view: want one of "+table.Join(register.Views), register.LostCell)
		default:
			out = append(out, w)
		}
	}
	return out
}

// entryOf reads a line of the diary. Ranges of numbers (14-17) are understood when all sheets are read, see spanDiary.
func entryOf(r table.Row) (register.Entry, bool) {
	if _, ok := r.Key(); !ok {
		return register.Entry{}, false
	}
	e := register.Entry{Row: r.Number, Date: r.Day("date", register.LostRow), Numbers: r.List("numbers")}
	if e.Date.IsZero() {
		return register.Entry{}, false
	}
	if len(e.Numbers) == 0 {
		if slices.Contains(r.Sheet.Columns, "numbers") {
			r.Reject("numbers", "", "is blank: want the jackets' or finds' numbers, or all", register.LostRow)
		}
		return register.Entry{}, false
	}
	r.WarnBlank()
	e.What, e.By, e.Kind, e.Mix, e.Where, e.Coats = r.Cell("what"), r.Cell("by"), r.Cell("kind"), r.Cell("mix"), r.Cell("where"), r.Cell("coats")
	e.Time, e.Stage, e.Other = r.Clock("time"), stageOf(r), r.Other()
	return e, true
}

// wordOf reads a row of photos.csv. Cells that name something unknown are kept, see [register.PhotoWord].
func wordOf(r table.Row) (register.PhotoWord, bool) {
	text, ok := r.Key()
	if !ok {
		return register.PhotoWord{}, false
	}
	which, err := register.ParseWhich(text)
	if err != nil {
		r.Reject("photos", text, err.Error(), register.LostRow)
		return register.PhotoWord{}, false
	}
	w := register.PhotoWord{
		Row: r.Number, Photos: text, Which: which, Jackets: r.List("jackets"), SetUp: register.Tidy(r.Cell("setup")),
		View: register.View(strings.ToLower(register.Tidy(r.Cell("view")))), Caption: r.Cell("caption"),
		Chosen: r.Yes("chosen"), LeaveOut: r.Yes("leave_out"), ShowsPeople: table.Choose[string](r, "shows_people", "yes", "no"), By: r.Cell("by"),
	}
	if w.View != "" && !w.View.Known() {
		r.Reject("view", string(w.View), "want one of "+table.Join(register.Views), register.LostCell)
	}
	return w, true
}

// stageOf reads a stage, by its earlier name too.
func stageOf(r table.Row) register.Stage {
	if register.SameWord(r.Cell("stage"), register.FormerlyJacketed) {
		return register.Covered
	}
	return table.Choose(r, "stage", register.Stages...)
}
