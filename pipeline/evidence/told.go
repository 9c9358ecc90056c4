package evidence

import "fieldjacket/pipeline/figure"

// ToldOfSizes is what people, sheets and other photos tell of the sizes of the
// references in the photo.
func (p Photo) ToldOfSizes() Told {
	if p.Sheets == nil {
		return Told{Named: "the command line"}
	}
	told := Told{Shown: p.Shown}
	if set := p.OneSetUp(); set != nil {
		by := "set-up " + set.Name
		if set.PitchCm != nil {
			told.PitchCm, told.PitchBy = *set.PitchCm, by
		}
		if set.DepthToBoneCm != nil {
			told.Depth = figure.Depth{Cm: *set.DepthToBoneCm, On: by}
		}
		for _, c := range set.TapeChecks {
			if s, ok := SpanOf(c.From, c.To, c.LengthMm, by); ok {
				told.Spans = append(told.Spans, s)
			}
		}
	}
	for _, d := range p.Words.Depths {
		if d.Value.Square == "" {
			told.Depth = figure.Depth{Cm: d.Value.DepthCm}
		}
	}
	for _, tape := range p.Words.Tapes {
		v := tape.Value
		if s, ok := SpanOf(v.From, v.To, v.LengthMm, ""); ok && len(v.At) == 0 {
			told.Spans = append(told.Spans, s)
		}
	}
	if p.Marks != nil {
		told.Tapes = p.Marks.Tapes
	}
	return told
}
