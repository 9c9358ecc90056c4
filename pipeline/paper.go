package pipeline

import (
	"bytes"
	"context"
	"slices"

	"fieldjacket/pipeline/paperwork"
)

// paperRecipe is raised whenever packets, records or day pages come out
// otherwise for the same input.
const paperRecipe = 11

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
	return []string{"records/" + name + ".json", "records/" + name + marksEnding, "records/" + name + handMarksEnding, previewFile(name), smallFile(name)}
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

// packets writes one PDF for each jacket whose paper has changed.
func (s *Season) packets(ctx context.Context, out *outcome) error {
	wanted := map[string]string{}
	s.outlined(out.records)
	for _, j := range out.report.Jackets {
		jacket, ok := s.Register.Jacket(j.Number)
		if !ok {
			continue
		}
		packet := s.packet(jacket, j, out.records)
		out.papers = append(out.papers, packet)
		file := "packets/" + s.jacketFile(j.Number) + ".pdf"
		wanted[file] = hashOf(paperRecipe, packet, plateKeys(j.Number, out.records))
		if err := s.paperFile(ctx, out, file, wanted[file], &out.summary.Packets, func(b *bytes.Buffer) error { return paperwork.WritePacket(b, packet) }); err != nil {
			return err
		}
	}
	return s.forgetPaper("packets", wanted)
}

// localities writes the confidential record of each locality.
func (s *Season) localities(ctx context.Context, out *outcome) error {
	wanted := map[string]string{}
	var all []string
	for _, l := range s.Register.Localities {
		all = append(all, l.Number)
	}
	for _, l := range s.Register.Localities {
		record := paperwork.Locality{Made: s.made(out.records), Paper: s.sheetPaper(), Season: s.Register.Season, Locality: l}
		for _, f := range s.Register.Finds {
			if f.Locality == l.Number {
				record.Finds = append(record.Finds, f)
			}
		}
		record.Carried = s.Register.CarriedAt(l.Number)
		file := "locality/" + fileNumber(l.Number, all) + ".pdf"
		wanted[file] = hashOf(paperRecipe, record)
		if err := s.paperFile(ctx, out, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteLocality(b, record) }); err != nil {
			return err
		}
	}
	return s.forgetPaper("locality", wanted)
}
