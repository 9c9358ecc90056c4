package pipeline

import (
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/words"
)

// outlined gives each jacket the largest area of its block that a person
// outlined in a photo of that jacket alone, at the level said, else at that of
// the reference. U is on top, since too small an area makes a mass too small.
func (s *Season) outlined(records []*Record) {
	for i := range s.Register.Jackets {
		j := &s.Register.Jackets[i]
		j.OutlinedCm2 = nil
		for _, r := range records {
			if len(r.Belongs.Jackets) != 1 || r.Belongs.Jackets[0] != j.Number || r.Belongs.LeaveOut {
				continue
			}
			plane, _ := r.Plane()
			if plane == nil {
				continue
			}
			for _, o := range s.Words.Photo(r.Photo.File).Outlines {
				if o.Value.Of != words.OfBlock {
					continue
				}
				var below figure.Depth
				if o.Value.LevelCm != nil {
					below.Cm = *o.Value.LevelCm
				}
				if area, err := figure.Measure(plane, o.Value.Points, below); err == nil {
					if most := area.Value + area.U; j.OutlinedCm2 == nil || most > *j.OutlinedCm2 {
						j.OutlinedCm2 = &most
					}
				}
			}
		}
	}
}
