package museum

import (
	"archive/zip"
	"context"
	"crypto/sha256"
	"encoding/hex"
	"fmt"
	"path"
	"path/filepath"
	"slices"
	"strconv"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/export/consent"
	"fieldjacket/pipeline/export/dwca"
	"fieldjacket/pipeline/export/picture"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// describeMedia makes the rows of photos and plates: one for each find that a picture shows. Photos of no find have none.
func (a *archive) describeMedia() {
	a.media = dwca.Table{RowType: dwca.Multimedia, File: "multimedia.txt", Terms: []dwca.Term{
		dwca.Identifier, dwca.MediaType, dwca.Title, dwca.ProviderManagedID, dwca.MetadataLanguage, dwca.Caption, dwca.Description, dwca.Creator, dwca.Owner, dwca.UsageTerms, dwca.WebStatement, dwca.CreateDate,
		dwca.SubjectPart, dwca.SubjectOrientation, dwca.Technique, dwca.DerivedFrom, dwca.SpecimenReference, dwca.AccessURI, dwca.Format, dwca.HashFunction, dwca.HashValue, dwca.PixelXDimension, dwca.PixelYDimension,
	}}
	for _, r := range a.Records {
		if !r.Readable() || !r.ToSort() || r.Belongs.LeaveOut {
			continue
		}
		finds := a.findsOf(r.Belongs.Jackets)
		if len(finds) == 0 {
			a.report.NoFind++
			continue
		}
		a.report.Photos++
		for _, f := range finds {
			a.media.Rows = append(a.media.Rows, dwca.Row{Core: a.names.Find(f.FieldNumber), Cells: a.photo(r, f)})
		}
		for _, p := range r.Plates {
			a.plate(r, p)
		}
	}
}

// findsOf are the finds in jackets, each once.
func (a *archive) findsOf(jackets []string) (out []register.Find) {
	for _, number := range jackets {
		for _, f := range a.Sheets.FindsOf(number) {
			if !slices.ContainsFunc(out, func(o register.Find) bool { return o.FieldNumber == f.FieldNumber }) {
				out = append(out, f)
			}
		}
	}
	return out
}

// of are the cells that a photo and its plates share.
func (a *archive) of(r *record.Record, f register.Find) map[dwca.Term]string {
	c, clean := a.Sheets.Season.Collection, a.guard.Text
	part := strings.Join(nonBlank(f.Element, f.Side), ", ")
	view := string(r.Belongs.View)
	taken := ""
	if r.When != nil {
		taken = r.When.Local.At(0).Format("2006-01-02T15:04:05")
		if m := r.When.OffsetMin; m != nil {
			sign := '+'
			if *m < 0 {
				sign = '-'
			}
			taken += fmt.Sprintf("%c%02d:%02d", sign, abs(*m)/60, abs(*m)%60)
		}
	}
	return map[dwca.Term]string{
		dwca.MediaType: "http://purl.org/dc/dcmitype/StillImage", dwca.MetadataLanguage: "eng", dwca.Caption: clean(r.Belongs.Caption), dwca.Creator: clean(c.RightsHolder), dwca.Owner: clean(c.RightsHolder),
		dwca.UsageTerms: a.rights(), dwca.WebStatement: address(clean(c.Licence)), dwca.CreateDate: taken, dwca.SubjectPart: clean(part), dwca.SubjectOrientation: view,
		dwca.SpecimenReference: a.names.Find(f.FieldNumber),
	}
}

func abs(n int) int { return max(n, -n) }

// address is a text that is the address of a page; "" for another.
func address(text string) string {
	if strings.HasPrefix(text, "https://") || strings.HasPrefix(text, "http://") {
		return text
	}
	return ""
}

// photo is a photo of a find. Its file does not go along: it is named by its hash.
func (a *archive) photo(r *record.Record, f register.Find) map[dwca.Term]string {
	cells := a.of(r, f)
	cells[dwca.Identifier], cells[dwca.HashFunction], cells[dwca.HashValue] = a.names.Photo(r.Photo.SHA256), "SHA-256", r.Photo.SHA256
	cells[dwca.Title] = a.guard.Text(strings.Join(nonBlank("photo of find "+f.FieldNumber, string(r.Belongs.View)), ", "))
	cells[dwca.ProviderManagedID] = a.guard.Text(r.Photo.File)
	cells[dwca.Technique] = "photo as taken, not part of this archive"
	cells[dwca.PixelXDimension], cells[dwca.PixelYDimension] = size(r.Photo.WidthPx), size(r.Photo.HeightPx)
	return cells
}

func size(px int) string {
	if px <= 0 {
		return ""
	}
	return strconv.Itoa(px)
}

// plate enters a plate, unless something stands against passing it on.
func (a *archive) plate(r *record.Record, p record.Plate) {
	finds := a.findsOf([]string{p.Jacket})
	if len(finds) == 0 {
		return
	}
	against := ""
	allowed := consent.Of(a.Sheets, a.Words, r)
	if a.Positions {
		allowed.Setting = false // whoever gets positions may see the place
	}
	if a.guard.Holds(p.Made) {
		against = "what is written on it is held back: a position, the name of a locality or an owner, or of a person who did not agree; on the plate it cannot be taken out"
	} else {
		against = allowed.Against(false)
	}
	if against != "" {
		a.report.leaveOut(p.File, against)
		return
	}
	if allowed.People == "" {
		a.report.People++
	}
	kind := ""
	switch {
	case p.Mirrored:
		kind = "mirrored"
	case p.Relief:
		kind = "relief"
	}
	id := a.names.Plate(r.Photo.SHA256, p.Jacket, r.Belongs.View, kind)
	file := plateFile{name: "plates/" + strings.TrimPrefix(id, "urn:uuid:") + ".jpg", path: a.Dir.Paper(filepath.FromSlash(p.File))}
	for _, f := range finds {
		cells := a.of(r, f)
		cells[dwca.Identifier], cells[dwca.AccessURI], cells[dwca.Format], cells[dwca.DerivedFrom] = id, file.name, "image/jpeg", a.names.Photo(r.Photo.SHA256)
		cells[dwca.Title] = a.guard.Text(strings.Join(nonBlank("plate of find "+f.FieldNumber, "jacket "+p.Jacket, string(r.Belongs.View), kind), ", "))
		cells[dwca.Description] = strings.Join(nonBlank(p.Made.Stamp, p.Made.Headline), "; ")
		cells[dwca.Technique] = technique(r)
		file.rows = append(file.rows, len(a.media.Rows))
		a.media.Rows = append(a.media.Rows, dwca.Row{Core: a.names.Find(f.FieldNumber), Cells: cells})
	}
	a.plates = append(a.plates, file)
}

// technique is how a plate came about.
func technique(r *record.Record) string {
	if plane, sighting := r.Plane(); plane != nil {
		return "rectified to the plane of the " + calibrate.Thing(sighting.Reference.Kind)
	}
	return "photo without scale, reduced"
}

// writePlates writes the plates and enters hash and size of each. One that cannot be read loses its rows.
func (a *archive) writePlates(ctx context.Context, z *zip.Writer) error {
	gone := map[int]bool{}
	for _, p := range a.plates {
		if err := ctx.Err(); err != nil {
			return err
		}
		file, err := readPlate(p.path)
		if err == nil {
			file, _, err = picture.Clean(file)
		}
		if err != nil {
			a.report.leaveOut("plates/"+path.Base(filepath.ToSlash(p.path)), "it cannot be read: "+withoutPath(err)+": fieldjacket run makes it anew")
			for _, row := range p.rows {
				gone[row] = true
			}
			continue
		}
		to, err := z.CreateHeader(&zip.FileHeader{Name: p.name, Method: zip.Store})
		if err != nil {
			return err
		}
		if _, err := to.Write(file); err != nil {
			return err
		}
		a.report.Plates++
		sum := sha256.Sum256(file)
		width, height := picture.Size(file)
		for _, row := range p.rows {
			cells := a.media.Rows[row].Cells
			cells[dwca.HashFunction], cells[dwca.HashValue] = "SHA-256", hex.EncodeToString(sum[:])
			cells[dwca.PixelXDimension], cells[dwca.PixelYDimension] = size(width), size(height)
		}
	}
	if len(gone) > 0 {
		var kept []dwca.Row
		for i, row := range a.media.Rows {
			if !gone[i] {
				kept = append(kept, row)
			}
		}
		a.media.Rows = kept
	}
	return nil
}
