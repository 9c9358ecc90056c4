package register

import (
	"time"

	"fieldjacket/calibrate"
)

// A Season is what season.toml says.
type Season struct {
	UUID     string         `json:"UUID,omitempty"` // names the season, and through it its finds, photos and plates, for good; "": not given
	Name     string         `json:"Name"`
	ZoneName string         `json:"ZoneName"` // as written: "-03:00"
	Zone     *time.Location `json:"-"`        // nil: not given; then only photos with their own offset have a known instant
	// DeclinationDeg is typed for a year that the magnetic model does not cover: magnetic north is so far clockwise (east) of true
	// north. nil: not given.
	DeclinationDeg *float64      `json:"DeclinationDeg"`
	References     []Reference   `json:"References"` // carried this season, in the order written
	Due            []DueView     `json:"Due"`        // ordered by stage, then as written
	Mixes          []Mix         `json:"Mixes"`      // in the order written
	People         []Person      `json:"People"`     // ordered by initials
	Contact        Contact       `json:"Contact"`
	Collection     Collection    `json:"Collection,omitzero"`
	PropagateFor   time.Duration `json:"CarryFor"`   // how long a placard gives its jacket to the photos after it; 0: not at all
	CarryPause     time.Duration `json:"CarryPause"` // the longest pause between two photos over which it does
	Clocks         []Clock       `json:"Clocks"`     // in the order written
	Print          Print         `json:"Print"`
	CountOnly      []string      `json:"CountOnly"` // folders below photos/, slash paths, whose photos are counted and not plated
	Quarry         *Quarry       `json:"-"`         // no packet tells of it; nil: the season has no grid of its own
}

// A Reference is a thing of known size that the crew carries, with what was measured on it once at home.
type Reference struct {
	calibrate.Reference
	DiagonalsCm *[2]float64 `json:"DiagonalsCm"` // grid: both diagonals of the frame, taped; nil: not taped
	Jacket      string      `json:"Jacket"`      // card: the jacket that it stands for; empty: none
	Arrow       North       `json:"Arrow"`       // card: the north that its arrow is laid to by compass; empty: it tells no north
	ArrowEnd    string      `json:"ArrowEnd"`    // card: "1" or "2", the end of the fossil that its arrow is laid towards; empty: neither
	Origin      string      `json:"Origin"`      // card: OriginLetters, OriginNumbers or OriginCorner where it is always laid at the origin corner of the set-up's frame; empty: it is not
}

// What the arrow of a card that is always laid at the origin corner of the frame runs along, from that corner.
const (
	OriginLetters = "letters" // the edge along which the letters run
	OriginNumbers = "numbers" // the other edge at that corner
	OriginCorner  = "corner"  // neither: the set-up's letters_run tells
)

// A Mix is a glue or separator as prepared. Texts are as written; nothing is assumed for a blank one.
type Mix struct {
	Name         string   `json:"Name"` // "bottle A", as the diary's mix column calls it
	Resin        string   `json:"Resin"`
	Percent      *float64 `json:"Percent"` // of the resin, 0 to 100
	Basis        string   `json:"Basis"`   // of the percentage: "w/v", "w/w", "v/v"
	Solvent      string   `json:"Solvent"`
	RedissolveIn string   `json:"RedissolveIn"` // "acetone", "not readily", "" not recorded
}

// A Person is one of the crew.
type Person struct {
	Initials string `json:"Initials"`
	Name     string `json:"Name"`
	MayPrint bool   `json:"MayPrint"`        // the name may stand on paper; otherwise the initials do
	ORCID    string `json:"ORCID,omitempty"` // "0000-0002-1825-0097"; "": not given
}

// A Collection is what a collections database is told of the whole season. Texts are as written, "" is not given.
type Collection struct {
	InstitutionCode string `json:"InstitutionCode"`
	CollectionCode  string `json:"CollectionCode"`
	RightsHolder    string `json:"RightsHolder"` // of the pictures
	Licence         string `json:"Licence"`      // of the pictures: its address
}

// A Contact is who owns what was collected and whom to ask about it, years later.
type Contact struct {
	Owner    string `json:"Owner"` // an institution or a person
	Ask      string `json:"Ask"`   // a name, a number, an address, in one line
	MayPrint bool   `json:"MayPrint"`
}

// PrintedContact is the contact as far as it may stand on paper: blank unless the season says that it may.
func (s Season) PrintedContact() Contact {
	if !s.Contact.MayPrint {
		return Contact{}
	}
	return Contact{Owner: s.Contact.Owner, Ask: s.Contact.Ask}
}

// What may be printed of positions outside the confidential locality record.
const (
	PrintNumberOnly = "locality number" // the default
	PrintFull       = "full"
)

// Print is what may leave on paper.
type Print struct {
	Positions string `json:"Positions"` // PrintNumberOnly or PrintFull
	Paper     string `json:"Paper"`     // PaperA4 or PaperLetter
}

// The papers that sheets are made for.
const (
	PaperA4     = "A4" // the default
	PaperLetter = "Letter"
)

// Blank tells whether season.toml says nothing of the season: it is empty, or all of it is comments.
func (s Season) Blank() bool {
	return s.Name == "" && s.ZoneName == "" && s.DeclinationDeg == nil && len(s.References) == 0 && len(s.Mixes) == 0 &&
		len(s.People) == 0 && s.Contact == (Contact{}) && len(s.Clocks) == 0 && len(s.CountOnly) == 0 && s.Quarry == nil
}

// Mix returns the mix of that name, compared without regard to case.
func (s Season) Mix(name string) (Mix, bool) {
	for _, m := range s.Mixes {
		if SameWord(m.Name, name) {
			return m, true
		}
	}
	return Mix{}, false
}

// Card returns the season's card of that number, the zero Reference where it carries none.
func (s Season) Card(number int) Reference {
	for _, r := range s.References {
		if r.Kind == calibrate.KindCard && r.Card == number {
			return r
		}
	}
	return Reference{}
}

// PrintedName returns what may be printed for what stands in a "by" cell: the full name where the season allows it,
// otherwise the cell as it is.
func (s Season) PrintedName(by string) string {
	for _, p := range s.People {
		if p.Initials == by && p.MayPrint && p.Name != "" {
			return p.Name
		}
	}
	return by
}
