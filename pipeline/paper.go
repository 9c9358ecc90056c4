package pipeline

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
)

// paperRecipe is raised whenever packets, records or day pages come out
// otherwise for the same input.
const paperRecipe = 2

// tidy takes away the records, plates and previews of photos that are no
// longer there.
func (s *Season) tidy(_ context.Context, out *outcome) error {
	now := map[string]bool{}
	for _, r := range out.records {
		now[r.name()] = true
	}
	for _, r := range out.earlier {
		if now[r.name()] {
			continue
		}
		files := recordFiles(r.name())
		for _, p := range r.Plates {
			if !slices.ContainsFunc(out.records, func(r *Record) bool { return named(r.Plates, p.File) }) {
				files = append(files, p.File)
			}
		}
		if err := s.removeAll(files); err != nil {
			return err
		}
	}
	return nil
}

// recordFiles are the files of one record, below paper/.
func recordFiles(name string) []string {
	return []string{"records/" + name + ".json", "records/" + name + marksEnding, "previews/" + name + ".jpg"}
}

// removeAll removes files below paper/, where they are there.
func (s *Season) removeAll(files []string) error {
	for _, file := range files {
		if err := s.remove(file); err != nil {
			return err
		}
	}
	return nil
}

// audit checks what each jacket lacks and counts up the run.
func (s *Season) audit(_ context.Context, out *outcome) error {
	out.report = s.report(out.records)
	sum := &out.summary
	sum.Problems = len(s.Register.Problems)
	sum.Unassigned, sum.Conflicts = len(out.report.Unsorted), len(out.report.Conflicts)
	for _, r := range out.records {
		switch {
		case r.NotPhoto():
			sum.NotPhotos++
			continue
		case r.copied():
			sum.Copies = append(sum.Copies, r.Photo.File)
			continue
		case r.Unread() != "":
			sum.Unreadable++
		case r.counted():
			sum.Counted++
		}
		sum.Photos++
		if plane, _ := r.Plane(); plane != nil {
			sum.Scaled++
		}
		sum.Plates += len(r.Plates)
		for _, n := range r.Notes {
			sum.Person = sum.Person || n.Person
		}
	}
	for _, j := range out.report.Jackets {
		if len(j.Lacks()) > 0 {
			sum.Incomplete++
		}
	}
	sum.Person = sum.Person || sum.NoVision || sum.Incomplete > 0 || sum.Unassigned > 0 || sum.Conflicts > 0 || sum.Unreadable > 0 || sum.Problems > 0
	return nil
}

// packets writes one PDF for each jacket whose paper has changed.
func (s *Season) packets(ctx context.Context, out *outcome) error {
	wanted := map[string]string{}
	for _, j := range out.report.Jackets {
		jacket, ok := s.Register.Jacket(j.Number)
		if !ok {
			continue
		}
		packet := s.packet(jacket, j, out.records)
		file := "packets/" + fileNumber(j.Number) + ".pdf"
		wanted[file] = hashOf(paperRecipe, packet, plateKeys(j.Number, out.records))
		if err := s.paperFile(ctx, file, wanted[file], &out.summary.Packets, func(b *bytes.Buffer) error { return paperwork.WritePacket(b, packet) }); err != nil {
			return err
		}
	}
	return s.forgetPaper("packets", wanted)
}

// localities writes the confidential record of each locality.
func (s *Season) localities(ctx context.Context, out *outcome) error {
	wanted := map[string]string{}
	for _, l := range s.Register.Localities {
		record := paperwork.Locality{Made: s.made(out.records), Season: s.Register.Season, Locality: l}
		for _, f := range s.Register.Finds {
			if f.Locality == l.Number {
				record.Finds = append(record.Finds, f)
			}
		}
		file := "locality/" + fileNumber(l.Number) + ".pdf"
		wanted[file] = hashOf(paperRecipe, record)
		if err := s.paperFile(ctx, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteLocality(b, record) }); err != nil {
			return err
		}
	}
	return s.forgetPaper("locality", wanted)
}

// days writes a page for each day that has photos or diary lines.
func (s *Season) days(ctx context.Context, out *outcome) error {
	byDay := map[string]*paperwork.Day{}
	page := func(d register.Date) *paperwork.Day {
		key := d.String()
		if byDay[key] == nil {
			byDay[key] = &paperwork.Day{Season: s.Register.Season.Name, Date: d, Report: out.report}
			for _, p := range s.Register.Problems {
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
	for _, r := range out.records {
		if r.When == nil || r.copied() {
			continue
		}
		d, err := register.ParseDate(r.When.Day())
		if err != nil {
			continue
		}
		p := page(d)
		p.Photos++
		p.Refused = append(p.Refused, refusedOf(r)...)
	}
	wanted := map[string]string{}
	for day, p := range byDay {
		p.Phones, p.Notices = s.phonesOn(day)
		wanted["days/"+day+".html"] = hashOf(paperRecipe, p)
	}
	files := make([]string, 0, len(wanted))
	for file := range wanted {
		files = append(files, file)
	}
	slices.Sort(files)
	for _, file := range files {
		p := byDay[strings.TrimSuffix(strings.TrimPrefix(file, "days/"), ".html")]
		if err := s.paperFile(ctx, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteDay(b, *p) }); err != nil {
			return err
		}
	}
	out.summary.Days = files
	return s.forgetPaper("days", wanted)
}

// paperFile writes one file below paper/ unless it stands there, made of the
// same input.
func (s *Season) paperFile(ctx context.Context, file, key string, count *int, fill func(*bytes.Buffer) error) error {
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	keyFile := s.paper("records", "paper-"+hashOf(file)[:12]+".key")
	line := file + " " + key + "\n"
	if old, err := os.ReadFile(keyFile); err == nil && string(old) == line && s.has(file) {
		return nil
	}
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		return fmt.Errorf("paper/%s: %w", file, err)
	}
	if err := keep.Bytes(s.paper(filepath.FromSlash(file)), 0o644, b.Bytes()); err != nil {
		return fmt.Errorf("paper/%s: %w", file, err)
	}
	if count != nil {
		*count++
	}
	return keep.Bytes(keyFile, 0o644, []byte(line))
}

// forgetPaper removes the papers of an earlier run that are no longer wanted:
// those that a key file names.
func (s *Season) forgetPaper(folder string, wanted map[string]string) error {
	keys, err := filepath.Glob(s.paper("records", "paper-*.key"))
	if err != nil {
		return err
	}
	for _, path := range keys {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		i := strings.LastIndexByte(strings.TrimSpace(string(text)), ' ')
		if i < 0 {
			continue
		}
		file := string(text[:i])
		if _, ok := wanted[file]; ok || !strings.HasPrefix(file, folder+"/") {
			continue
		}
		if err := s.remove(file); err != nil {
			return err
		}
		if err := os.Remove(path); err != nil {
			return err
		}
	}
	return nil
}

// made is the time stamp of papers: the latest shot or diary line, so that
// the same season gives the same bytes.
func (s *Season) made(records []*Record) time.Time {
	latest := time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)
	for _, r := range records {
		if r.When != nil {
			if at := r.When.Local.At(0); at.After(latest) {
				latest = at
			}
		}
	}
	for _, e := range s.Register.Diary {
		if at := time.Date(e.Date.Year, e.Date.Month, e.Date.Day, 0, 0, 0, 0, time.UTC); at.After(latest) {
			latest = at
		}
	}
	return latest
}

// plateKeys are the keys of the plates of a jacket, since the packet holds
// their pixels.
func plateKeys(number string, records []*Record) (keys []string) {
	for _, r := range records {
		for _, p := range r.Plates {
			if p.Jacket == number {
				keys = append(keys, p.Key, r.Keys["draw"])
			}
		}
	}
	return keys
}
