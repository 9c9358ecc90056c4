package pipeline

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// noScale is struck over a plate that carries none.
const noScale = "NO SCALE"

// plates says what the photo's plates show: one for each jacket it belongs
// to, one without a number where it belongs to none, none where a person left
// it out.
func (t *task) plates() []Plate {
	r := t.r
	if r.Belongs.LeaveOut {
		return nil
	}
	jackets := r.Belongs.Jackets
	if len(jackets) == 0 {
		jackets = []string{""}
	}
	out := make([]Plate, 0, len(jackets))
	t.doubts = nil
	add := func(number string, mirrored bool) {
		p := Plate{Jacket: number, File: t.plateFile(number, mirrored), Made: t.plate(number, mirrored)}
		reads := []any{p.Made, t.r.Photo.SHA256, t.r.Photo.Orientation}
		if e := t.exposedOf(number); e != nil && p.Made.Under != nil {
			p.Under = &e.source
			reads = append(reads, e.source.SHA256, e.source.Orientation)
		}
		p.Key = keep.Hash(reads...)
		out = append(out, p)
	}
	for _, number := range jackets {
		add(number, false)
		if doubts := len(t.doubts); t.mirrors(number) {
			add(number, true)
			t.doubts = t.doubts[:doubts] // the same as of the plate itself
		}
	}
	return out
}

// plateFile is plates/NUMBER/NUMBER_view_date_STEM_hash.jpg; the view of a
// mirrored plate says so.
func (t *task) plateFile(number string, mirrored bool) string {
	folder, first := "unassigned", "no-jacket"
	if number != "" {
		folder = t.season.jacketFile(number)
		first = folder
	}
	view, date := "no-view", "undated"
	if v := t.r.Belongs.View; v != "" {
		view = record.Safe(string(v))
	}
	if mirrored {
		view += "-mirrored"
	}
	if c := t.r.Capture; c != nil && c.Local != nil {
		date = c.Local.String()[:10]
	}
	name := t.r.Name()
	return fmt.Sprintf("plates/%s/%s_%s_%s_%s.jpg", folder, first, view, date, name)
}

// plate is everything that one plate says.
func (t *task) plate(number string, mirrored bool) look.Plate {
	r := t.r
	p := look.Plate{Number: letters.Spell(number), Heading: t.heading(), Rows: t.rows(number, mirrored)}
	if number == "" {
		p.Number = "no jacket"
	}
	plane, sighting := r.Plane()
	if plane != nil {
		if picture, ok := layout.Scaled(plane); ok {
			lay := figure.Lay{Picture: picture}
			if mirrored {
				lay, p.Stamp = lay.Mirror(), fromBottom
			}
			p.Picture = lay.Picture
			t.scaleWords(&p, number, plane, sighting)
			p.NoNorth = "NO BEARING: the " + string(sighting.Reference.Kind) + ", by itself, tells no direction"
			if sighting.Reference.Kind == calibrate.KindChecker {
				p.NoNorth = "NO BEARING: a plain board looks the same turned half round"
			}
			p.Rows = append(p.Rows, t.besideRows(number, plane)...)
			if r.Mirrored() {
				t.inMirror(&p, "")
				return p
			}
			t.places(&p, lay, number, sighting)
			p.Rows = append(p.Rows, t.tapeRows(number, lay.Picture.Plane, sighting)...)
			return p
		}
	}
	p.Picture = layout.Whole(t.r.Camera(), layout.UnscaledPx)
	p.Stamp = noScale
	p.Headline = noScale + ": the season carries no reference that this version finds"
	if why := t.r.Unscaled(); why != nil {
		p.Headline = noScale + ": " + why.Reason
	}
	p.NoNorth = "NO BEARING: nothing in the picture tells it"
	p.Rows = append(p.Rows, t.tapeRows(number, nil, nil)...)
	if r.Mirrored() {
		t.inMirror(&p, noScale+". ")
	}
	return p
}

// inMirror marks the plate of a photo that was turned left to right, as some
// phones do: nothing that has a side is drawn on it.
func (t *task) inMirror(p *look.Plate, stamp string) {
	p.Stamp = stamp + "MIRRORED PHOTO: LEFT AND RIGHT ARE CHANGED"
	p.NoNorth = "NO BEARING: the photo is mirrored"
	const text = "the photo is mirrored, as the card or the frame's tiles in it show: ask for it as it was taken, or take it again with the phone's mirroring turned off"
	p.Rows = append(p.Rows, look.Row{Name: "mirrored", Text: text})
	t.doubts = append(t.doubts, text)
}

// scaleWords writes the scale bar, the headline and what stands under it. The
// headline holds at the bone where its depth is known, else at the
// reference's level alone.
func (t *task) scaleWords(p *look.Plate, number string, plane *calibrate.Plane, sighting *calibrate.Sighting) {
	mu, mv := plane.MiddleCm()
	level, _ := plane.At(0)
	own, err := level.ScalePxPerCm(mu, mv)
	if err != nil {
		return
	}
	thing := thingOf(sighting.Reference.Kind)
	relU, share, where, below := own.U/own.Value, 1.0, "at the level of the "+thing+" only", figure.WhatBelow(plane)
	if bone := t.bone(number); bone != nil {
		if s, rel, ok := figure.AtDepth(plane, *bone, mu, mv, own.Value); ok {
			share, relU, below = s, rel, ""
			where = fmt.Sprintf("on bone (%s)", bone.Below(thing))
		}
	}
	p.Picture.PrintDPI *= share // a round ratio by the scale bar
	bar := overlay.RoundBar(p.Picture.PxPerCm*share, p.Picture.WidthPx)
	p.Bar = &bar
	p.Headline = fmt.Sprintf("100 mm by this bar = %s mm %s", calibrate.Quantity{Value: 100, U: 100 * relU}, where)
	assumed := ""
	if s := sighting.Size; s != nil && s.Known == calibrate.Assumed {
		assumed = evidence.What(sighting.Reference) + " assumed"
	}
	p.Small = strings.Join(nonEmpty("± U (k = 2, about 95 %)", assumed, below, fmt.Sprintf("photo: %s px/cm in the middle of the %s", own, thing)), "; ")
	for _, c := range plane.Corners {
		x, y := figure.Lay{Picture: p.Picture}.OfPlane(c[0], c[1])
		p.Outline = append(p.Outline, [2]float64{x, y})
	}
	p.OutlineText = figure.OutlineText(figure.Lay{Picture: p.Picture})
}

// thingOf is the everyday word for a reference.
func thingOf(k calibrate.Kind) string {
	switch k {
	case calibrate.KindChecker:
		return "board"
	case calibrate.KindGrid:
		return "strings"
	}
	return string(k)
}

// setUp is the set-up that a photo of a jacket belongs to; nil: not known.
func (s *Season) setUp(belongs assign.Belongs, number string) *register.SetUp {
	var only *register.SetUp
	for i := range s.Register.SetUps {
		u := &s.Register.SetUps[i]
		switch {
		case belongs.SetUp != "":
			if u.Name == belongs.SetUp {
				return u
			}
		case number != "" && slices.Contains(u.Jackets, number):
			if only != nil {
				return nil // two: nobody said which
			}
			only = u
		}
	}
	return only
}
