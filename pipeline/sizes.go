package pipeline

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/evidence"
)

// assumed is what a photo's scale rests on where nothing confirms its size and nobody said it of the photo; nil: something does.
func (s *Season) assumed(r *Record, of *calibrate.Sighting) *audit.Assumed {
	if of.Size == nil || of.Size.Known != calibrate.Assumed {
		return nil
	}
	a := audit.Assumed{Reference: of.Reference.String(), Confirm: evidence.Confirming(of.Reference)}
	if u := evidence.Of(r, s.Register, s.Words).OneSetUp(); u != nil {
		a.SetUp = u.Name
	}
	return &a
}
