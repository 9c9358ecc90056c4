package publish

import (
	"bytes"
	"context"
	"maps"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/offload"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// days writes a page and a sheet for each day that has diary lines or photos of the season's own: not for days on which there are
// but stray ones, or such as are left out or counted only.
func (w *writer) days(ctx context.Context) error {
	byDay := w.pages()
	wanted := map[string]string{}
	for _, day := range slices.Sorted(maps.Keys(byDay)) {
		p := byDay[day]
		page, key := "days/"+day+".html", w.key(Recipe, p)
		wanted[page], wanted["days/"+day+".pdf"] = key, key
		if err := w.file(ctx, page, key, nil, func(b *bytes.Buffer) error { return paperwork.WriteDay(b, *p) }); err != nil {
			return err
		}
		if err := w.file(ctx, "days/"+day+".pdf", key, nil, func(b *bytes.Buffer) error { return paperwork.WriteDaySheet(b, *p) }); err != nil {
			return err
		}
		w.made.Days = append(w.made.Days, page)
	}
	return w.forget("days", wanted)
}

// LastDay is the page of the season's last day, as the season stands; nil: no day is known.
func (s Season) LastDay() *paperwork.Day {
	w := &writer{Season: s, packets: s.Packets()}
	byDay := w.pages()
	days := slices.Sorted(maps.Keys(byDay))
	if len(days) == 0 {
		return nil
	}
	return byDay[days[len(days)-1]]
}

// pages are what each day's page is made of.
func (w *writer) pages() map[string]*paperwork.Day {
	byDay := map[string]*paperwork.Day{}
	page := func(d register.Date) *paperwork.Day {
		key := d.String()
		if byDay[key] == nil {
			byDay[key] = &paperwork.Day{Paper: w.paper(), Season: w.Sheets.Season, Date: d, Report: w.Report, OnPlaster: onPlaster(w.packets)}
			for _, p := range w.Problems {
				byDay[key].Problems = append(byDay[key].Problems, withoutPlace(p))
			}
		}
		return byDay[key]
	}
	for _, e := range w.Sheets.Diary {
		if !e.Date.IsZero() {
			p := page(e.Date)
			p.Diary = append(p.Diary, e)
		}
	}
	stray := geotag.Strays(w.Records, w.Sheets)
	for _, r := range w.Records {
		if d, err := register.ParseDate(r.When.Day()); err == nil && r.ToSort() && !r.Belongs.LeaveOut && !slices.Contains(stray, r) {
			page(d)
		}
	}
	fixes := w.Report.Told()
	for _, r := range w.Records {
		seen, pictured := seenIn(w.Dir, r)
		pictured = pictured && r.ToSort()
		if pictured && fixes[r.Photo.File] {
			for _, p := range byDay {
				p.Seen = append(p.Seen, seen)
			}
		}
		p := byDay[r.When.Day()]
		if p == nil || r.Copied() {
			continue
		}
		p.Photos++
		shot := shotOf(r)
		shot.Small = record.Small(w.Dir.Paper(), r)
		p.Shots = append(p.Shots, shot)
		refused := evidence.Refused(r)
		for _, n := range refused {
			p.Refused = append(p.Refused, paperwork.Refused{File: r.Photo.File, Reason: n.Text, Retake: n.Retake})
		}
		if pictured && len(refused) > 0 && !fixes[r.Photo.File] {
			p.Seen = append(p.Seen, seen)
		}
	}
	for day, p := range byDay {
		took, notices := geotag.OnDay(day, w.PerDay, w.Notices)
		for _, c := range took {
			p.Phones = append(p.Phones, paperwork.Phone{Name: c.Phone.String(), Photos: c.Photos, Copied: copiedOff(w.Copied, c, day)})
		}
		p.Notices = notices
	}
	return byDay
}

// shotOf is a photo as lists show it, without its small picture.
func shotOf(r *record.Record) paperwork.Shot {
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

// copiedOff is what was copied off a phone on a day.
func copiedOff(all []offload.Copied, took phones.Count, day string) (lines []string) {
	for _, c := range all {
		if c.Day == day && c.Phone == took.Phone {
			lines = c.Lines(took.Photos)
		}
	}
	return lines
}
