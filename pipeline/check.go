package pipeline

import (
	"context"

	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/missing"
	"fieldjacket/pipeline/phones"
)

// Check tells what each jacket still lacks, from the register as it is now and
// from what earlier runs learned of the photos. Photos that no run has seen
// are assigned by their names and count as not scaled. Nothing is written.
func (s *Season) Check(ctx context.Context) (State, error) {
	state, _, err := s.checked(ctx)
	return state, err
}

// checked also gives what each phone took day by day.
func (s *Season) checked(ctx context.Context) (State, []phones.Count, error) {
	g, err := s.gathered(ctx)
	if err != nil {
		return State{}, nil, err
	}
	state, perDay := g.state()
	less, _, err := s.here().Less(g.files(), g.by.Earlier, missing.Accepted{})
	for _, text := range less {
		state.Notices = append(state.Notices, geotag.Notice{Text: text})
	}
	return state, perDay, err
}

// WritePage writes the page of the season's last day, as Check has it, to a file, in place of an earlier page at most. The error says
// that no day is known, or that the file may not be written.
func (s *Season) WritePage(ctx context.Context, file string) error {
	state, perDay, err := s.checked(ctx)
	if err != nil {
		return err
	}
	return s.published(state, perDay).WritePage(file)
}
