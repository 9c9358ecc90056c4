package paperwork

import (
	"io"
	"net/url"
	"slices"
	"strconv"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// A Workbook is what the collections manager's workbook is made of.
type Workbook struct {
	Season  register.Season `json:"Season"`
	Finds   []register.Find `json:"Finds"`
	Jackets []Packet        `json:"Jackets"` // for each jacket what its packet is made of
	Photos  []Shot          `json:"Photos"`
}

// A Shot is one photo of the season.
type Shot struct {
	File     string        `json:"File"` // slash path below photos/
	SHA256   string        `json:"SHA256"`
	Taken    string        `json:"Taken"` // "" not recorded
	Jackets  []string      `json:"Jackets"`
	View     register.View `json:"View"`
	Caption  string        `json:"Caption"`
	ScaledBy string        `json:"ScaledBy"` // "string grid"; "": not scaled
	Plates   []string      `json:"Plates"`   // files, as paths below paper/
	Small    string        `json:"Small"`    // path of a small picture; "": there is none
}

// A bookSheet is one sheet: heads, the Darwin Core or Audiovisual Core term that a column comes nearest to, and rows.
type bookSheet struct {
	name  string
	heads [][2]string // head, term; a blank term: none fits
	rows  [][]string
}

// WriteWorkbook writes finds, jackets and photos as one workbook of text cells, one row each, for a collection's own
// database. The second row of each sheet names the standard term that a column comes nearest to (Darwin Core, TDWG,
// version of 2026-08-15; Audiovisual Core, 2026-02-24). Positions are left out unless the season lets them be printed.
func WriteWorkbook(w io.Writer, b Workbook) error {
	b = printable(b, b.Season)
	var sheets []table.TextSheet
	for _, s := range []bookSheet{b.finds(), b.jackets(), b.photos(), b.measurements()} {
		heads, terms := make([]string, len(s.heads)), make([]string, len(s.heads))
		for i, h := range s.heads {
			heads[i], terms[i] = h[0], h[1]
		}
		sheets = append(sheets, table.TextSheet{Name: s.name, Lines: append([][]string{heads, terms}, s.rows...)})
	}
	return table.WriteText(w, sheets)
}

func (b Workbook) finds() bookSheet {
	s := bookSheet{name: "finds", heads: [][2]string{
		{"field_number", "dwc:recordNumber"}, {"date", "dwc:eventDate"}, {"what", "dwc:verbatimIdentification"}, {"by", "dwc:recordedBy"}, {"jackets", "dwc:preparations"},
		{"locality", "dwc:locationID"}, {"horizon", "dwc:bed"}, {"height_in_section_m", ""}, {"context", "dwc:occurrenceRemarks"}, {"element", ""}, {"side", ""},
		{"condition", ""}, {"museum_number", "dwc:catalogNumber"}, {"formerly", "dwc:otherCatalogNumbers"}, {"remarks", "dwc:occurrenceRemarks"}, {"withheld", "dwc:informationWithheld"},
	}}
	withheld := "position; kept in the locality record"
	if full(b.Season) {
		withheld = ""
		s.heads = append(s.heads, [2]string{"position_as_typed", "dwc:verbatimCoordinates"}, [2]string{"datum", "dwc:verbatimSRS"}, [2]string{"position_u_m", "dwc:coordinateUncertaintyInMeters"})
	}
	for _, f := range b.Finds {
		var jackets []string
		for _, p := range b.Jackets {
			if slices.Contains(p.Jacket.Finds, f.FieldNumber) {
				jackets = append(jackets, p.Jacket.Number)
			}
		}
		row := []string{
			f.FieldNumber, f.Date.String(), f.What, b.Season.PrintedName(f.By), joined(jackets), f.Locality, f.Horizon, plain(f.HeightInSectionM),
			f.Context, f.Element, f.Side, f.Condition, f.MuseumNumber, joined(f.Formerly), f.Remarks, withheld,
		}
		if full(b.Season) {
			row = append(row, f.Position.Typed, f.Position.Datum, plain(f.Position.UncertaintyM))
		}
		s.rows = append(s.rows, row)
	}
	return s
}

func (b Workbook) jackets() bookSheet {
	s := bookSheet{name: "jackets", heads: [][2]string{
		{"jacket", "dwc:recordNumber"}, {"finds", "dwc:associatedOccurrences"}, {"kind", "dwc:preparations"}, {"pieces", ""}, {"stage", "dwc:disposition"}, {"size_cm", ""}, {"mass", ""},
		{"separator", ""}, {"splints", ""}, {"open_side", ""}, {"samples", ""}, {"sent_to", ""}, {"formerly", "dwc:otherCatalogNumbers"}, {"treatments", "dwc:preparations"}, {"views_lacking", ""},
		{"carried_from", ""},
	}}
	for _, p := range b.Jackets {
		j := p.Jacket
		var lacking []string
		for _, v := range p.Audit.Lacks() {
			lacking = append(lacking, string(v.View))
		}
		sizes := size(j)
		if sizes == notRecorded {
			sizes = ""
		}
		s.rows = append(s.rows, []string{
			j.Number, joined(j.Finds), kindOf(j), piece(j), string(p.Audit.Stage), sizes, massRange(j), j.Separator, j.Splints, j.OpenSide, j.Samples, j.SentTo,
			joined(j.Formerly), joined(Treatments(p)), joined(lacking), p.origins(),
		})
	}
	return s
}

func (b Workbook) photos() bookSheet {
	s := bookSheet{name: "photos", heads: [][2]string{
		{"photo", "dcterms:identifier"}, {"file", "ac:accessURI"}, {"sha256", "ac:hashValue"}, {"hash_function", "ac:hashFunction"}, {"taken", "xmp:CreateDate"}, {"jackets", "ac:associatedSpecimenReference"}, {"view", "ac:subjectPart"}, {"caption", "ac:caption"}, {"scaled_by", "ac:resourceCreationTechnique"},
		{"plates", "ac:relatedResourceID"},
	}}
	for _, p := range b.Photos {
		original := url.URL{Path: "photos/" + p.File} // what the hash is of, as seen from the season's folder
		function := ""
		if p.SHA256 != "" {
			function = "SHA-256"
		}
		s.rows = append(s.rows, []string{p.File, original.String(), p.SHA256, function, iso(p.Taken), joined(p.Jackets), string(p.View), p.Caption, p.ScaledBy, joined(p.Plates)})
	}
	return s
}

// iso is a time as ISO 8601-1:2019 writes it: 2026-03-12T14:02:11-03:00, without an offset where none is known.
func iso(taken string) string {
	return strings.Replace(strings.Replace(taken, " ", "T", 1), " ", "", 1)
}

// joined lists texts within a cell as the Darwin Core does.
func joined(texts []string) string { return strings.Join(texts, " | ") }

func plain(v *float64) string {
	if v == nil {
		return ""
	}
	return strconv.FormatFloat(*v, 'f', -1, 64)
}
