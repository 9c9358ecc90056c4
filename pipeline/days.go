package pipeline

import (
	"bytes"
	"context"
	"maps"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
)

// days writes a page and a sheet for each day that has diary lines or photos of the season's own: not for days on which there are
// but stray ones, or such as are left out or counted only.
func (s *Season) days(ctx context.Context, out *outcome) error {
	byDay := map[string]*paperwork.Day{}
	page := func(d register.Date) *paperwork.Day {
		key := d.String()
		if byDay[key] == nil {
			byDay[key] = &paperwork.Day{Paper: s.sheetPaper(), Season: s.Register.Season, Date: d, Report: out.Report, OnPlaster: onPlaster(out.papers)}
			for _, p := range out.Problems {
				byDay[key].Problems = append(byDay[key].Problems, withoutPlace(p))
			}
		}
		return byDay[key]
	}
	for _, e := range s.Register.Diary {
		if !e.Date.IsZero() {
			p := page(e.Date)
			p.Diary = append(p.Diary, e)
		}
	}
	stray := geotag.Strays(out.Records, s.Register)
	for _, r := range out.Records {
		if d, err := register.ParseDate(r.When.Day()); err == nil && r.ToSort() && !r.Belongs.LeaveOut && !slices.Contains(stray, r) {
			page(d)
		}
	}
	for _, r := range out.Records {
		p := byDay[r.When.Day()]
		if p == nil || r.Copied() {
			continue
		}
		p.Photos++
		shot := shotOf(r)
		shot.Small = s.small(r)
		p.Shots = append(p.Shots, shot)
		for _, n := range evidence.Refused(r) {
			p.Refused = append(p.Refused, paperwork.Refused{File: r.Photo.File, Reason: n.Text, Retake: n.Retake})
		}
	}
	wanted := map[string]string{}
	for _, day := range slices.Sorted(maps.Keys(byDay)) {
		p := byDay[day]
		took, notices := geotag.OnDay(day, out.perDay, out.Notices)
		for _, c := range took {
			p.Phones = append(p.Phones, paperwork.Phone{Name: c.Phone.String(), Photos: c.Photos})
		}
		p.Notices = notices
		addCopied(p.Phones, day, out.Copied)
		page, key := "days/"+day+".html", keep.Hash(paperRecipe, p)
		wanted[page], wanted["days/"+day+".pdf"] = key, key
		if err := s.paperFile(ctx, out, page, key, nil, func(b *bytes.Buffer) error { return paperwork.WriteDay(b, *p) }); err != nil {
			return err
		}
		if err := s.paperFile(ctx, out, "days/"+day+".pdf", key, nil, func(b *bytes.Buffer) error { return paperwork.WriteDaySheet(b, *p) }); err != nil {
			return err
		}
		out.summary.Days = append(out.summary.Days, page)
	}
	return s.forgetPaper("days", wanted)
}

// shotOf is a photo as lists show it, without its small picture.
func shotOf(r *Record) paperwork.Shot {
	shot := paperwork.Shot{
		File: r.Photo.File, SHA256: r.Photo.SHA256, Taken: r.Taken(), Jackets: r.Belongs.Jackets, View: r.Belongs.View, Caption: r.Belongs.Caption,
	}
	if _, sighting := r.Plane(); sighting != nil {
		shot.ScaledBy = calibrate.Thing(sighting.Reference.Kind)
	}
	for _, p := range r.Plates {
		shot.Plates = append(shot.Plates, p.File)
	}
	return shot
}

// onPlaster is the line for each jacket that is not covered and gone.
func onPlaster(papers []paperwork.Packet) (lines []paperwork.Line) {
	for _, p := range papers {
		if p.Jacket.Plastered() && !p.Audit.Stage.Reached(register.Loaded) {
			lines = append(lines, paperwork.Line{Number: p.Jacket.Number, Text: paperwork.OnPlaster(p)})
		}
	}
	return lines
}

// withoutPlace is a fault of the register for a day's page, which may be passed on: what is wrong with a position is told by
// check, with the position.
func withoutPlace(p register.Problem) string {
	if p.Column == "position" {
		p.Value, p.Allowed = "", "cannot be read; fieldjacket check tells why"
	}
	return p.Error()
}
