package plate

import (
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
)

// tapeRows holds taped lengths against a plate and counts them; plane is nil where it has no scale. What cannot be
// held against it stands there all the same.
func (d *draft) tapeRows(number string, plane *calibrate.Plane, sighting *calibrate.Sighting) (rows []look.Row) {
	held, within := 0, 0
	said := func(text string) { // of the photo; those of its set-up the packet lists once
		d.tapes = append(d.tapes, letters.Spell(text))
		rows = append(rows, look.Row{Name: "tape check", Text: letters.Spell(text)})
	}
	count := func(in bool) {
		held++
		if in {
			within++
		}
	}
	if plane != nil && d.Marks != nil {
		var level figure.Depth
		on := "; held at the level of the reference, since how deep the bone lies is not known"
		if bone := d.DepthToBone(number); bone != nil {
			level, on = *bone, ""
		}
		for _, c := range figure.Checks(plane, level, d.Marks.Tapes) {
			said(c.String() + on)
			count(c.Within)
			if !c.Within {
				d.doubt("tape check " + c.String())
			}
		}
	}
	strings := sighting != nil && sighting.Reference.Kind == calibrate.KindGrid
	for _, span := range d.ToldOfSizes().Spans {
		switch {
		case strings:
			h := span.Hold(sighting.Reference)
			count(h.Within)
			if span.By == "" {
				said(h.String())
			} else {
				rows = append(rows, look.Row{Name: "tape check of set-up", Text: letters.Spell(h.String())})
			}
		case span.By == "":
			said(fmt.Sprintf("%s to %s: tape %g mm; no strings are scaled in this photo to hold it against", span.From, span.To, span.LengthMm))
		}
	}
	for _, tape := range d.Words.Tapes {
		v := tape.Value
		_, squares := evidence.SpanOf(v.From, v.To, v.LengthMm, "")
		if len(v.At) == 0 && !squares {
			said(fmt.Sprintf("%s to %s: tape %g mm; not held against the plate, since nobody showed both places in the photo", v.From, v.To, v.LengthMm))
		}
	}
	if held > 1 {
		rows = append(rows, look.Row{Name: "tape checks", Text: fmt.Sprintf("%d of %d within U", within, held)})
	}
	return rows
}
