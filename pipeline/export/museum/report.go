package museum

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/export/consent"
	"fieldjacket/pipeline/export/dwca"
)

// A Report is what an archive holds, lacks and withholds. Its text goes along in the archive and holds nothing that is withheld; which
// plates are left out is for the crew alone.
type Report struct {
	Finds, Photos, Plates, Measurements int
	MediaRows                           int

	NoFind   int               // photos that belong to no find, and are not in it
	People   int               // plates of photos of which nobody said whether they show people
	Lacking  int               // photos without a plate that shows what the season says now
	LeftOut  []consent.LeftOut // plates, by their reasons
	Empty    []string          // "institutionCode: empty: institution_code in season.toml"
	Withheld []string
	Notes    []string
}

func (r *Report) leaveOut(file, reason string) {
	r.LeftOut = append(r.LeftOut, consent.LeftOut{File: file, Reason: reason})
}

// asked are the terms that the report looks for: those that Darwin Core or GBIF (Darwin Core archives, how-to guide; data quality
// requirements for occurrences) require or recommend, and those that a collection needs; with where the register has them.
var asked = []struct {
	term  dwca.Term
	need  string
	where string
}{
	{dwca.OccurrenceID, "required", ""}, {dwca.BasisOfRecord, "required", ""}, {dwca.EventDate, "required", "date in the finds sheet"},
	{dwca.ScientificName, "required for publishing", "none: a field identification is given as typed, and a name is the museum's to give"},
	{dwca.InstitutionCode, "recommended", "institution_code in season.toml"}, {dwca.CollectionCode, "recommended", "collection_code in season.toml"},
	{dwca.CatalogNumber, "recommended", "museum_number in the finds sheet, or fieldjacket import numbers"}, {dwca.RecordNumber, "recommended", ""},
	{dwca.RecordedBy, "recommended", "by in the finds sheet"}, {dwca.RecordedByID, "recommended", "orcid in season.toml's [people], of those whose name may be printed"},
	{dwca.License, "recommended", "licence in season.toml"}, {dwca.RightsHolder, "recommended", "rights_holder in season.toml"}, {dwca.DatasetName, "recommended", "name in season.toml"},
	{dwca.VerbatimIdent, "recommended", "what in the finds sheet"}, {dwca.Formation, "recommended", "formation in the localities sheet"}, {dwca.Member, "recommended", "member in the localities sheet"}, {dwca.Bed, "recommended", "horizon in the finds sheet"},
	{dwca.LocationID, "recommended", "locality in the finds sheet"}, {dwca.Preparations, "recommended", ""}, {dwca.Disposition, "recommended", "stage and sent_to in the jackets sheet"},
}

// askedPlaces are those that only an archive with positions has.
var askedPlaces = []struct {
	term  dwca.Term
	where string
}{
	{dwca.DecimalLatitude, "position in the finds or localities sheet"}, {dwca.GeodeticDatum, "datum beside it"}, {dwca.CoordinateUncertainty, "position_uncertainty_m beside it"}, {dwca.GeoreferenceSources, "position_source beside it"},
}

// tell completes the report.
func (a *archive) tell() {
	r := &a.report
	slices.SortStableFunc(r.LeftOut, func(a, b consent.LeftOut) int { return strings.Compare(a.Reason, b.Reason) })
	r.Finds, r.MediaRows, r.Measurements, r.Lacking = len(a.finds.Rows), len(a.media.Rows), len(a.measurements.Rows), a.Lacking
	empty := func(term dwca.Term, need, where string) {
		n := a.finds.Empty(term)
		if n == 0 || r.Finds == 0 {
			return
		}
		text := fmt.Sprintf("%s (%s): empty in %d of %s", term.Short(), need, n, count(r.Finds, "find"))
		if n == r.Finds {
			text = fmt.Sprintf("%s (%s): left out, since no find has it", term.Short(), need)
		}
		if where != "" {
			text += ": " + where
		}
		r.Empty = append(r.Empty, text)
	}
	for _, t := range asked {
		empty(t.term, t.need, t.where)
	}
	if len(a.names.Shared) > 0 {
		r.Notes = append(r.Notes, "the first number is another's too, so the number of now is in the identifier as well: "+a.guard.Text(strings.Join(a.names.Shared, ", ")))
	}
	if a.Positions {
		for _, t := range askedPlaces {
			empty(t.term, "recommended", t.where)
		}
		r.Withheld = append(r.Withheld, "names of people who did not agree to be named: initials stand in their place")
		return
	}
	r.Withheld = append(r.Withheld,
		"coordinates, names of localities, landowners, permits, permit dates, ways in, remarks on localities and positions of photos, wherever they stand in a text; the place is given by the locality's number",
		"columns of the crew's own that may hold a place, an owner or a permit",
		"names of people who did not agree to be named: initials stand in their place",
		"all tags of pictures but resolution and colour profile")
}

// Text is the report as it goes along.
func (r Report) Text() string {
	var b strings.Builder
	line := func(format string, args ...any) { fmt.Fprintf(&b, format+"\n", args...) }
	line("%s, %s and %s (%d rows), %s", count(r.Finds, "find"), count(r.Photos, "photo"), count(r.Plates, "plate"), r.MediaRows, count(r.Measurements, "measurement"))
	if r.NoFind > 0 {
		line("%s of no find not in it", count(r.NoFind, "photo"))
	}
	if r.Lacking > 0 {
		line("%s without a plate that shows what the season says now: fieldjacket run", count(r.Lacking, "photo"))
	}
	if r.People > 0 {
		line("%s of photos of which nobody said whether they show people: look at them before they are published", count(r.People, "plate"))
	}
	list := func(head string, texts []string) {
		if len(texts) > 0 {
			line("%s:", head)
			for _, t := range texts {
				line("  %s", t)
			}
		}
	}
	list("withheld", r.Withheld)
	list("empty", r.Empty)
	list("notes", r.Notes)
	if len(r.LeftOut) > 0 {
		reasons := map[string]int{}
		var order []string
		for _, l := range r.LeftOut {
			reason, _, _ := strings.Cut(l.Reason, ":")
			if reasons[reason]++; !slices.Contains(order, reason) {
				order = append(order, reason)
			}
		}
		for _, reason := range order {
			line("%s left out: %s", count(reasons[reason], "plate"), reason)
		}
	}
	return b.String()
}

func count(n int, what string) string {
	if n == 1 {
		return "1 " + what
	}
	return fmt.Sprintf("%d %ss", n, what)
}
