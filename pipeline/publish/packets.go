package publish

import (
	"bytes"
	"context"

	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
)

// packetFiles writes one PDF for each jacket whose paper has changed, and beside it the list of its photos.
func (w *writer) packetFiles(ctx context.Context) error {
	wanted := map[string]string{}
	for _, packet := range w.packets {
		number := packet.Jacket.Number
		file := "packets/" + record.JacketFile(w.Sheets, number) + ".pdf"
		wanted[file] = w.key(Recipe, packet, plateKeys(number, w.Records))
		if err := w.file(ctx, file, wanted[file], &w.made.Packets, func(b *bytes.Buffer) error { return paperwork.WritePacket(b, packet) }); err != nil {
			return err
		}
		file = "packets/" + packet.FileList
		wanted[file] = w.key(Recipe, packet.Season, packet.Files, packet.Before)
		if err := w.file(ctx, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteFiles(b, packet) }); err != nil {
			return err
		}
	}
	return w.forget("packets", wanted)
}

// localities writes the confidential record of each locality.
func (w *writer) localities(ctx context.Context) error {
	wanted := map[string]string{}
	var all []string
	for _, l := range w.Sheets.Localities {
		all = append(all, l.Number)
	}
	for _, l := range w.Sheets.Localities {
		sheet := paperwork.Locality{Made: w.latest(w.Records), Paper: w.paper(), Season: w.Sheets.Season, Locality: l}
		for _, f := range w.Sheets.Finds {
			if f.Locality == l.Number {
				sheet.Finds = append(sheet.Finds, f)
			}
		}
		sheet.Carried = w.Sheets.CarriedAt(l.Number)
		file := "locality/" + record.FileNumber(l.Number, all) + ".pdf"
		wanted[file] = w.key(Recipe, sheet)
		if err := w.file(ctx, file, wanted[file], nil, func(b *bytes.Buffer) error { return paperwork.WriteLocality(b, sheet) }); err != nil {
			return err
		}
	}
	return w.forget("locality", wanted)
}
