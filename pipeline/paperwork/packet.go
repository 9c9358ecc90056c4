package paperwork

import (
	"errors"
	"io"
	"slices"
	"time"

	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/withhold"
)

// A Packet is everything that the paper of one jacket is made of.
type Packet struct {
	Made   time.Time        `json:"Made"`  // the file's date; it must not be a clock's, or every run writes another file
	Paper  sheet.Paper      `json:"Paper"` // zero: A4
	Season register.Season  `json:"Season"`
	Jacket register.Jacket  `json:"Jacket"`
	Finds  []register.Find  `json:"Finds"`  // those that the finds sheet has, in the jacket's order
	SetUps []register.SetUp `json:"SetUps"` // those of this jacket
	Diary  []register.Entry `json:"Diary"`  // the lines on this jacket, by date
	Audit  audit.Jacket     `json:"Audit"`
	Plates []Plate          `json:"Plates"` // in the order to be printed
	Files  []File           `json:"Files"`  // everything that belongs to the jacket

	Sisters      []Sister `json:"Sisters"`      // other jackets of the same finds
	BelowPlaster string   `json:"BelowPlaster"` // how far the bone lies below the plaster's outside by the levels; "": not known
	FileList     string   `json:"FileList"`     // the name of the list that WriteFiles writes

	Before *Packet  `json:"Before"` // what an earlier season had of the jacket, under the numbers of then; nil: it began in this one
	From   string   `json:"From"`   // of an earlier season's: what that season calls itself
	Words  []string `json:"Words"`  // of an earlier season's: what people said on the jacket and its photos, a line each
}

// seasons are the packet and those of earlier seasons, the earliest first.
func (p Packet) seasons() (out []Packet) {
	for b := &p; b != nil; b = b.Before {
		out = append(out, *b)
	}
	slices.Reverse(out)
	return out
}

// A Plate is a finished figure.
type Plate struct {
	Path     string          `json:"Path"` // of the JPEG on disk
	View     register.View   `json:"View"`
	Taken    string          `json:"Taken"`            // "2026-03-12 14:02:11 -03:00"; "": not recorded
	Headline string          `json:"Headline"`         // what its scale holds for, or why it has none
	Stamp    string          `json:"Stamp"`            // "NO SCALE"; may be blank
	Mirrored bool            `json:"Mirrored"`         // as seen from field bottom
	Relief   bool            `json:"Relief,omitempty"` // of the ground's level lines
	PxPerCm  float64         `json:"PxPerCm"`          // plate pixels per cm at the level that its scale bar holds for; 0: no scale
	Caption  string          `json:"Caption"`
	By       string          `json:"By"`
	Chosen   bool            `json:"Chosen"`            // by a person, for the packet
	Proposed string          `json:"Proposed"`          // why it stands before its like where nobody chose; "": it does not
	Size     string          `json:"Size,omitempty"`    // how the size of its scale is known; "": it has none
	Tapes    []string        `json:"Tapes"`             // taped lengths held against this plate, a sentence each
	Lengths  []figure.Length `json:"Lengths,omitempty"` // of finds between their ends, and of outlines, by this plate
	Drawn    *Drawn          `json:"Drawn"`             // what the JPEG shows where; nil: not known, as of an earlier version's
	Small    string          `json:"Small"`             // path of a small picture of the photo; "": there is none
	Photo    string          `json:"Photo"`             // slash path below photos/
	Preview  string          `json:"Preview"`           // path of the untouched photo, reduced; "": there is none
}

// A File is a line of the list at the packet's end.
type File struct {
	Name   string `json:"Name"`
	Taken  string `json:"Taken"` // as a plate's
	SHA256 string `json:"SHA256"`
}

// WritePacket writes a jacket's packet as one PDF. The first sheet answers whoever stands before the jacket; behind it come the other
// plates, the record, what was done to the bone, cautions and the receipt, and what earlier seasons had of it.
func WritePacket(w io.Writer, p Packet) error {
	if p.Jacket.Number == "" {
		return errors.New("packet of a jacket without a number")
	}
	p = printable(p, p.Season)
	s := pages{sheet.New(sheet.Options{Paper: p.Paper, Number: letters.Spell(p.Jacket.Number), Title: title(p), First: true, Made: p.Made})}
	for _, part := range []func(pages, Packet) error{
		front, plates, theRecord, treatments, tapeChecks, diary, cautionsFor, receipt, history,
	} {
		if err := part(s, p); err != nil {
			return err
		}
	}
	return s.Write(w)
}

// printable is what may be printed of v on paper that is passed on: positions only if the season says so.
func printable[T any](v T, season register.Season) T {
	if full(season) {
		return v
	}
	return withhold.Copy(v)
}

// title is what stands at the head of each sheet beside the number.
func title(p Packet) string {
	kind := kindOf(p.Jacket)
	if p.Season.Name != "" {
		return "packet of this " + letters.Spell(kind+", "+p.Season.Name)
	}
	return "packet of this " + kind
}

// kindOf names the kind of a package; one of no kind is taken for a plaster jacket.
func kindOf(j register.Jacket) string {
	if j.Kind == "" {
		return string(register.PlasterJacket)
	}
	return string(j.Kind)
}
