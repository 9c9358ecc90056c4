package publish

import (
	"bytes"
	"context"
	"fmt"
	"maps"
	"slices"
	"strings"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/findmap"
)

// A MapSize is a scale, 1:N, and a paper that the map is wanted at.
type MapSize struct {
	N     float64
	Paper sheet.Paper
}

// name is the map's file below paper/, without its ending.
func (z MapSize) name() string {
	return fmt.Sprintf("map/map-1-%g-%s", z.N, strings.ToLower(z.Paper.Name))
}

// maps writes the map as PDF and SVG: on one sheet of the season's paper where it fits, and in each size that was asked for, now or
// once before.
func (w *writer) maps(ctx context.Context) error {
	wanted := map[string]string{}
	write := func(name string, o findmap.Sheet) error {
		o.Name, o.Made = w.Sheets.Season.Name, w.Latest()
		drawn, _ := w.Map.Draw(o.N)
		rose, _ := w.Map.Rose()
		key := w.key(Recipe, o, drawn, w.Map.Strip(o.N, 170), w.Map.Tables(), rose)
		for ending, fill := range map[string]func(*bytes.Buffer) error{
			".pdf": func(b *bytes.Buffer) error { return w.Map.WritePDF(b, o) },
			".svg": func(b *bytes.Buffer) error { return w.Map.WriteSVG(b, o) },
		} {
			wanted[name+ending] = key
			if err := w.file(ctx, name+ending, key, nil, fill); err != nil {
				return err
			}
		}
		return nil
	}
	if w.Map != nil {
		n, paper := w.Map.Fitting(w.paper())
		if err := write("map/map", findmap.Sheet{N: n, Paper: paper}); err != nil {
			return err
		}
		for _, n := range findmap.Scales {
			for _, paper := range findmap.Papers {
				z := MapSize{n, paper}
				if !slices.Contains(w.MapSizes, z) && !w.Dir.Has(z.name()+".pdf") {
					continue
				}
				if err := write(z.name(), findmap.Sheet{N: n, Paper: w.Map.Laid(n, paper)}); err != nil {
					return err
				}
			}
		}
	}
	w.made.Maps = slices.Sorted(maps.Keys(wanted))
	return w.forget("map", wanted)
}

// WriteMaps writes the maps alone.
func WriteMaps(ctx context.Context, s Season) (Made, error) {
	w := &writer{Season: s}
	err := w.maps(ctx)
	return w.made, err
}
