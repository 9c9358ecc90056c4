package pipeline

import (
	"context"

	"fieldjacket/pipeline/audit"
)

// Check tells what each jacket still lacks, from the register as it is now and
// from what earlier runs learned of the photos. Photos that no run has seen
// are assigned by their names and count as not scaled. Nothing is written.
func (s *Season) Check(ctx context.Context) (audit.Report, []*Record, error) {
	files, err := s.list(ctx)
	if err != nil {
		return audit.Report{}, nil, err
	}
	earlier, err := s.records()
	if err != nil {
		return audit.Report{}, nil, err
	}
	belongs := s.belongs(files)
	records, known := make([]*Record, 0, len(files)), earlier.byFile()
	for _, file := range files {
		r := known[file]
		if r == nil {
			r = &Record{}
			r.Photo.File = file
			if r.New = !s.countsOnly(file); !r.New {
				r.note("count", "", false, "counted only, as season.toml says")
			}
		}
		r.NoScale = noScaleBy(s.Words.Photo(file))
		records = append(records, r)
	}
	belongs = s.coded(records, belongs)
	for i, r := range records {
		r.Belongs = belongs[i]
	}
	if err := s.locate(records, belongs); err != nil {
		return audit.Report{}, nil, err
	}
	s.comparePhones(records)
	less, _, err := s.less(files, earlier, RunOptions{})
	if err != nil {
		return audit.Report{}, nil, err
	}
	for _, text := range less {
		s.Notices = append(s.Notices, Notice{Text: text})
	}
	return s.report(records), records, nil
}
