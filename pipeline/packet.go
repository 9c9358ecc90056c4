package pipeline

import (
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// packet gathers what a jacket's paper is made of.
func (s *Season) packet(j register.Jacket, a audit.Jacket, records []*Record) paperwork.Packet {
	p := paperwork.Packet{
		Paper:  s.sheetPaper(),
		Season: s.Register.Season,
		Jacket: j,
		Finds:  s.Register.FindsOf(j.Number),
		Diary:  s.Register.DiaryOf(j.Number),
		Audit:  a,
		Before: s.before[j.Number],
	}
	var own []*Record
	for _, r := range records {
		if r.Readable() && !r.Belongs.LeaveOut && slices.Contains(r.Belongs.Jackets, j.Number) {
			own = append(own, r)
		}
	}
	p.Made = s.made(own)
	for _, u := range s.Register.SetUps {
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
func inPrintOrder(a, b *Record) int {
	rank := func(r *Record) int {
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
func (s *Season) printed(r *Record, p Plate) paperwork.Plate {
	made := p.Made
	return paperwork.Plate{
		Size:     p.Size,
		Tapes:    p.Tapes,
		Path:     s.Dir.Paper(filepath.FromSlash(p.File)),
		View:     r.Belongs.View,
		Taken:    r.Taken(),
		Headline: made.Headline,
		Stamp:    made.Stamp,
		Mirrored: p.Mirrored,
		PxPerCm:  layout.PxPerCm(made),
		Caption:  r.Belongs.Caption,
		By:       r.Belongs.By,
		Chosen:   r.Belongs.Chosen,
		Proposed: r.Proposed,
		Small:    s.small(r),
		Photo:    r.Photo.File,
		Preview:  s.Dir.Paper(record.PreviewFile(r.Name())),
	}
}

// report audits the records.
func (s *Season) report(records []*Record) audit.Report {
	s.propose(records)
	photos := make([]audit.Photo, 0, len(records))
	for _, r := range records {
		if !r.ToSort() {
			continue
		}
		p := audit.Photo{File: r.Photo.File, Belongs: r.Belongs, Unreadable: r.Unread(), Proposed: r.Proposed}
		if _, sighting := r.Plane(); sighting != nil {
			p.Scaled, p.Reference, p.Assumed = true, sighting.Reference.Kind, s.assumed(r, sighting)
		} else if refused := evidence.Unscaled(r); refused != nil && r.NoScale == "" {
			p.Near, p.Refused = refused.Near, strings.TrimSuffix(refused.Reason+": "+refused.Retake, ": ")
		}
		p.Doubts = doubtsOf(r)
		photos = append(photos, p)
	}
	out := audit.Check(s.Register, photos)
	for i, j := range s.Register.Jackets {
		out.Jackets[i].Contradicted = append(out.Jackets[i].Contradicted, s.disagreements(j, records)...)
		out.Jackets[i].Contradicted = append(out.Jackets[i].Contradicted, s.asks(j, records)...)
	}
	return out
}

// doubtsOf is what on a photo's plates a person has to settle, and what took its scale away because it contradicts something.
func doubtsOf(r *Record) (texts []string) {
	if why := evidence.Unscaled(r); why != nil && why.Near == calibrate.Contradicts && r.NoScale == "" {
		texts = append(texts, why.Reason)
	}
	for _, n := range r.Notes {
		if n.Stage == "draw" && n.Person && !strings.HasPrefix(n.Text, noPlate) {
			texts = append(texts, n.Text)
		}
	}
	return texts
}
