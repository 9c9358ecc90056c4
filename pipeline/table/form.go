package table

import (
	"slices"
	"strings"
)

// A form says which columns a sheet has. The order is that of a new, empty sheet; a sheet may have them in any order.
type Form struct {
	File  string
	Key   string   // the column without which a row is lost
	Must  []string // further columns that a row should have filled
	Heads []string // all columns, key and must included
}

// Name is what the sheet is called: "finds".
func (f Form) Name() string { return strings.TrimSuffix(f.File, ".csv") }

// formOf gives the form of a sheet's name; the zero form where there is none.
func formOf(name string) Form {
	i := slices.IndexFunc(Forms, func(f Form) bool { return f.Name() == name })
	if i < 0 {
		return Form{}
	}
	return Forms[i]
}

// InBook reports whether it is a sheet of the workbook. Words on photos stay a CSV file.
func (f Form) InBook() bool { return f.File != "" && f.File != PhotosForm.File }

func (f Form) knows(head string) bool { return slices.Contains(f.Heads, head) }

var FindsForm = Form{
	File: "finds.csv", Key: "field_number", Must: []string{"date", "what", "by"},
	Heads: []string{"field_number", "date", "what", "by", "context", "locality", "horizon", "height_in_section_m",
		"marker_bed", "element", "side", "end_1", "end_2", "long_axis_bearing_deg", "north_reference", "plunge_deg",
		"strike_deg", "dip_direction_deg", "dip_deg", "position", "datum", "position_source", "position_uncertainty_m", "altitude_m",
		"condition", "formerly", "museum_number", "remarks"},
}

var JacketsForm = Form{
	File: "jackets.csv", Key: "jacket",
	Heads: []string{"jacket", "finds", "kind", "stage", "pieces", "formerly", "sister_jackets", "length_cm", "width_cm",
		"depth_cm", "matrix", "wet", "separator", "jacket_materials", "layers", "splints", "bone_to_plaster_mm", "open_side",
		"weighed_kg", "samples", "sent_to", "waiver", "carried_from"},
}

var SetUpsForm = Form{
	File: "setups.csv", Key: "setup",
	Heads: []string{"setup", "jackets", "pitch_cm", "squares", "origin_corner", "letters_run", "edge_bearing_deg",
		"north_reference", "plane", "depth_to_bone_cm", "diagonal_1_cm", "diagonal_2_cm", "tape_check", "level"},
}

// PointsForm and PlacementsForm place set-ups in the quarry's grid, for the map.
var PointsForm = Form{
	File: "points.csv", Key: "point", Must: []string{"east_m", "north_m"},
	Heads: []string{"point", "east_m", "north_m", "height_m", "uncertainty_cm", "height_uncertainty_cm", "remarks"},
}

var PlacementsForm = Form{
	File: "placements.csv", Key: "setup",
	Heads: []string{"setup", "corner", "east_m", "north_m", "height_m", "from", "distance_m", "shares", "side_of_line", "dip_deg",
		"dip_direction_deg", "uncertainty_cm", "remarks"},
}

var LocalitiesForm = Form{
	File: "localities.csv", Key: "locality",
	Heads: []string{"locality", "name", "position", "datum", "position_source", "position_uncertainty_m", "altitude_m", "formation",
		"member", "age", "landowner", "permit", "permit_until", "access", "remarks"},
}

var DiaryForm = Form{
	File: "diary.csv", Key: "date", Must: []string{"numbers", "what", "by"},
	Heads: []string{"date", "numbers", "what", "by", "kind", "mix", "where", "coats", "time", "stage"},
}

var PhotosForm = Form{
	File: "photos.csv", Key: "photos",
	Heads: []string{"photos", "jackets", "view", "setup", "caption", "chosen", "leave_out", "by", "shows_people"},
}

// Forms lists all sheets.
var Forms = []Form{FindsForm, JacketsForm, SetUpsForm, LocalitiesForm, DiaryForm, PointsForm, PlacementsForm, PhotosForm}
