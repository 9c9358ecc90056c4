package museum

import (
	"encoding/json"
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fieldjacket/pipeline/export/dwca"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
)

// What stands in place of what is not passed on.
const (
	withheldText   = "Where the finds lay is withheld: coordinates, names of localities, owners, permits, ways in and positions of photos. The crew holds them in its locality records; ask whoever handed this over."
	withheldFind   = "position, locality name, landowner, permit and access are withheld; the crew's locality record has them"
	generalization = "the place is given by the locality's number alone"
)

// describeFinds makes the core: a row for each find.
func (a *archive) describeFinds() {
	a.finds = dwca.Table{RowType: dwca.Occurrence, File: "occurrence.txt", Terms: []dwca.Term{
		dwca.OccurrenceID, dwca.Type, dwca.Language, dwca.License, dwca.RightsHolder, dwca.AccessRights, dwca.InstitutionCode, dwca.CollectionCode, dwca.DatasetID, dwca.DatasetName, dwca.BasisOfRecord,
		dwca.InformationWithheld, dwca.DataGeneralizations, dwca.CatalogNumber, dwca.RecordNumber, dwca.OtherCatalogNumbers, dwca.RecordedBy, dwca.RecordedByID, dwca.EventDate, dwca.EventRemarks,
		dwca.VerbatimIdent, dwca.ScientificName, dwca.Preparations, dwca.Disposition, dwca.MaterialSampleID, dwca.AssociatedOccurrences, dwca.OccurrenceRemarks,
		dwca.Formation, dwca.Member, dwca.Bed, dwca.LocationID, dwca.VerbatimLocality, dwca.DecimalLatitude, dwca.DecimalLongitude, dwca.GeodeticDatum, dwca.CoordinateUncertainty,
		dwca.VerbatimCoordinates, dwca.VerbatimSystem, dwca.VerbatimSRS, dwca.GeoreferenceSources, dwca.GeoreferenceRemarks, dwca.MinimumElevation, dwca.MaximumElevation, dwca.LocationRemarks, dwca.DynamicProperties,
	}}
	for _, f := range a.Sheets.Finds {
		a.finds.Rows = append(a.finds.Rows, dwca.Row{Core: a.names.Find(f.FieldNumber), Cells: a.find(f)})
	}
}

// find is one find's cells.
func (a *archive) find(f register.Find) map[dwca.Term]string {
	season, clean := a.Sheets.Season, a.guard.Text
	names, orcids := a.guard.Names(f.By)
	cells := map[dwca.Term]string{
		dwca.OccurrenceID: a.names.Find(f.FieldNumber), dwca.Type: "PhysicalObject", dwca.Language: "en", dwca.BasisOfRecord: "FossilSpecimen",
		dwca.License: clean(season.Collection.Licence), dwca.RightsHolder: clean(season.Collection.RightsHolder),
		dwca.InstitutionCode: clean(season.Collection.InstitutionCode), dwca.CollectionCode: clean(season.Collection.CollectionCode),
		dwca.DatasetID: a.names.Season(), dwca.DatasetName: clean(season.Name),
		dwca.CatalogNumber: clean(f.MuseumNumber), dwca.RecordNumber: clean(f.FieldNumber), dwca.OtherCatalogNumbers: clean(joined(f.Formerly)),
		dwca.RecordedBy: joined(names), dwca.RecordedByID: joined(orcids), dwca.EventDate: f.Date.String(), dwca.EventRemarks: clean(f.Context),
		dwca.VerbatimIdent: clean(f.What), dwca.Bed: clean(f.Horizon), dwca.LocationID: clean(f.Locality),
		dwca.AssociatedOccurrences: a.associated(f), dwca.OccurrenceRemarks: clean(remarksOf(f)),
	}
	if properties := a.guard.Columns(f.Other); len(properties) > 0 {
		all := map[string]string{}
		for _, o := range properties {
			if o.Text != "" {
				all[o.Head] = o.Text
			}
		}
		if text, err := json.Marshal(all); err == nil && len(all) > 0 {
			cells[dwca.DynamicProperties] = string(text)
		}
	}
	l, known := a.Sheets.LocalityOf(f)
	if known {
		cells[dwca.Formation], cells[dwca.Member] = clean(l.Formation), clean(l.Member)
		if l.Age != "" {
			cells[dwca.OccurrenceRemarks] = joined(nonBlank(cells[dwca.OccurrenceRemarks], "age, as recorded: "+clean(l.Age)))
		}
	}
	a.packages(f, cells)
	switch {
	case a.Positions:
		a.place(f, l, cells)
		cells[dwca.AccessRights] = "CONFIDENTIAL: holds positions; not to be published"
	case known || f.Position.Typed != "":
		cells[dwca.InformationWithheld], cells[dwca.DataGeneralizations] = withheldFind, generalization
	}
	return cells
}

// remarksOf are what the register says of a find that no other term takes.
func remarksOf(f register.Find) string {
	said := func(name, text string) string {
		if text == "" {
			return ""
		}
		return name + ": " + text
	}
	return joined(nonBlank(said("marker bed", f.MarkerBed), said("condition", f.Condition), f.Remarks))
}

// packages says in what the find lies, what was put on it, and where it is by now.
func (a *archive) packages(f register.Find, cells map[dwca.Term]string) {
	var ids, prepared, states []string
	for _, j := range a.Sheets.JacketsOf(f.FieldNumber) {
		ids = append(ids, a.names.Jacket(j.Number))
		kind := string(j.Kind)
		if kind == "" {
			kind = string(register.PlasterJacket)
		}
		text := kind + " " + j.Number
		if j.JacketKind != "" {
			text += " (" + j.JacketKind + ")"
		}
		prepared = append(prepared, text)
		i := slices.IndexFunc(a.Packets, func(p paperwork.Packet) bool { return p.Jacket.Number == j.Number })
		if i >= 0 {
			prepared = append(prepared, paperwork.Treatments(a.Packets[i])...)
		}
		if state := a.disposition(j, f); state != "" && !slices.Contains(states, state) {
			states = append(states, state)
		}
	}
	cells[dwca.MaterialSampleID] = joined(ids)
	cells[dwca.Preparations] = a.guard.Text(joined(prepared))
	cells[dwca.Disposition] = a.guard.Text(joined(states))
}

// disposition is where a find is now with respect to a collection, as far as the register says; "": it does not. How far a jacket
// came in the field is no disposition.
func (a *archive) disposition(j register.Jacket, f register.Find) string {
	stage, _ := a.Sheets.StageOf(j.Number)
	to := ""
	if j.SentTo != "" {
		to = " " + j.SentTo
	}
	switch {
	case j.Kind == register.LeftInGround:
		return "left in the ground"
	case stage == register.Received || stage == register.Opened:
		if f.MuseumNumber != "" {
			return "in collection"
		}
		return strings.TrimSpace("received" + strings.Replace(to, " ", " by ", 1) + ", not catalogued yet")
	case stage == register.Loaded:
		return "on its way" + strings.Replace(to, " ", " to ", 1)
	case stage != "":
		return "in the field"
	}
	return ""
}

// associated names the finds that lie in the same jacket, and those that one find was split into.
func (a *archive) associated(f register.Find) string {
	var out []string
	for _, j := range a.Sheets.JacketsOf(f.FieldNumber) {
		for _, number := range j.Finds {
			if id := a.names.Find(number); id != "" && number != f.FieldNumber {
				out = append(out, fmt.Sprintf("%q:%q", "in the same jacket as", id))
			}
		}
	}
	for _, o := range a.Sheets.Finds {
		split := slices.Contains(o.Formerly, f.FieldNumber) || slices.Contains(f.Formerly, o.FieldNumber) ||
			slices.ContainsFunc(o.Formerly, func(n string) bool { return slices.Contains(f.Formerly, n) })
		if split && o.FieldNumber != f.FieldNumber {
			out = append(out, fmt.Sprintf("%q:%q", "split from one find with", a.names.Find(o.FieldNumber)))
		}
	}
	slices.Sort(out)
	return joined(slices.Compact(out))
}

// place says where the find lay: its own position, else its locality's.
func (a *archive) place(f register.Find, l register.Locality, cells map[dwca.Term]string) {
	clean := a.guard.Text
	cells[dwca.VerbatimLocality] = clean(l.Name)
	said := func(name, text string) string {
		if text == "" {
			return ""
		}
		return name + ": " + text
	}
	cells[dwca.LocationRemarks] = clean(joined(nonBlank(said("landowner", l.Landowner), said("permit", l.Permit), said("permit until", l.PermitUntil.String()), said("access", l.Access), l.Remarks)))
	p := f.Position
	if p.Typed == "" && l.Position.Typed != "" {
		p = l.Position
		cells[dwca.GeoreferenceRemarks] = "the position of the locality, not of the find"
	}
	if p.AltitudeM != nil {
		cells[dwca.MinimumElevation], cells[dwca.MaximumElevation] = number(*p.AltitudeM), number(*p.AltitudeM)
	}
	if p.Typed == "" {
		return
	}
	cells[dwca.VerbatimCoordinates], cells[dwca.VerbatimSRS], cells[dwca.GeoreferenceSources] = p.Typed, p.Datum, clean(p.Source)
	if p.UncertaintyM != nil && *p.UncertaintyM > 0 {
		cells[dwca.CoordinateUncertainty] = number(*p.UncertaintyM)
	}
	at, err := p.Read()
	if err != nil {
		cells[dwca.GeoreferenceRemarks] = joined(nonBlank(cells[dwca.GeoreferenceRemarks], "cannot be read for certain: "+err.Error()))
		return
	}
	cells[dwca.VerbatimSystem] = at.Form
	if at.Place == nil {
		cells[dwca.GeoreferenceRemarks] = joined(nonBlank(cells[dwca.GeoreferenceRemarks], "on another datum than WGS84, and not shifted"))
		return
	}
	cells[dwca.DecimalLatitude], cells[dwca.DecimalLongitude] = degrees(at.Place.LatDeg), degrees(at.Place.LonDeg)
	cells[dwca.GeodeticDatum] = "EPSG:4326"
	if at.Datum == "" {
		cells[dwca.GeodeticDatum] = "not recorded"
	}
	b := a.box
	if b == nil {
		a.box = &dwca.Box{Description: "the places of the finds", West: at.Place.LonDeg, East: at.Place.LonDeg, North: at.Place.LatDeg, South: at.Place.LatDeg}
		return
	}
	b.West, b.East = min(b.West, at.Place.LonDeg), max(b.East, at.Place.LonDeg)
	b.South, b.North = min(b.South, at.Place.LatDeg), max(b.North, at.Place.LatDeg)
}

// joined lists texts within a cell as Darwin Core recommends.
func joined(texts []string) string { return strings.Join(texts, " | ") }

func nonBlank(texts ...string) []string {
	return slices.DeleteFunc(texts, func(t string) bool { return strings.TrimSpace(t) == "" })
}

func number(v float64) string { return strconv.FormatFloat(v, 'f', -1, 64) }

// degrees gives seven decimals, a centimetre.
func degrees(v float64) string { return strconv.FormatFloat(v, 'f', 7, 64) }
