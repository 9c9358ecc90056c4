package pipeline

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/register"
)

// BringOptions say which jackets are carried over from an earlier season.
type BringOptions struct {
	Jackets []string          // numbers of then
	Now     map[string]string // numbers of jackets, finds and localities of then -> in this season, where they differ
	Again   bool              // what was brought before and differs is replaced
}

// A Brought is a jacket that was carried over.
type Brought struct {
	register.Carried
	Plates  int
	Photos  int
	NoPlate []string // its photos without a plate that shows what that season says now
	Changed bool     // something was written
}

// ErrBrought says that a jacket was brought before and says something else now.
var ErrBrought = errors.New("is here already, and that season says something else now: --again replaces what is here")

// Bring carries jackets over from an earlier season with all that it knows of
// them. That season's folder is only read. All jackets are brought or none;
// the same jackets once more change nothing.
func (s *Season) Bring(ctx context.Context, from *Season, o BringOptions) ([]Brought, error) {
	if folder.Inside(string(s.Dir), string(from.Dir)) || folder.Inside(string(from.Dir), string(s.Dir)) {
		return nil, fmt.Errorf("%s and %s: want two seasons, neither within the other", s.Dir, from.Dir)
	}
	unlock, err := s.Dir.Lock()
	if err != nil {
		return nil, err
	}
	defer unlock()
	g, err := from.gathered(ctx)
	if err != nil {
		return nil, err
	}
	state, _ := g.state()
	lacking := standing(g.tasks)
	areas := from.outlined(state.Records)
	var parcels []parcel
	var carried []register.Carried
	for _, number := range o.Jackets {
		if err := from.knowsJacket(number); err != nil {
			return nil, fmt.Errorf("%s: %w", from.Dir, err)
		}
		j, _ := from.Register.Jacket(number)
		i := slices.IndexFunc(state.Report.Jackets, func(a audit.Jacket) bool { return a.Number == number })
		p, err := from.parcel(from.packet(areas.of(j), state.Report.Jackets[i], state.Records), o.Now, string(s.Dir))
		if err != nil {
			return nil, err
		}
		for _, r := range lacking {
			if slices.Contains(r.Belongs.Jackets, number) && !r.Belongs.LeaveOut {
				p.NoPlate = append(p.NoPlate, r.Photo.File)
			}
		}
		parcels, carried = append(parcels, p), append(carried, p.Carried)
	}
	for _, number := range slices.Sorted(maps.Keys(o.Now)) {
		if !slices.ContainsFunc(carried, func(c register.Carried) bool { return c.Knows(number) }) {
			return nil, fmt.Errorf("%s=%s: that number is none of the jackets that are brought, of their finds or localities", number, o.Now[number])
		}
	}
	if err := register.CanCarry(string(s.Dir), carried...); err != nil {
		return nil, err
	}
	for _, p := range parcels {
		have, err := os.ReadFile(filepath.Join(p.Folder, register.CarriedFile))
		switch {
		case errors.Is(err, fs.ErrNotExist):
		case err != nil:
			return nil, err
		case !bytes.Equal(have, p.text) && !o.Again:
			return nil, fmt.Errorf("%s: %w", p, ErrBrought)
		}
	}
	var out []Brought
	for _, p := range parcels {
		if err := p.write(ctx); err != nil {
			return out, err
		}
		out = append(out, p.Brought)
	}
	return out, nil
}

// standing leaves each record the plates that show what the season says now,
// and gives the records that lack one.
func standing(tasks []*task) (lacking []*Record) {
	for _, t := range tasks {
		if t.r.Readable() && t.r.ToSort() {
			t.made = t.plates()
			t.r.Plates = t.unchanged(t.r.Plates)
		}
		if t.r.New && t.r.ToSort() || len(t.r.Plates) < len(t.made) {
			lacking = append(lacking, t.r)
		}
	}
	return lacking
}

// carriedWords are the lines of words.log that count and are about a jacket,
// its photos or its set-ups.
func (s *Season) carriedWords(number string, files, setUps []string) (out []string) {
	for _, l := range s.Words.Lines {
		about := l.About.String()
		if l.Undone || !(about == "jacket "+number || slices.ContainsFunc(setUps, func(u string) bool { return about == "setup "+u }) ||
			slices.ContainsFunc(files, l.About.Covers)) {
			continue
		}
		out = append(out, fmt.Sprintf("%s, %s, of %s: %s: %s", l.At.Format("2006-01-02 15:04"), l.By, about, strings.TrimSpace(string(l.What)+" "+l.Name), l.Value))
	}
	return out
}
