package pipeline

import (
	"bytes"
	"context"
	"errors"
	"time"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/register"
)

// paperFile writes one file below paper/ unless it stands there, made of the
// same input. One that cannot be made is told in the summary and keeps none of
// the others from being made; an error means that nothing can be written.
func (s *Season) paperFile(ctx context.Context, out *outcome, file, key string, count *int, fill func(*bytes.Buffer) error) error {
	written, err := s.Dir.WriteKeyed(ctx, file, key, fill)
	var unmade folder.Unmade
	if errors.As(err, &unmade) {
		out.summary.NotMade, out.summary.Person = append(out.summary.NotMade, unmade.Error()), true
		return nil
	}
	if written && count != nil {
		*count++
	}
	return err
}

// forgetPaper removes the papers of an earlier run that are no longer wanted,
// unless rows of the sheets could not be read: then nobody knows.
func (s *Season) forgetPaper(folder string, wanted map[string]string) error {
	if s.Register.RowsLost() {
		return nil
	}
	return s.Dir.ForgetKeyed(folder, wanted)
}

// made is the time stamp of papers: the latest shot or diary line, so that
// the same season gives the same bytes.
func (s *Season) made(records []*Record) time.Time {
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

// longAgo is the time stamp of papers of which no day is known.
var longAgo = time.Date(2000, 1, 1, 0, 0, 0, 0, time.UTC)

// registerMade is the time stamp of papers that show no photo: the diary's
// last day.
func (s *Season) registerMade() time.Time {
	latest := longAgo
	for _, e := range s.Register.Diary {
		if at := time.Date(e.Date.Year, e.Date.Month, e.Date.Day, 0, 0, 0, 0, time.UTC); at.After(latest) {
			latest = at
		}
	}
	return latest
}

// plateKeys are the keys of the plates of a jacket, since the packet holds
// their pixels.
func plateKeys(number string, records []*Record) (keys []string) {
	for _, r := range records {
		for _, p := range r.Plates {
			if p.Jacket == number {
				keys = append(keys, p.Key, r.Keys["draw"])
			}
		}
	}
	return keys
}

// sheetPaper is the paper that the season prints on.
func (s *Season) sheetPaper() sheet.Paper {
	if s.Register.Season.Print.Paper == register.PaperLetter {
		return sheet.Letter
	}
	return sheet.A4
}
