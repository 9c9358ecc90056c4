package register

import (
	"time"

	"fieldjacket/calibrate"
)

// A Season is what season.toml says.
type Season struct {
	Name     string
	ZoneName string         // as written: "America/Argentina/Catamarca", "-03:00"
	Zone     *time.Location `json:"-"` // nil: not given; then only photos with their own offset have a known instant
	// DeclinationDeg is typed for a year that the magnetic model does not cover: magnetic north is so far clockwise (east) of true
	// north. nil: not given.
	DeclinationDeg *float64
	References     []Reference   // carried this season, in the order written
	Due            []DueView     // ordered by stage, then as written
	Mixes          []Mix         // in the order written
	People         []Person      // ordered by initials
	CarryFor       time.Duration // how long a placard gives its jacket to the photos after it; 0: not at all
	CarryPause     time.Duration // the longest pause between two photos over which it does
	Clocks         []Clock       // in the order written
	Print          Print
	CountOnly      []string // folders below photos/, slash paths, whose photos are counted and not plated
}

// A Reference is a thing of known size that the crew carries, with what was measured on it once at home.
type Reference struct {
	calibrate.Reference
	DiagonalsCm *[2]float64 // grid: both diagonals of the frame, taped; nil: not taped
	Jacket      string      // card: the jacket that it stands for; empty: none
	Arrow       North       // card: the north that its arrow is laid to by compass; empty: it tells no north
	ArrowEnd    string      // card: "a" or "b", the end of the fossil that its arrow is laid towards; empty: neither
	Origin      string      // card: OriginLetters, OriginNumbers or OriginCorner where it is always laid at the origin corner of the set-up's frame; empty: it is not
}

// What the arrow of a card that is always laid at the origin corner of the frame runs along, from that corner.
const (
	OriginLetters = "letters" // the edge along which the letters run
	OriginNumbers = "numbers" // the other edge at that corner
	OriginCorner  = "corner"  // neither: the set-up's letters_run tells
)

// A Mix is a glue or separator as prepared. Texts are as written; nothing is assumed for a blank one.
type Mix struct {
	Name         string // "bottle A", as the diary's mix column calls it
	Resin        string
	Percent      *float64 // of the resin, 0 to 100
	Basis        string   // of the percentage: "w/v", "w/w", "v/v"
	Solvent      string
	RedissolveIn string // "acetone", "not readily", "" not recorded
}

// A Person is one of the crew.
type Person struct {
	Initials string
	Name     string
	MayPrint bool // the name may stand on paper; otherwise the initials do
}

// What may be printed of positions outside the confidential locality record.
const (
	PrintNumberOnly = "locality number" // the default
	PrintFull       = "full"
)

// Print is what may leave on paper.
type Print struct {
	Positions string // PrintNumberOnly or PrintFull
	Paper     string // PaperA4 or PaperLetter
}

// The papers that sheets are made for.
const (
	PaperA4     = "A4" // the default
	PaperLetter = "Letter"
)

// Mix returns the mix of that name, compared without regard to case.
func (s Season) Mix(name string) (Mix, bool) {
	for _, m := range s.Mixes {
		if sameWord(m.Name, name) {
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
