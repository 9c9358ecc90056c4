package pipeline

import (
	"bytes"
	"context"
	"slices"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
)

// paperRecipe is raised whenever packets, records or day pages come out
// otherwise for the same input.
const paperRecipe = 13

// tidy takes away the records, plates and previews of photos that are no
// longer there.
func (s *Season) tidy(_ context.Context, out *outcome) error {
	now := map[string]bool{}
	for _, r := range out.Records {
		now[r.Name()] = true
	}
	for _, r := range out.earlier {
		if now[r.Name()] {
			continue
		}
		files := record.Files(r.Name())
		for _, p := range r.Plates {
			if !slices.ContainsFunc(out.Records, func(r *Record) bool { return named(r.Plates, p.File) }) {
				files = append(files, p.File)
			}
		}
		if err := s.Dir.RemoveAll(files...); err != nil {
			return err
		}
	}
	return nil
}

// packets writes one PDF for each jacket whose paper has changed.
func (s *Season) packets(ctx context.Context, out *outcome) error {
	wanted := map[string]string{}
	areas := s.outlined(out.Records)
	for _, j := range out.Report.Jackets {
		jacket, ok := s.Register.Jacket(j.Number)
		if !ok {
			continue
		}
		packet := s.packet(areas.of(jacket), j, out.Records)
		out.papers = append(out.papers, packet)
		file := "packets/" + s.jacketFile(j.Number) + ".pdf"
		wanted[file] = keep.Hash(paperRecipe, packet, plateKeys(j.Number, out.Records))
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
		sheet := paperwork.Locality{Made: s.made(out.Records), Paper: s.sheetPaper(), Season: s.Register.Season, Locality: l}
		for _, f := range s.Register.Finds {
			if f.Locality == l.Number {
				sheet.Finds = append(sheet.Finds, f)
			}
		}
		sheet.Carried = s.Register.CarriedAt(l.Number)
		file := "locality/" + record.FileNumber(l.Number, all) + ".pdf"
		wanted[file] = keep.Hash(paperRecipe, sheet)
		if err := s.paperFile(ctx, out, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteLocality(b, sheet) }); err != nil {
			return err
		}
	}
	return s.forgetPaper("locality", wanted)
}
