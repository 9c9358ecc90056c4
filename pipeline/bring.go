package pipeline

import (
	"context"
	"errors"
	"fmt"
	"maps"
	"path/filepath"
	"slices"

	"fieldjacket/pipeline/carryover"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/paperwork"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/registerfile"
)

// BringOptions say which jackets are carried over from an earlier season.
type BringOptions struct {
	Jackets []string          // numbers of then
	Now     map[string]string // numbers of jackets, finds and localities of then -> in this season, where they differ
	Again   bool              // what was brought before and differs is replaced
}

// Bring carries jackets over from an earlier season with all that it knows of
// them. That season's folder is only read. Nothing is written unless all of the
// jackets can be brought; where the disk then fails, those before it are, and the
// same jackets once more bring the rest and change nothing else.
func (s *Season) Bring(ctx context.Context, from *Season, o BringOptions) ([]carryover.Bundle, error) {
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
	state, perDay := g.state()
	lacking := standing(g.tasks)
	packets := from.published(state, perDay).Packets()
	var bundles []carryover.Bundle
	var carried []register.Carried
	for _, number := range o.Jackets {
		if err := register.KnowsJacket(from.Register, number); err != nil {
			return nil, fmt.Errorf("%s: %w", from.Dir, err)
		}
		packet := packets[slices.IndexFunc(packets, func(p paperwork.Packet) bool { return p.Jacket.Number == number })]
		b, err := carryover.Pack(packet, carryover.Season{Name: nameOf(from), Sheets: from.Register, Words: from.Words, File: record.JacketFile(from.Register, number)}, o.Now, string(s.Dir))
		if err != nil {
			return nil, err
		}
		for _, r := range lacking {
			if slices.Contains(r.Belongs.Jackets, number) && !r.Belongs.LeaveOut {
				b.NoPlate = append(b.NoPlate, r.Photo.File)
			}
		}
		bundles, carried = append(bundles, b), append(carried, b.Carried)
	}
	for _, number := range slices.Sorted(maps.Keys(o.Now)) {
		if !slices.ContainsFunc(carried, func(c register.Carried) bool { return c.Knows(number) }) {
			return nil, fmt.Errorf("%s=%s: that number is none of the jackets that are brought, of their finds or localities", number, o.Now[number])
		}
	}
	if err := registerfile.CanCarry(string(s.Dir), carried...); err != nil {
		return nil, err
	}
	for _, b := range bundles {
		differs, err := b.Differs()
		if err != nil {
			return nil, err
		}
		if differs && !o.Again {
			return nil, fmt.Errorf("%s: %w", b, ErrBrought)
		}
	}
	for i := range bundles {
		if err := bundles[i].Write(ctx); err != nil {
			return bundles[:i], fmt.Errorf("%s, and %d more behind it, are not brought: %w: make that good and bring the same jackets once more", bundles[i], len(bundles)-i-1, err)
		}
	}
	return bundles, nil
}

// ErrBrought says that a jacket was brought before and says something else now.
var ErrBrought = errors.New("is here already, and that season says something else now: --again replaces what is here")

// nameOf is what the season calls itself, or its folder where it has no name.
func nameOf(s *Season) string {
	if name := s.Register.Season.Name; name != "" {
		return name
	}
	if abs, err := filepath.Abs(string(s.Dir)); err == nil {
		return filepath.Base(abs)
	}
	return filepath.Base(string(s.Dir))
}

// standing leaves each record the plates that show what the season says now,
// and gives the records that lack one.
func standing(tasks []*task) (lacking []*record.Record) {
	for _, t := range tasks {
		if t.r.Readable() && t.r.ToSort() {
			t.compose()
			t.r.Plates = t.see.PlatesThatStand(t.composed, t.r.Plates)
		}
		if t.r.New && t.r.ToSort() || len(t.r.Plates) < len(t.composed) {
			lacking = append(lacking, t.r)
		}
	}
	return lacking
}
