package record

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
)

// A Record is one photo and everything the season has learned about it. Each
// field is written by one stage; absent means not known, never zero.
type Record struct {
	Photo         intake.Photo         `json:"photo"`               // read
	Capture       *intake.Capture      `json:"capture,omitempty"`   // read; nil: not read
	When          *phones.When         `json:"when,omitempty"`      // locate; nil: no time is known
	Where         *Where               `json:"where,omitempty"`     // locate; nil: no place is known
	Codes         []look.Code          `json:"codes,omitempty"`     // look
	Content       *look.Content        `json:"content,omitempty"`   // look; nil: not looked at
	Sightings     []calibrate.Sighting `json:"sightings,omitempty"` // fit
	DepthsBetween []DepthBetween       `json:"levels,omitempty"`    // fit: depths between references that were scaled
	Belongs       assign.Belongs       `json:"belongs"`             // assign
	NoScale       string               `json:"no_scale,omitempty"`  // assign: who wants it drawn without scale, and why
	Plates        []Plate              `json:"plates,omitempty"`    // draw
	Notes         []Note               `json:"notes,omitempty"`     // any stage: what went wrong or was decided

	// Keys holds, for each stage whose result is kept, the hash of exactly
	// what that stage read.
	Keys map[string]string `json:"keys,omitempty"`

	// Proposed tells why the photo is proposed as the chosen one of its like; "": it is not. Only a person's word chooses.
	Proposed string `json:"-"`
	// ProposedView is what the photo may show, by its place among the others, and ProposedViewWhy why; "": nothing is proposed.
	// It is no view: only a person's word makes one of it.
	ProposedView    register.View `json:"-"`
	ProposedViewWhy string        `json:"-"`
	CopyOf          string        `json:"-"` // the file that stands for this one: of the same bytes, or the original of this reduced copy; "": none
	CountedOnly     bool          `json:"-"` // it lies in a folder that is counted only

	// New marks a photo that no run has seen yet.
	New bool `json:"-"`

	kept []byte // as it stands on the disk; nil: it does not
}

// A Plate is one finished figure of a photo.
type Plate struct {
	Jacket string     `json:"jacket,omitempty"` // empty: the photo belongs to no jacket
	File   string     `json:"file"`             // slash path below paper/
	Made   look.Plate `json:"-"`                // what it says; made anew by every run
	Key    string     `json:"key"`              // hash of all that was drawn

	Under    *look.Source    `json:"-"` // the photo of its earlier picture; nil: it has none
	Mirrored bool            `json:"-"` // as seen from below
	Relief   bool            `json:"-"` // of the ground's level lines
	Size     string          `json:"-"` // how the size of its scale is known
	Tapes    []string        `json:"-"` // taped lengths said of the photo, held against it, a sentence each
	Lengths  []figure.Length `json:"-"` // of finds between their ends, and of outlines
	Areas    []figure.Area   `json:"-"` // within outlines
	Doubts   []string        `json:"-"` // what on it a person has to settle
}

// LengthsOf are the lengths by a photo's plates, each once: a mirrored plate and one of level lines show those of its own.
func LengthsOf(plates []Plate) (all []figure.Length) {
	for _, p := range plates {
		if !p.Mirrored && !p.Relief {
			all = append(all, p.Lengths...)
		}
	}
	return all
}

// A Note is one sentence about a photo.
type Note struct {
	Stage  string `json:"stage"`
	Text   string `json:"text"`
	Retake string `json:"retake,omitempty"` // what a person can do about it
	// Person marks what a person has to settle: the run ends with 3.
	Person bool `json:"person,omitempty"`
	// Again marks a stage that was not done and is tried again by the next run.
	Again bool `json:"again,omitempty"`
	// NoPlate: a plate could not be drawn.
	NoPlate bool `json:"no_plate,omitempty"`
}

// New is the record of a photo that no run has seen.
func New(file string) *Record {
	r := &Record{Keys: map[string]string{}, New: true}
	r.Photo.File = file
	return r
}

// Readable tells whether the photo could be read as one.
func (r *Record) Readable() bool { return r.Capture != nil }

// NotPhoto tells whether the file is something else than a photo.
func (r *Record) NotPhoto() bool {
	return !r.New && r.Capture == nil && !r.HasNote("read", true)
}

// Unread is why the photo could not be read or decoded, with what to do about
// it; "": it could.
func (r *Record) Unread() string {
	for _, n := range r.Notes {
		if n.Person && (n.Stage == "read" || n.Stage == "look") {
			return strings.TrimPrefix(n.Text, r.Photo.File+": ") + ": " + n.Retake
		}
	}
	return ""
}

// Reread is what to do about a photo that could not be read or decoded; "": it could.
func (r *Record) Reread() string {
	for _, n := range r.Notes {
		if n.Person && (n.Stage == "read" || n.Stage == "look") {
			return n.Retake
		}
	}
	return ""
}

// Phone is the phone that took the photo.
func (r *Record) Phone() phones.Phone {
	return phones.Photo{File: r.Photo.File, Capture: r.Capture}.Of()
}

// ToSort tells whether the photo is one that a person sorts: no other kind of
// file, no copy of another, in no folder that is counted only.
func (r *Record) ToSort() bool { return !r.NotPhoto() && !r.Copied() && !r.CountedOnly }

// Aside is why the photo counts as none of its own: another file stands for it (the same bytes, or the original of a reduced
// copy), or it lies in a folder that is counted only; "": it counts.
func (r *Record) Aside() string {
	for _, n := range r.Notes {
		if n.Stage == "copy" || n.Stage == "count" {
			return n.Text
		}
	}
	return ""
}

// Copied tells whether another file stands for this one.
func (r *Record) Copied() bool { return r.CopyOf != "" }

// HasNote tells whether a stage left a note; person: one that a person has to
// settle.
func (r *Record) HasNote(stage string, person bool) bool {
	return slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Stage == stage && n.Person == person })
}

// Plane is the plane that the photo's plates are made on, with its reference;
// nil where nothing was scaled or a person wants no scale.
func (r *Record) Plane() (*calibrate.Plane, *calibrate.Sighting) {
	if r.NoScale != "" {
		return nil, nil
	}
	for i := range r.Sightings {
		if r.Sightings[i].Plane != nil {
			return r.Sightings[i].Plane, &r.Sightings[i]
		}
	}
	return nil, nil
}

// Mirrored tells whether a card in the photo is read as in a mirror, and none
// as it is.
func (r *Record) Mirrored() bool {
	return slices.ContainsFunc(r.Codes, func(c look.Code) bool { return c.Mirrored }) && !slices.ContainsFunc(r.Codes, func(c look.Code) bool { return c.Card > 0 })
}

// AddNote adds a sentence of a stage.
func (r *Record) AddNote(stage, retake string, person bool, format string, args ...any) {
	r.Notes = append(r.Notes, Note{Stage: stage, Text: fmt.Sprintf(format, args...), Retake: retake, Person: person})
}

// DropNotes drops a stage's notes before it is done anew.
func (r *Record) DropNotes(stage string) {
	kept := r.Notes[:0]
	for _, n := range r.Notes {
		if n.Stage != stage {
			kept = append(kept, n)
		}
	}
	r.Notes = kept
}

// ToRepeat tells whether a stage has to be tried again by the next run.
func (r *Record) ToRepeat(stage string) bool {
	return slices.ContainsFunc(r.Notes, func(n Note) bool { return n.Stage == stage && n.Again })
}

// Name is the record's file name without its ending: the photo's own name,
// with its content's hash behind so that two phones' IMG_0412 differ. A photo
// without a hash is told from others by its path.
func (r *Record) Name() string {
	tag := r.Photo.SHA256
	if tag == "" {
		tag = keep.Hash(r.Photo.File)
	}
	return Stem(r.Photo.File) + "_" + tag[:8] + keep.Hash(r.Photo.File)[:4]
}

// PlateIn is the plate of a file among some; false: it is none of them.
func PlateIn(plates []Plate, file string) (Plate, bool) {
	for _, p := range plates {
		if p.File == file {
			return p, true
		}
	}
	return Plate{}, false
}
