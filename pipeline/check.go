package pipeline

import (
	"context"

	"fieldjacket/pipeline/geotag"
	"fieldjacket/pipeline/missing"
)

// Check tells what each jacket still lacks, from the register as it is now and
// from what earlier runs learned of the photos. Photos that no run has seen
// are assigned by their names and count as not scaled. Nothing is written.
func (s *Season) Check(ctx context.Context) (State, error) {
	g, err := s.gathered(ctx)
	if err != nil {
		return State{}, err
	}
	state, _ := g.state()
	less, _, err := s.here().Less(g.files(), g.earlier, missing.Accepted{})
	for _, text := range less {
		state.Notices = append(state.Notices, geotag.Notice{Text: text})
	}
	return state, err
}
