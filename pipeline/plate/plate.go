package plate

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/record"
)

// noScale is struck over a plate that carries none.
const noScale = "NO SCALE"

// An Input is a photo with what others show of the bone under its plaster.
type Input struct {
	evidence.Photo
	Covered evidence.Covered
	Norths  func(r *record.Record, jacket string) figure.Norths // nil: plates show the north that was stated
	Turned  map[string]Way                                      // by jacket, what all its plates can be turned by; "": each by its own
	Whole   bool                                                // plates are not cropped
	part    *layout.Want                                        // what a plate shows instead of what was measured; nil: that
}

// Compose says what the photo's plates show: one for each jacket it belongs to,
// one without a number where it belongs to none, none where a person left it out.
func Compose(in Input) []record.Plate {
	if in.Belongs.LeaveOut {
		return nil
	}
	jackets := in.Belongs.Jackets
	if len(jackets) == 0 {
		jackets = []string{""}
	}
	out := make([]record.Plate, 0, len(jackets))
	var doubts []string
	for _, number := range jackets {
		p := in.plate(number, asSeen, doubts)
		doubts = append(doubts, p.Doubts...)
		out = append(out, p)
		for _, side := range []side{mirrored, lines} {
			if side == mirrored && in.mirrors(number) || side == lines && in.drawsRelief() {
				p := in.plate(number, side, doubts)
				p.Doubts = nil // the same as of the plate itself
				out = append(out, p)
			}
		}
	}
	return out
}

// Doubts are what on the plates a person has to settle.
func Doubts(plates []record.Plate) (all []string) {
	for _, p := range plates {
		all = append(all, p.Doubts...)
	}
	return all
}

// A draft is one plate while it is made.
type draft struct {
	Input
	known  []string // doubts of the photo's other plates
	doubts []string
	tapes  []string
	long   []figure.Length
	areas  []figure.Area
	size   string
}

// doubt keeps what a person has to settle about the plates, once.
func (d *draft) doubt(text string) {
	if !slices.Contains(d.known, text) && !slices.Contains(d.doubts, text) {
		d.doubts = append(d.doubts, text)
	}
}

// A side is which of a photo's plates one is.
type side string

const (
	asSeen   side = ""
	mirrored side = "-mirrored" // as seen from below
	lines    side = "-relief"   // with the ground's level lines
)

// plate is one plate with all that it says; told are the doubts of those before it.
func (in Input) plate(number string, of side, told []string) record.Plate {
	d := draft{Input: in, known: told}
	p := record.Plate{Jacket: number, File: in.file(number, of), Mirrored: of == mirrored, Relief: of == lines, Made: d.content(number, of == mirrored)}
	if of == lines {
		d.relief(&p.Made, number)
	}
	p.Doubts, p.Tapes, p.Size, p.Lengths, p.Areas = d.doubts, d.tapes, d.size, d.long, d.areas
	reads := []any{p.Made, in.Record.Photo.SHA256, in.Record.Photo.Orientation}
	if e := in.Covered.Picture(number); e != nil && p.Made.Under != nil {
		p.Under = &e.Source
		reads = append(reads, e.Source.SHA256, e.Source.Orientation)
	}
	p.Key = keep.Hash(reads...)
	return p
}

// file is plates/NUMBER/NUMBER_view_date_STEM_hash.jpg; the view of a plate
// that is not the photo as seen says which it is.
func (in Input) file(number string, of side) string {
	folder, first := "unassigned", "no-jacket"
	if number != "" {
		folder = record.JacketFile(in.Sheets, number)
		first = folder
	}
	view, date := "no-view", "undated"
	if v := in.Belongs.View; v != "" {
		view = record.Safe(string(v))
	}
	view += string(of)
	if c := in.Capture; c != nil && c.Local != nil {
		date = c.Local.String()[:10]
	}
	name := in.Name()
	return fmt.Sprintf("plates/%s/%s_%s_%s_%s.jpg", folder, first, view, date, name)
}

// content is everything that one plate says.
func (d *draft) content(number string, mirrored bool) look.Plate {
	p := look.Plate{Number: letters.Spell(number), Heading: d.heading(), Rows: d.rows(number, mirrored)}
	if number == "" {
		p.Number = "no jacket"
	}
	plane, sighting := d.Plane()
	if plane != nil {
		turn := d.turned(number, plane, sighting)
		if picture, ok := layout.Scaled(plane, d.wanted(plane, sighting, turn)); ok {
			p.Heading += ", " + turn.text(mirrored)
			lay := figure.Lay{Picture: picture}
			switch {
			case mirrored:
				lay, p.Stamp = lay.Mirror(), fromBottom
			case d.Belongs.View.Turned():
				p.Stamp = fromBelow
			}
			p.Picture = lay.Picture
			d.scaleWords(&p, number, plane, sighting)
			p.NoNorth = "NO BEARING: the " + string(sighting.Reference.Kind) + ", by itself, tells no direction"
			if sighting.Reference.Kind == calibrate.KindChecker {
				p.NoNorth = "NO BEARING: a plain board looks the same turned half round"
			}
			p.Rows = append(p.Rows, d.besideRows(number, plane)...)
			if d.Mirrored() {
				d.inMirror(&p, "")
				return p
			}
			d.places(&p, lay, number, sighting)
			p.Rows = append(p.Rows, d.tapeRows(number, lay.Picture.Plane, sighting)...)
			return p
		}
	}
	p.Picture = layout.Whole(d.Camera(), layout.UnscaledPx)
	p.Stamp = noScale
	if d.Belongs.View.Turned() {
		p.Stamp += ". " + fromBelow
	}
	p.Headline = noScale + ": the season carries no reference that this version finds"
	if why := evidence.Unscaled(d.Record); why != nil {
		p.Headline = noScale + ": " + why.Reason
	}
	p.NoNorth = "NO BEARING: nothing in the picture tells it"
	p.Rows = append(p.Rows, d.tapeRows(number, nil, nil)...)
	if d.Mirrored() {
		d.inMirror(&p, noScale+". ")
	}
	return p
}

// inMirror marks the plate of a photo that was turned left to right, as some
// phones do: nothing that has a side is drawn on it.
func (d *draft) inMirror(p *look.Plate, stamp string) {
	p.Stamp = stamp + "MIRRORED PHOTO: LEFT AND RIGHT ARE CHANGED"
	p.NoNorth = "NO BEARING: the photo is mirrored"
	const text = "the photo is mirrored, as the card or the frame's tiles in it show: ask for it as it was taken, or take it again with the phone's mirroring turned off"
	p.Rows = append(p.Rows, look.Row{Name: "mirrored", Text: text})
	d.doubt(text)
}

// centred is what a thing's centre is said of: the strings' centre is the grid's.
func centred(thing string) string {
	if thing == calibrate.Thing(calibrate.KindGrid) {
		return "grid"
	}
	return thing
}

// scaleWords writes the scale bar, the headline and what stands under it. The
// headline holds at the bone where its depth is known, else at the
// reference's level alone.
func (d *draft) scaleWords(p *look.Plate, number string, plane *calibrate.Plane, sighting *calibrate.Sighting) {
	mu, mv := plane.MiddleCm()
	level, _ := plane.At(0)
	own, err := level.ScalePxPerCm(mu, mv)
	if err != nil {
		return
	}
	thing := calibrate.Thing(sighting.Reference.Kind)
	relU, share, where, below := own.U/own.Value, 1.0, "at the level of the "+thing+" only", figure.WhatBelow(plane)
	if bone := d.DepthToBone(number); bone != nil {
		if s, rel, ok := figure.AtDepth(plane, *bone, mu, mv); ok {
			share, relU, below = s, rel, ""
			where = bone.At(thing)
		}
	}
	p.Picture.PrintDPI *= share // a round ratio by the scale bar
	bar := overlay.RoundBar(p.Picture.PxPerCm*share, p.Picture.WidthPx)
	p.Bar = &bar
	p.Headline = fmt.Sprintf("100 mm on this scale bar = %s mm %s", calibrate.Quantity{Value: 100, U: 100 * relU}, where)
	assumed := ""
	if s := sighting.Size; s != nil && s.Known == calibrate.Assumed {
		assumed = sighting.Reference.Size() + " assumed"
	}
	p.Small = strings.Join(nonEmpty("± U (k = 2, about 95 %)", assumed, below, fmt.Sprintf("photo: %s px/cm at the %s's centre", own, centred(thing))), "; ")
	for _, c := range plane.Corners {
		x, y := figure.Lay{Picture: p.Picture}.OfPlane(c[0], c[1])
		p.Outline = append(p.Outline, [2]float64{x, y})
	}
	p.OutlineText = figure.OutlineText(figure.Lay{Picture: p.Picture})
}
