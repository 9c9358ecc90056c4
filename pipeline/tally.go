package pipeline

import (
	"context"
	"slices"

	"fieldjacket/pipeline/record"
)

// count counts up the run.
func count(_ context.Context, _ *Season, out *outcome) error {
	sum := &out.summary
	sum.Problems = len(out.Problems)
	sum.Unassigned, sum.Conflicts = len(out.Report.Unsorted), len(out.Report.Conflicts)
	for _, r := range out.Records {
		switch {
		case r.NotPhoto():
			sum.NotPhotos++
			continue
		case r.Copied():
			sum.Copies = append(sum.Copies, r.Photo.File+": "+r.Aside())
			continue
		case r.Unread() != "":
			sum.Unreadable++
		case r.CountedOnly:
			sum.Counted++
		}
		sum.Photos++
		if plane, _ := r.Plane(); plane != nil {
			sum.Scaled++
		}
		sum.Plates += len(r.Plates)
		for _, n := range r.Notes {
			sum.Person = sum.Person || n.Person
			if n.Person && n.NoPlate {
				sum.NoPlate = append(sum.NoPlate, r.Photo.File+": "+n.Text+": "+n.Retake)
			}
		}
	}
	for _, j := range out.Report.Jackets {
		if len(j.Lacks()) > 0 || len(j.Contradicted) > 0 {
			sum.Incomplete++
		}
	}
	sum.Person = sum.Person || sum.NoVision || sum.Incomplete > 0 || sum.Unassigned > 0 || sum.Conflicts > 0 || sum.Unreadable > 0 || sum.Problems > 0
	return nil
}

// tidy takes away the records, plates and previews of photos that are no
// longer there.
func tidy(_ context.Context, s *Season, out *outcome) error {
	now := map[string]bool{}
	for _, r := range out.Records {
		now[r.Name()] = true
	}
	for _, r := range out.earlier {
		if now[r.Name()] {
			continue
		}
		files := record.Files(r.Name())
		for _, p := range r.Plates {
			if !slices.ContainsFunc(out.Records, func(r *record.Record) bool { _, ok := record.PlateIn(r.Plates, p.File); return ok }) {
				files = append(files, p.File)
			}
		}
		if err := s.Dir.RemoveAll(files...); err != nil {
			return err
		}
	}
	return nil
}
