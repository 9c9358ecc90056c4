// Package printing draws one plate of a season at a true scale, on sheets of paper or as a picture with its resolution.
package printing

import (
	"bytes"
	"cmp"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/assembly"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/layout"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/plate"
	"fieldjacket/pipeline/record"
)

// Options say which plate is printed, and how.
type Options struct {
	Photo    string // slash path below photos/
	Jacket   string // "": the only one
	Mirrored bool
	Part     plate.Part
	Pale     bool    // without labels, to draw on
	N        float64 // of 1:N; 0: as large as one sheet holds
	Paper    sheet.Paper
	Out      string // .pdf, .png, .tif, .tiff, .jpg
}

// A Season is where the plate stands, and when what is printed was made.
type Season struct {
	Dir  folder.Dir
	Made func(r *record.Record) time.Time // the time of the latest of what the photo shows and is said of it
}

// format is that of the file to be written.
func (o Options) format() string {
	return strings.TrimPrefix(strings.ToLower(filepath.Ext(o.Out)), ".")
}

// canWrite refuses a name that is none of a sheet or picture, a file among the photos, and one that is there already
// unless it is a PDF of ours: a picture does not say whose it is.
func (o Options) canWrite(dir folder.Dir) error {
	if !slices.Contains([]string{"pdf", "png", "tif", "tiff", "jpg"}, o.format()) {
		return fmt.Errorf("%s: want a name that ends in .pdf, .png, .tif or .jpg", o.Out)
	}
	if dir.AmongPhotos(o.Out) {
		return fmt.Errorf("%s lies among the photos, which are only read: name another folder", o.Out)
	}
	return keep.CanReplace(o.Out, sheet.Ours)
}

// Plate draws the plate of one of the photos, as they were assembled, and says what it wrote.
func (s Season) Plate(ctx context.Context, child *children.Child, photos []*assembly.Photo, o Options) (says string, err error) {
	if err := o.canWrite(s.Dir); err != nil {
		return "", err
	}
	r, made, err := s.plateOf(photos, o)
	if err != nil {
		return "", err
	}
	p, n, dpi, err := layout.Printed(made.Made, o.N, o.Pale, o.Paper)
	if err != nil {
		return "", fmt.Errorf("%s: %w", o.Photo, err)
	}
	format := o.format()
	out := keep.TempFor(o.Out)
	defer os.Remove(out)
	request := look.DrawRequest{Source: r.Source(s.Dir.Photos()), Plate: p, Under: made.Under, Out: out}
	if format != "pdf" {
		request.Format = format
	}
	drawn, err := observe.Draw(ctx, child, request)
	if err != nil {
		return "", fmt.Errorf("%s: %w", o.Photo, err)
	}
	w, h := float64(drawn.WidthPx)/dpi*25.4, float64(drawn.HeightPx)/dpi*25.4
	says = fmt.Sprintf("1:%g, %.0f x %.0f mm at %g dpi", n, w, h, dpi)
	if format != "pdf" {
		return says, keep.Commit(out, o.Out)
	}
	jpeg, err := os.ReadFile(out)
	if err != nil {
		return "", err
	}
	sheets := sheet.New(sheet.Options{Paper: o.Paper, Number: p.Number, Title: "plate", Made: s.Made(r)})
	sheets.Plate(sheet.Plate{JPEG: jpeg, PxPerMm: dpi / 25.4, N: n, Caption: letters.Spell(o.Photo)})
	if !o.Mirrored && !o.Pale { // beside a mirrored plate the photo would mislead; a pale one is there to be drawn on
		untouched, err := os.ReadFile(s.Dir.Paper(filepath.FromSlash(record.PreviewFile(r.Name()))))
		if err != nil {
			return "", fmt.Errorf("%s: the photo as taken: %w: fieldjacket run makes its preview", o.Photo, err)
		}
		sheets.Page()
		sheets.Picture(sheet.Picture{JPEG: untouched, Caption: letters.Spell("the photo as taken, " + o.Photo)})
	}
	var b bytes.Buffer
	if err := sheets.Write(&b); err != nil {
		return "", err
	}
	says = laidOut(n, o.Paper, len(sheet.PageParts(o.Paper, w, h)), sheets.Pages())
	return says, keep.Bytes(o.Out, 0o644, b.Bytes())
}

// laidOut says on how many sheets a plate is printed, and what stands on the other pages of the file.
func laidOut(n float64, paper sheet.Paper, tiles, pages int) string {
	on, beside := "one sheet", "the photo as taken behind it"
	if tiles > 1 {
		on, beside = fmt.Sprintf("%d sheets", tiles), "a plan of them first"
		if pages > tiles+1 {
			beside += ", the photo as taken last"
		}
	}
	if pages == tiles {
		return fmt.Sprintf("1:%g on %s of %s; print at actual size and check the 100 mm line", n, on, paper.Name)
	}
	return fmt.Sprintf("1:%g on %s of %s, %s: %d pages; print at actual size and check the 100 mm line", n, on, paper.Name, beside, pages)
}

// onlyOf is the only one of some numbers; "": there are several, or none.
func onlyOf(numbers []string) string {
	if len(numbers) != 1 {
		return ""
	}
	return numbers[0]
}

// plateOf finds the plate in what the last run learned. A photo that has
// changed since is refused.
func (s Season) plateOf(photos []*assembly.Photo, o Options) (*record.Record, record.Plate, error) {
	i := slices.IndexFunc(photos, func(p *assembly.Photo) bool { return p.Record().Photo.File == o.Photo })
	if i < 0 {
		return nil, record.Plate{}, fmt.Errorf("%s: no such photo below photos/: want its folder, name and ending, as the plate's title block names it", o.Photo)
	}
	r, in := photos[i].Record(), photos[i].Input()
	if r.New || !r.Readable() || r.ToRepeat("look") {
		return nil, record.Plate{}, fmt.Errorf("%s: not looked at yet: fieldjacket run first", o.Photo)
	}
	now, _, err := intake.Read(s.Dir.Photos(), o.Photo, nil)
	if err != nil || now.SHA256 != r.Photo.SHA256 {
		return nil, record.Plate{}, fmt.Errorf("%s: the photo has changed since the last run: fieldjacket run first", o.Photo)
	}
	if number := cmp.Or(o.Jacket, onlyOf(r.Belongs.Jackets)); number != "" || len(r.Belongs.Jackets) == 0 {
		if in, err = o.Part.Of(in, number); err != nil {
			return nil, record.Plate{}, fmt.Errorf("%s: %w", o.Photo, err)
		}
	}
	var fits []record.Plate
	for _, p := range plate.Compose(in) {
		if (o.Jacket == "" || p.Jacket == o.Jacket) && p.Mirrored == o.Mirrored && !p.Relief {
			fits = append(fits, p)
		}
	}
	switch len(fits) {
	case 1:
		return r, fits[0], nil
	case 0:
		return nil, record.Plate{}, fmt.Errorf("%s: it has no such plate; its jackets are %q", o.Photo, r.Belongs.Jackets)
	}
	return nil, record.Plate{}, fmt.Errorf("%s: it shows several jackets, %q: name one", o.Photo, r.Belongs.Jackets)
}
