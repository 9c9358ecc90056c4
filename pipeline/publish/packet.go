package publish

import (
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// packet gathers what a jacket's paper is made of.
func (s Season) packet(j register.Jacket, a audit.Jacket) paperwork.Packet {
	p := paperwork.Packet{
		Paper:  s.paper(),
		Season: s.Sheets.Season,
		Jacket: j,
		Finds:  s.Sheets.FindsOf(j.Number),
		Diary:  s.Sheets.DiaryOf(j.Number),
		Audit:  a,
		Before: s.Before[j.Number],

		Sisters:  paperwork.SistersOf(s.Sheets, j),
		FileList: record.JacketFile(s.Sheets, j.Number) + ".files.csv",
	}
	var own []*record.Record
	for _, r := range s.Records {
		if r.Readable() && !r.Belongs.LeaveOut && slices.Contains(r.Belongs.Jackets, j.Number) {
			own = append(own, r)
		}
	}
	p.Made = s.latest(own)
	for _, u := range s.Sheets.SetUps {
		if slices.Contains(u.Jackets, j.Number) {
			p.SetUps = append(p.SetUps, u)
		}
	}
	slices.SortStableFunc(own, inPrintOrder)
	for _, r := range own {
		p.Files = append(p.Files, paperwork.File{Name: r.Photo.File, Taken: r.Taken(), SHA256: r.Photo.SHA256})
		for _, plate := range r.Plates {
			if plate.Jacket == j.Number {
				p.Plates = append(p.Plates, s.printed(r, plate))
			}
		}
	}
	return p
}

// inPrintOrder puts what a person chose first, then scaled plates, then the
// views in their order, then what is proposed, then by time and name.
func inPrintOrder(a, b *record.Record) int {
	rank := func(r *record.Record) int {
		n := 1 + slices.Index(register.Views, r.Belongs.View)
		if n == 0 {
			n = len(register.Views) + 1
		}
		if plane, _ := r.Plane(); plane == nil {
			n += 100
		}
		if !r.Belongs.Chosen {
			n += 1000
		}
		return n
	}
	if d := rank(a) - rank(b); d != 0 {
		return d
	}
	if a.Proposed != b.Proposed && (a.Proposed == "" || b.Proposed == "") {
		return strings.Compare(b.Proposed, a.Proposed)
	}
	if d := strings.Compare(a.Taken(), b.Taken()); d != 0 {
		return d
	}
	return strings.Compare(a.Photo.File, b.Photo.File)
}

// printed is a plate as the packet shows it.
func (s Season) printed(r *record.Record, p record.Plate) paperwork.Plate {
	made := p.Made
	_, sighting := r.Plane()
	strung := sighting != nil && sighting.Reference.Kind == calibrate.KindGrid
	return paperwork.Plate{
		Size:     p.Size,
		Drawn:    paperwork.DrawnOf(made, strung),
		Tapes:    p.Tapes,
		Lengths:  p.Lengths,
		Path:     s.Dir.Paper(filepath.FromSlash(p.File)),
		View:     r.Belongs.View,
		Taken:    r.Taken(),
		Headline: made.Headline,
		Stamp:    made.Stamp,
		Mirrored: p.Mirrored,
		Relief:   p.Relief,
		PxPerCm:  layout.PxPerCm(made),
		Caption:  r.Belongs.Caption,
		By:       r.Belongs.By,
		Chosen:   r.Belongs.Chosen,
		Proposed: r.Proposed,
		Small:    record.Small(s.Dir.Paper(), r),
		Photo:    r.Photo.File,
		Preview:  s.Dir.Paper(record.PreviewFile(r.Name())),
	}
}
