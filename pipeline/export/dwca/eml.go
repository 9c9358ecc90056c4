package dwca

import (
	"encoding/xml"
	"fmt"
)

// A Dataset is what eml.xml says of the whole. "" is left out.
type Dataset struct {
	ID           string // its own identifier
	Title        string
	Organization string // who made it; "": Position speaks for it
	Position     string // a role, where no name may be given
	People       []Party
	Published    string // ISO 8601 day
	Abstract     []string
	Rights       string
	From, To     string // ISO 8601 days
	Box          *Box   // nil: where it is from is not said
}

// A Party is a person.
type Party struct {
	Name  string
	ORCID string // address; "": none
}

// A Box holds all places, in degrees on WGS84.
type Box struct {
	Description              string
	West, East, North, South float64
}

type emlParty struct {
	Individual *emlName `xml:"individualName,omitempty"`
	Org        string   `xml:"organizationName,omitempty"`
	Position   string   `xml:"positionName,omitempty"`
	ID         *emlID   `xml:"userId,omitempty"`
}

type emlName struct {
	Surname string `xml:"surName"`
}

type emlID struct {
	Directory string `xml:"directory,attr"`
	Text      string `xml:",chardata"`
}

type emlDate struct {
	Day string `xml:"calendarDate"`
}

type emlText struct {
	Para []string `xml:"para"`
}

type emlBox struct {
	Description string `xml:"geographicDescription"`
	West        string `xml:"boundingCoordinates>westBoundingCoordinate"`
	East        string `xml:"boundingCoordinates>eastBoundingCoordinate"`
	North       string `xml:"boundingCoordinates>northBoundingCoordinate"`
	South       string `xml:"boundingCoordinates>southBoundingCoordinate"`
}

type emlTime struct {
	Begin emlDate `xml:"rangeOfDates>beginDate"`
	End   emlDate `xml:"rangeOfDates>endDate"`
}

type emlCoverage struct {
	Box  *emlBox  `xml:"geographicCoverage,omitempty"`
	Time *emlTime `xml:"temporalCoverage,omitempty"`
}

// The order of fields is that of the schema.
type emlFile struct {
	XMLName   xml.Name `xml:"eml:eml"`
	Space     string   `xml:"xmlns:eml,attr"`
	PackageID string   `xml:"packageId,attr"`
	System    string   `xml:"system,attr"`
	Lang      string   `xml:"xml:lang,attr"`
	Dataset   struct {
		Alternate string       `xml:"alternateIdentifier"`
		Title     string       `xml:"title"`
		Creator   []emlParty   `xml:"creator"`
		Provider  emlParty     `xml:"metadataProvider"`
		PubDate   string       `xml:"pubDate,omitempty"`
		Language  string       `xml:"language"`
		Abstract  emlText      `xml:"abstract"`
		Rights    *emlText     `xml:"intellectualRights,omitempty"`
		Coverage  *emlCoverage `xml:"coverage,omitempty"`
		Contact   emlParty     `xml:"contact"`
	} `xml:"dataset"`
}

// EML is eml.xml.
func (d Dataset) EML() ([]byte, error) {
	f := emlFile{Space: "eml://ecoinformatics.org/eml-2.1.1", PackageID: d.ID, System: "fieldjacket", Lang: "en"}
	own := emlParty{Org: cell(d.Organization), Position: cell(d.Position)}
	s := &f.Dataset
	s.Alternate, s.Title, s.Provider, s.Contact, s.PubDate, s.Language = d.ID, cell(d.Title), own, own, d.Published, "en"
	for _, p := range d.People {
		party := emlParty{Individual: &emlName{Surname: cell(p.Name)}}
		if p.ORCID != "" {
			party.ID = &emlID{Directory: "https://orcid.org/", Text: p.ORCID}
		}
		s.Creator = append(s.Creator, party)
	}
	if len(s.Creator) == 0 {
		s.Creator = []emlParty{own}
	}
	for _, text := range d.Abstract {
		s.Abstract.Para = append(s.Abstract.Para, cell(text))
	}
	if d.Rights != "" {
		s.Rights = &emlText{Para: []string{cell(d.Rights)}}
	}
	var c emlCoverage
	if d.From != "" {
		c.Time = &emlTime{emlDate{d.From}, emlDate{d.To}}
	}
	if b := d.Box; b != nil {
		deg := func(v float64) string { return fmt.Sprintf("%.5f", v) }
		c.Box = &emlBox{cell(b.Description), deg(b.West), deg(b.East), deg(b.North), deg(b.South)}
	}
	if c != (emlCoverage{}) {
		s.Coverage = &c
	}
	text, err := xml.MarshalIndent(f, "", "  ")
	if err != nil {
		return nil, fmt.Errorf("eml.xml: %w", err)
	}
	return append([]byte(xml.Header), append(text, '\n')...), nil
}
