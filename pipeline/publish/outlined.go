package publish

import (
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// areas are those of jackets' blocks as people outlined them, in cm² with U on
// top, since too small an area makes a mass too small; by jacket.
type areas map[string]float64

// of is a jacket with its area. One that was carried over keeps the area that
// the earlier season had of it, unless it was outlined again.
func (a areas) of(j register.Jacket) register.Jacket {
	if area, ok := a[j.Number]; ok {
		j.OutlinedCm2 = &area
	}
	return j
}

// outlined is the largest area of each jacket's block that a person outlined in
// a photo of that jacket alone, at the level said, else at that of the reference.
func (s Season) outlined() areas {
	out := areas{}
	for _, r := range s.Records {
		plane, _ := r.Plane()
		if plane == nil || len(r.Belongs.Jackets) != 1 || r.Belongs.LeaveOut {
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
				number := r.Belongs.Jackets[0]
				out[number] = max(out[number], area.Value+area.U)
			}
		}
	}
	return out
}
