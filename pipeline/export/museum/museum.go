package museum

import (
	"archive/zip"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"

	"fieldjacket/pipeline/export/dwca"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/identity"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/withhold"
	"fieldjacket/pipeline/words"
)

// Options say what an archive may hold.
type Options struct {
	Positions bool // where things were found, whose the land is, permits and ways in
}

// A Season is what an archive is made of.
type Season struct {
	Dir     folder.Dir
	Sheets  *register.Register
	Words   *words.Log
	Records []*record.Record   // in the order of their files, each with the plates that show what the season says now
	Packets []paperwork.Packet // of the jackets
	Lacking int                // photos without a plate that shows what the season says now
}

// An archive while it is made.
type archive struct {
	Season
	Options
	names  *identity.Names
	guard  *withhold.Guard
	report Report

	finds        dwca.Table
	media        dwca.Table
	measurements dwca.Table
	plates       []plateFile
	measured     map[string]bool // identifiers of measurements
	box          *dwca.Box
}

// A plateFile is a plate that goes along.
type plateFile struct {
	name string // in the archive
	path string // on the disk
	rows []int  // of the media
}

// Write writes the archive. The error is [identity.ErrNoUUID] where the season has no identifier, else of the disk. One plate that
// cannot be read is left out and told in the report.
func Write(ctx context.Context, w io.Writer, s Season, o Options) (Report, error) {
	names, err := identity.Of(s.Sheets)
	if err != nil {
		return Report{}, err
	}
	a := &archive{Season: s, Options: o, names: names, guard: withhold.NewGuard(s.Sheets, o.Positions), measured: map[string]bool{}}
	a.describeFinds()
	a.describeMedia()
	a.measure()
	z := zip.NewWriter(w)
	if err := a.writePlates(ctx, z); err != nil {
		return Report{}, err
	}
	a.tell()
	eml, err := a.dataset().EML()
	if err != nil {
		return Report{}, err
	}
	all := dwca.Archive{Core: a.finds, Extensions: []dwca.Table{a.media, a.measurements}}
	for _, f := range []struct {
		name string
		text []byte
	}{
		{"meta.xml", all.Meta()}, {"eml.xml", eml}, {a.finds.File, a.finds.Text()}, {a.media.File, a.media.Text()}, {a.measurements.File, a.measurements.Text()},
		{"report.txt", []byte(a.report.Text())},
	} {
		to, err := z.CreateHeader(&zip.FileHeader{Name: f.name, Method: zip.Deflate}) // without a time: the same season gives the same bytes
		if err != nil {
			return Report{}, err
		}
		if _, err := to.Write(f.text); err != nil {
			return Report{}, err
		}
	}
	return a.report, z.Close()
}

// dataset is what eml.xml says of the whole.
func (a *archive) dataset() dwca.Dataset {
	season := a.Sheets.Season
	d := dwca.Dataset{
		ID: a.names.Season(), Title: a.title(), Rights: a.rights(), Box: a.box,
		Abstract: []string{
			fmt.Sprintf("Fossils collected in the field, packed in plaster jackets or otherwise, as their crew recorded them: %s, with plates, photos and measurements.", count(len(a.finds.Rows), "find")),
			"Accuracy is the expanded uncertainty U (k = 2, about 95 %). Photos are named by the SHA-256 of the original file.",
		},
	}
	if !a.Positions {
		d.Abstract = append(d.Abstract, withheldText)
	}
	for _, r := range a.finds.Rows {
		day := r.Cells[dwca.EventDate]
		if day == "" {
			continue
		}
		if d.From == "" || day < d.From {
			d.From = day
		}
		d.To = max(d.To, day)
	}
	d.Published = d.To
	for _, e := range a.Sheets.Diary {
		d.Published = max(d.Published, e.Date.String())
	}
	switch contact := season.PrintedContact(); {
	case contact.Owner != "":
		d.Organization = a.guard.Text(contact.Owner)
	case season.Collection.InstitutionCode != "":
		d.Organization = a.guard.Text(season.Collection.InstitutionCode)
	case season.Collection.RightsHolder != "":
		d.Organization = a.guard.Text(season.Collection.RightsHolder)
	default:
		d.Position = "field crew"
	}
	var named []string
	for _, p := range season.People {
		if p.MayPrint && p.Name != "" && slices.ContainsFunc(a.Sheets.Finds, func(f register.Find) bool { names, _ := a.guard.Names(f.By); return slices.Contains(names, p.Name) }) && !slices.Contains(named, p.Name) {
			named = append(named, p.Name)
			party := dwca.Party{Name: p.Name}
			if p.ORCID != "" {
				party.ORCID = "https://orcid.org/" + p.ORCID
			}
			d.People = append(d.People, party)
		}
	}
	return d
}

// title is the season's name as it may be passed on.
func (a *archive) title() string {
	if name := a.guard.Text(a.Sheets.Season.Name); name != "" {
		return name
	}
	return "field season"
}

// rights is under what pictures may be used.
func (a *archive) rights() string {
	if licence := a.guard.Text(a.Sheets.Season.Collection.Licence); licence != "" {
		return licence
	}
	return "no licence is stated: ask before use"
}

// readPlate is a plate's file, at most mostPlate bytes.
func readPlate(path string) ([]byte, error) {
	at, err := os.Stat(path)
	switch {
	case err != nil:
		return nil, err
	case at.Size() > mostPlate:
		return nil, fmt.Errorf("%s: %d MB, more than any plate", path, at.Size()>>20)
	}
	return os.ReadFile(path)
}

const mostPlate = 256 << 20

// withoutPath is an error without the path of the season's folder, which may be anything.
func withoutPath(err error) string {
	var at *fs.PathError
	if errors.As(err, &at) {
		return at.Err.Error()
	}
	return err.Error()
}
