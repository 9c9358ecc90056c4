package pipeline

import (
	"bytes"
	"context"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// paperFile writes one file below paper/ unless it stands there, made of the
// same input. One that cannot be made is told in the summary and keeps none of
// the others from being made; an error means that nothing can be written.
func (s *Season) paperFile(ctx context.Context, out *outcome, file, key string, count *int, fill func(*bytes.Buffer) error) error {
	if err := ctx.Err(); err != nil {
		return context.Cause(ctx)
	}
	keyFile := s.paper("records", "paper-"+hashOf(file)[:12]+".key")
	line := file + " " + key + "\n"
	if old, err := os.ReadFile(keyFile); err == nil && string(old) == line && s.has(file) {
		return nil
	}
	var b bytes.Buffer
	if err := fill(&b); err != nil {
		why := fmt.Sprintf("paper/%s could not be made: %v", file, err)
		if s.has(file) {
			why += "; the one that is there is of an earlier run"
		}
		out.summary.NotMade, out.summary.Person = append(out.summary.NotMade, why), true
		return nil
	}
	if err := keep.Bytes(s.paper(filepath.FromSlash(file)), 0o644, b.Bytes()); err != nil {
		return fmt.Errorf("paper/%s: %w", file, err)
	}
	if count != nil {
		*count++
	}
	return keep.Bytes(keyFile, 0o644, []byte(line))
}

// forgetPaper removes the papers of an earlier run that are no longer wanted:
// those that a key file names.
func (s *Season) forgetPaper(folder string, wanted map[string]string) error {
	keys, err := filepath.Glob(s.paper("records", "paper-*.key"))
	if err != nil {
		return err
	}
	for _, path := range keys {
		text, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		i := strings.LastIndexByte(strings.TrimSpace(string(text)), ' ')
		if i < 0 {
			continue
		}
		file := string(text[:i])
		if _, ok := wanted[file]; ok || !strings.HasPrefix(file, folder+"/") {
			continue
		}
		if err := s.remove(file); err != nil {
			return err
		}
		if err := os.Remove(path); err != nil {
			return err
		}
	}
	return nil
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
