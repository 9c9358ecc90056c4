package publish

import (
	"bytes"
	"context"

	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// labels writes the labels of each package that is carried away.
func (w *writer) labels(ctx context.Context) error {
	wanted := map[string]string{}
	for _, p := range w.packets {
		if p.Jacket.Kind == register.LeftInGround {
			continue
		}
		p.Made = w.registerMade() // labels show no photo
		file := "labels/" + record.JacketFile(w.Sheets, p.Jacket.Number) + ".pdf"
		wanted[file] = w.key(Recipe, p.Made, p.Paper, p.Season, p.Jacket, p.Finds)
		if err := w.file(ctx, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteLabels(b, p) }); err != nil {
			return err
		}
	}
	return w.forget("labels", wanted)
}

// truckList writes the list of packages and the receipt.
func (w *writer) truckList(ctx context.Context) error {
	load := paperwork.Load{
		Made: w.registerMade(), Paper: w.paper(), Season: w.Sheets.Season, Stages: map[string]register.Stage{},
	}
	areas := w.outlined()
	for _, j := range w.Sheets.Jackets {
		load.Jackets = append(load.Jackets, areas.of(j))
	}
	for _, j := range w.Report.Jackets {
		load.Stages[j.Number] = j.Stage
	}
	return w.file(ctx, "truck-list.pdf", w.key(Recipe, load), nil, func(b *bytes.Buffer) error { return paperwork.WriteTruckList(b, load) })
}

// workbook writes finds, jackets and photos as one plain workbook.
func (w *writer) workbook(ctx context.Context) error {
	book := paperwork.Workbook{Season: w.Sheets.Season, Finds: w.Sheets.Finds, Jackets: w.packets}
	for _, r := range w.Records {
		if r.NotPhoto() || r.Copied() {
			continue
		}
		book.Photos = append(book.Photos, shotOf(r))
	}
	return w.file(ctx, "collection.xlsx", w.key(Recipe, book), nil, func(b *bytes.Buffer) error { return paperwork.WriteWorkbook(b, book) })
}
