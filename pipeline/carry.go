package pipeline

import (
	"bytes"
	"context"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/register"
)

// labels writes the labels of each package that is carried away.
func (s *Season) labels(ctx context.Context, out *outcome) error {
	wanted := map[string]string{}
	for _, p := range out.papers {
		if p.Jacket.Kind == register.LeftInGround {
			continue
		}
		p.Made = s.registerMade() // labels show no photo
		file := "labels/" + s.jacketFile(p.Jacket.Number) + ".pdf"
		wanted[file] = keep.Hash(paperRecipe, p.Made, p.Paper, p.Season, p.Jacket, p.Finds)
		if err := s.paperFile(ctx, out, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteLabels(b, p) }); err != nil {
			return err
		}
	}
	return s.forgetPaper("labels", wanted)
}

// truckList writes the list of packages and the receipt.
func (s *Season) truckList(ctx context.Context, out *outcome) error {
	load := paperwork.Load{
		Made: s.registerMade(), Paper: s.sheetPaper(), Season: s.Register.Season, Stages: map[string]register.Stage{},
	}
	areas := s.outlined(out.Records)
	for _, j := range s.Register.Jackets {
		load.Jackets = append(load.Jackets, areas.of(j))
	}
	for _, j := range out.Report.Jackets {
		load.Stages[j.Number] = j.Stage
	}
	return s.paperFile(ctx, out, "truck-list.pdf", keep.Hash(paperRecipe, load), nil, func(b *bytes.Buffer) error { return paperwork.WriteTruckList(b, load) })
}

// workbook writes finds, jackets and photos as one plain workbook.
func (s *Season) workbook(ctx context.Context, out *outcome) error {
	book := paperwork.Workbook{Season: s.Register.Season, Finds: s.Register.Finds, Jackets: out.papers}
	for _, r := range out.Records {
		if r.NotPhoto() || r.Copied() {
			continue
		}
		book.Photos = append(book.Photos, shotOf(r))
	}
	return s.paperFile(ctx, out, "collection.xlsx", keep.Hash(paperRecipe, book), nil, func(b *bytes.Buffer) error { return paperwork.WriteWorkbook(b, book) })
}
