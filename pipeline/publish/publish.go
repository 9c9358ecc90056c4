package publish

import (
	"bytes"
	"context"
	"encoding/json"
	"errors"
	"path/filepath"
	"strings"
	"time"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/findmap"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/offload"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/registerfile"
	"fieldjacket/pipeline/words"
)

// Recipe is raised whenever documents come out otherwise for the same input.
const Recipe = 20

// A Season is what the documents of a season are made of.
type Season struct {
	Dir      folder.Dir
	Sheets   *register.Register
	Words    *words.Log
	Before   map[string]*paperwork.Packet // of the jackets that were carried over: what earlier seasons had of them
	Records  []*record.Record             // in the order of their files
	Report   audit.Report
	Problems []register.Problem
	Notices  []geotag.Notice
	PerDay   []phones.Count   // what each phone took
	Copied   []offload.Copied // off the phones, and verified
	Map      *findmap.Map     // of finds; nil: the season has no quarry grid
	MapSizes []MapSize        // in which it is wanted beside the usual one
}

// documents are all kinds in the order in which they are written: a new one is a line here and its function.
var documents = []struct {
	name  string
	write func(*writer, context.Context) error
}{
	{"packets", (*writer).packetFiles},
	{"labels", (*writer).labels},
	{"truck list", (*writer).truckList},
	{"workbook", (*writer).workbook},
	{"localities", (*writer).localities},
	{"days", (*writer).days},
	{"map", (*writer).maps},
}

// Documents are the names of all kinds, in the order in which they are written.
func Documents() (names []string) {
	for _, d := range documents {
		names = append(names, d.name)
	}
	return names
}

// Made is what came of the documents.
type Made struct {
	Packets int      // written anew
	Days    []string // the day pages, slash paths below paper/
	Maps    []string // of finds, slash paths below paper/
	NotMade []string // those that could not be made, with the reason
}

// Write writes every document that has changed, and takes away those that are no
// longer wanted. tell is called as each kind begins. One document that cannot
// be made keeps none of the others from being made.
func Write(ctx context.Context, s Season, tell func(kind string)) (Made, error) {
	w := &writer{Season: s, packets: s.Packets()}
	for _, d := range documents {
		tell(d.name)
		if err := d.write(w, ctx); err != nil {
			return w.made, err
		}
	}
	return w.made, nil
}

// A writer is a season's documents while they are written.
type writer struct {
	Season
	packets []paperwork.Packet
	made    Made
}

// Packets are what each jacket's paper is made of, in the order of the report.
func (s Season) Packets() (out []paperwork.Packet) {
	areas := s.outlined()
	for _, j := range s.Report.Jackets {
		if jacket, ok := s.Sheets.Jacket(j.Number); ok {
			out = append(out, s.packet(areas.of(jacket), j))
		}
	}
	return out
}

// file writes one file below paper/ unless it stands there, made of the
// same input. One that cannot be made is told in the summary and keeps none of
// the others from being made; an error means that nothing can be written.
func (w *writer) file(ctx context.Context, file, key string, count *int, fill func(*bytes.Buffer) error) error {
	written, err := w.Dir.WriteKeyed(ctx, file, key, fill)
	var unmade folder.Unmade
	if errors.As(err, &unmade) {
		w.made.NotMade = append(w.made.NotMade, unmade.Error())
		return nil
	}
	if written && count != nil {
		*count++
	}
	return err
}

// forget removes the papers of an earlier run that are no longer wanted,
// unless rows of the sheets could not be read: then nobody knows.
func (w *writer) forget(folder string, wanted map[string]string) error {
	if registerfile.RowsLost(w.Sheets) {
		return nil
	}
	return w.Dir.ForgetKeyed(folder, wanted)
}

// latest is the time stamp of papers: the latest shot or diary line, so that
// the same season gives the same bytes.
func (s Season) latest(records []*record.Record) time.Time {
	latest := longAgo
	for _, r := range records {
		if r.When != nil {
			if at := r.When.Local.At(0); at.After(latest) {
				latest = at
			}
		}
	}
	if at := s.registerMade(); at.After(latest) {
		latest = at
	}
	return latest
}

// Latest is the time stamp of a document that shows all photos of the season.
func (s Season) Latest() time.Time { return s.latest(s.Records) }

// longAgo is the time stamp of papers of which no day is known.
var longAgo = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// registerMade is the time stamp of papers that show no photo: the diary's
// last day.
func (s Season) registerMade() time.Time {
	latest := longAgo
	for _, e := range s.Sheets.Diary {
		if at := time.Date(e.Date.Year, e.Date.Month, e.Date.Day, 0, 0, 0, 0, time.UTC); at.After(latest) {
			latest = at
		}
	}
	return latest
}

// plateKeys are the keys of the plates of a jacket, since the packet holds
// their pixels.
func plateKeys(number string, records []*record.Record) (keys []string) {
	for _, r := range records {
		for _, p := range r.Plates {
			if p.Jacket == number {
				keys = append(keys, p.Key, r.Keys["draw"])
			}
		}
	}
	return keys
}

// paper is the paper that the season prints on.
func (s Season) paper() sheet.Paper {
	if s.Sheets.Season.Print.Paper == register.PaperLetter {
		return sheet.Letter
	}
	return sheet.A4
}

// key is the key of what a paper is made of. Paths of pictures below paper/
// count from there, so that a season that was copied or is named in another way
// keeps its papers.
func (s Season) key(values ...any) string {
	text, err := json.Marshal(values)
	if err != nil {
		panic(err) // of values that no caller has
	}
	below, err := json.Marshal(s.Dir.Paper() + string(filepath.Separator))
	if err != nil {
		panic(err)
	}
	below = below[:len(below)-1] // with the quotation mark before it: no text but a path begins so
	return keep.Hash(strings.ReplaceAll(string(text), string(below), `"`))
}
