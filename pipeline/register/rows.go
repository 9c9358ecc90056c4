package register

import (
	"errors"
	"slices"
	"strings"

	"fieldjacket/pipeline/locate"
)

// The limits of quantities below are those of a person's handiwork: wide enough for any dig, narrow enough to catch a
// slipped decimal or a wrong unit (common practice, no source).

func (r row) find() (Find, bool) {
	number, ok := r.key()
	if !ok {
		return Find{}, false
	}
	r.must()
	return Find{
		Row: r.number, FieldNumber: number, Date: r.day("date", LostCell), What: r.cell("what"), By: r.cell("by"),
		Context:            choose(r, "context", "in situ", "float"),
		Locality:           tidy(r.cell("locality")),
		Horizon:            r.cell("horizon"),
		HeightInSectionM:   r.quantity("height_in_section_m", -10000, 10000, "metres"),
		MarkerBed:          r.cell("marker_bed"),
		Element:            r.cell("element"),
		Side:               r.cell("side"),
		EndA:               r.cell("end_1"),
		EndB:               r.cell("end_2"),
		AxisBearingAToBDeg: r.quantity("long_axis_bearing_deg", 0, 360, "degrees"),
		BearingNorth:       r.north(),
		PlungeDeg:          r.quantity("plunge_deg", 0, 90, "degrees"),
		StrikeDeg:          r.quantity("strike_deg", 0, 360, "degrees"),
		DipDirectionDeg:    r.quantity("dip_direction_deg", 0, 360, "degrees"),
		DipDeg:             r.quantity("dip_deg", 0, 90, "degrees"),
		Position:           r.position(),
		Condition:          r.cell("condition"),
		Formerly:           r.list("formerly"),
		MuseumNumber:       r.cell("museum_number"),
		Remarks:            r.cell("remarks"),
		Other:              r.other(),
	}, true
}

func (r row) north() North {
	return choose(r, "north_reference", NorthMagnetic, NorthTrue, NorthGrid, NorthUnknown)
}

const notConverted = "; it is printed as typed and not converted"

// position takes a position as typed. One that cannot be read is kept and printed all the same.
func (r row) position() Position {
	p := Position{
		Typed: r.cell("position"), Datum: r.cell("datum"), Source: r.cell("position_source"),
		UncertaintyM: r.quantity("position_uncertainty_m", 0, 100000, "metres"),
		AltitudeM:    r.quantity("altitude_m", -500, 9000, "metres"),
	}
	if p.Typed != "" {
		var unclear *locate.HalfUnclear // settleHalves tells of it
		if _, err := p.Read(); err != nil && !errors.As(err, &unclear) {
			r.reject("position", "", err.Error()+notConverted, LostNothing)
		}
	}
	return p
}

func (r row) locality() (Locality, bool) {
	number, ok := r.key()
	if !ok {
		return Locality{}, false
	}
	return Locality{
		Row: r.number, Number: number, Name: r.cell("name"), Position: r.position(), Formation: r.cell("formation"),
		Member: r.cell("member"), Age: r.cell("age"), Landowner: r.cell("landowner"), Permit: r.cell("permit"),
		PermitUntil: r.day("permit_until", LostCell), Access: r.cell("access"), Remarks: r.cell("remarks"), Other: r.other(),
	}, true
}

func (r row) jacket() (Jacket, bool) {
	number, ok := r.key()
	if !ok {
		return Jacket{}, false
	}
	j := Jacket{
		Row: r.number, Number: number, Finds: r.list("finds"),
		Kind:          choose(r, "kind", Packages...),
		Stage:         r.stage(),
		Formerly:      r.list("formerly"),
		SisterJackets: r.list("sister_jackets"),
		LengthCm:      r.quantity("length_cm", 0.1, 2000, "centimetres"),
		WidthCm:       r.quantity("width_cm", 0.1, 2000, "centimetres"),
		DepthCm:       r.quantity("depth_cm", 0.1, 2000, "centimetres"),
		Rock:          r.cell("matrix"),
		Wet:           r.cell("wet"),
		Separator:     r.cell("separator"),
		JacketKind:    r.cell("jacket_materials"),
		Layers:        r.cell("layers"),
		Splints:       r.cell("splints"),
		BoneCoverMm:   r.quantity("bone_to_plaster_mm", 0, 2000, "millimetres"),
		OpenSide:      r.cell("open_side"),
		WeighedKg:     r.quantity("weighed_kg", 0.001, 50000, "kilograms"),
		Samples:       r.cell("samples"),
		SentTo:        r.cell("sent_to"),
		Waivers:       r.waivers(),
		CarriedFrom:   tidy(r.cell("carried_from")),
		Other:         r.other(),
	}
	if n, of, ok := r.pair("pieces", "want a piece of how many, such as 2 of 3"); ok {
		if n <= of {
			j.Piece = &Piece{N: n, Of: of}
		} else {
			r.reject("pieces", r.cell("pieces"), "want a piece of how many, such as 2 of 3", LostCell)
		}
	}
	return j, true
}

// waivers reads "view: reason, initials", several separated by semicolons.
func (r row) waivers() []Waiver {
	var out []Waiver
	for _, text := range r.list("waiver") {
		view, rest, _ := strings.Cut(text, ":")
		comma := strings.LastIndex(rest, ",")
		w := Waiver{View: View(strings.ToLower(tidy(view)))}
		if comma >= 0 {
			w.Reason, w.By = tidy(rest[:comma]), tidy(rest[comma+1:])
		}
		switch {
		case w.Reason == "" || w.By == "":
			r.reject("waiver", text, "want a view, the reason and who waives it, such as gridded: rain, AB", LostCell)
		case !w.View.Known():
			r.reject("waiver", text, "no such view: want one of "+join(Views), LostCell)
		default:
			out = append(out, w)
		}
	}
	return out
}

func (r row) setUp() (SetUp, bool) {
	name, ok := r.key()
	if !ok {
		return SetUp{}, false
	}
	s := SetUp{
		Row: r.number, Name: name, Jackets: r.list("jackets"),
		PitchCm:        r.quantity("pitch_cm", 0.1, 500, "centimetres"),
		OriginCorner:   r.cell("origin_corner"),
		LettersRun:     r.cell("letters_run"),
		EdgeBearingDeg: r.quantity("edge_bearing_deg", 0, 360, "degrees"),
		BearingNorth:   r.north(),
		Plane:          choose(r, "plane", "level", "slope", "vertical"),
		TapeChecks:     r.tapeChecks(),
		Other:          r.other(),
	}
	if across, down, ok := r.pair("squares", "want squares across and down, such as 10x10"); ok {
		s.Cells = &Cells{Across: across, Down: down}
	}
	s.DepthToBoneCm, s.DepthsToBone = r.depths()
	s.Diagonal1Cm, s.Diagonal2Cm = r.diagonals()
	return s, true
}

// depths reads "8", or square by square "B3 8; C4 11". One part that is not understood costs the cell: the depth of one
// square must not pass for that of the whole set-up.
func (r row) depths() (whole *float64, squares []SquareDepth) {
	const head, lo, hi, unit = "depth_to_bone_cm", 0, 300, "centimetres"
	parts := r.list(head)
	for _, part := range parts {
		words := strings.Fields(part)
		cm, err := r.sheet.parseNumber(words[len(words)-1], lo, hi, unit)
		switch {
		case err == nil && len(words) == 2:
			squares = append(squares, SquareDepth{Square: words[0], DepthCm: cm})
		case err == nil && len(words) == 1 && len(parts) == 1:
			whole = &cm
		case err != nil && len(words) <= 2:
			r.reject(head, part, err.Error(), LostCell)
			return nil, nil
		default:
			r.reject(head, part, "want one depth, such as 8, or each square with its own, such as B3 8; C4 11", LostCell)
			return nil, nil
		}
	}
	return whole, squares
}

// tapeChecks reads "from, to, mm", several separated by semicolons.
func (r row) tapeChecks() []TapeCheck {
	var out []TapeCheck
	for _, text := range r.list("tape_check") {
		parts := strings.Split(text, ",")
		if len(parts) == 3 {
			from, to := tidy(parts[0]), tidy(parts[1])
			mm, err := r.sheet.parseNumber(tidy(parts[2]), 1, 100000, "millimetres")
			if err == nil && from != "" && to != "" {
				out = append(out, TapeCheck{From: from, To: to, LengthMm: mm})
				continue
			}
		}
		r.reject("tape_check", text, "want from, to and millimetres, such as A1, F6, 707", LostCell)
	}
	return out
}

// entry reads a line of the diary. Ranges of numbers (14-17) are understood when all sheets are read, see spanDiary.
func (r row) entry() (Entry, bool) {
	if _, ok := r.key(); !ok {
		return Entry{}, false
	}
	e := Entry{Row: r.number, Date: r.day("date", LostRow), Numbers: r.list("numbers")}
	if e.Date.IsZero() {
		return Entry{}, false
	}
	if len(e.Numbers) == 0 {
		if slices.Contains(r.sheet.heads, "numbers") {
			r.reject("numbers", "", "is blank: want the jackets' or finds' numbers, or all", LostRow)
		}
		return Entry{}, false
	}
	r.must()
	e.What, e.By, e.Kind, e.Mix, e.Where, e.Coats = r.cell("what"), r.cell("by"), r.cell("kind"), r.cell("mix"), r.cell("where"), r.cell("coats")
	e.Time, e.Stage, e.Other = r.clock("time"), r.stage(), r.other()
	return e, true
}

// word reads a row of photos.csv. Cells that name something unknown are kept, see [PhotoWord].
func (r row) word() (PhotoWord, bool) {
	text, ok := r.key()
	if !ok {
		return PhotoWord{}, false
	}
	which, err := ParseWhich(text)
	if err != nil {
		r.reject("photos", text, err.Error(), LostRow)
		return PhotoWord{}, false
	}
	w := PhotoWord{
		Row: r.number, Photos: text, Which: which, Jackets: r.list("jackets"), SetUp: tidy(r.cell("setup")),
		View: View(strings.ToLower(tidy(r.cell("view")))), Caption: r.cell("caption"),
		Chosen: r.yes("chosen"), LeaveOut: r.yes("leave_out"), By: r.cell("by"),
	}
	if w.View != "" && !w.View.Known() {
		r.reject("view", string(w.View), "want one of "+join(Views), LostCell)
	}
	return w, true
}
