package register

import (
	"slices"
	"strings"
)

// A form says which columns a sheet has. The order is that of a new, empty sheet; a sheet may have them in any order.
type form struct {
	file  string
	key   string   // the column without which a row is lost
	must  []string // further columns that a row should have filled
	heads []string // all columns, key and must included
}

// name is what the sheet is called: "finds".
func (f form) name() string { return strings.TrimSuffix(f.file, ".csv") }

// formOf gives the form of a sheet's name; the zero form where there is none.
func formOf(name string) form {
	i := slices.IndexFunc(forms, func(f form) bool { return f.name() == name })
	if i < 0 {
		return form{}
	}
	return forms[i]
}

// inBook reports whether it is a sheet of the workbook. Words on photos stay a CSV file.
func (f form) inBook() bool { return f.file != "" && f.file != photosForm.file }

func (f form) knows(head string) bool { return slices.Contains(f.heads, head) }

var findsForm = form{
	file: "finds.csv", key: "field_number", must: []string{"date", "what", "by"},
	heads: []string{"field_number", "date", "what", "by", "context", "locality", "horizon", "height_in_section_m",
		"marker_bed", "element", "side", "end_1", "end_2", "long_axis_bearing_deg", "north_reference", "plunge_deg",
		"strike_deg", "dip_direction_deg", "dip_deg", "position", "datum", "position_source", "position_uncertainty_m", "altitude_m",
		"condition", "formerly", "museum_number", "remarks"},
}

var jacketsForm = form{
	file: "jackets.csv", key: "jacket",
	heads: []string{"jacket", "finds", "kind", "stage", "pieces", "formerly", "sister_jackets", "length_cm", "width_cm",
		"depth_cm", "matrix", "wet", "separator", "jacket_materials", "layers", "splints", "bone_to_plaster_mm", "open_side",
		"weighed_kg", "samples", "sent_to", "waiver", "carried_from"},
}

var setUpsForm = form{
	file: "setups.csv", key: "setup",
	heads: []string{"setup", "jackets", "pitch_cm", "squares", "origin_corner", "letters_run", "edge_bearing_deg",
		"north_reference", "plane", "depth_to_bone_cm", "diagonal_1_cm", "diagonal_2_cm", "tape_check"},
}

var localitiesForm = form{
	file: "localities.csv", key: "locality",
	heads: []string{"locality", "name", "position", "datum", "position_source", "position_uncertainty_m", "altitude_m", "formation",
		"member", "age", "landowner", "permit", "permit_until", "access", "remarks"},
}

var diaryForm = form{
	file: "diary.csv", key: "date", must: []string{"numbers", "what", "by"},
	heads: []string{"date", "numbers", "what", "by", "kind", "mix", "where", "coats", "time", "stage"},
}

var photosForm = form{
	file: "photos.csv", key: "photos",
	heads: []string{"photos", "jackets", "view", "setup", "caption", "chosen", "leave_out", "by"},
}

// forms lists all sheets.
var forms = []form{findsForm, jacketsForm, setUpsForm, localitiesForm, diaryForm, photosForm}
