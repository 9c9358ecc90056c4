package pipeline

import (
	"fmt"
	"slices"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/overlay/letters"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
)

// The names of rows that hold a taped length against the plate: one that was said of
// the photo, and one of its set-up, which the packet lists once.
const (
	tapeRow      = "tape check"
	setUpTapeRow = "tape check of set-up"
)

// tapeRows holds taped lengths against a plate and counts them; plane is nil where it has no scale. What cannot be
// held against it stands there all the same.
func (t *task) tapeRows(number string, plane *calibrate.Plane, sighting *calibrate.Sighting) (rows []look.Row) {
	held, within := 0, 0
	add := func(name, text string, in bool) {
		rows = append(rows, look.Row{Name: name, Text: letters.Spell(text)})
		held++
		if in {
			within++
		}
	}
	if plane != nil && t.said != nil {
		var level figure.Depth
		on := "; held at the level of the reference, since how deep the bone lies is not known"
		if bone := t.bone(number); bone != nil {
			level, on = *bone, ""
		}
		for _, c := range figure.Checks(plane, level, t.said.Tapes) {
			add(tapeRow, c.String()+on, c.Within)
			if !c.Within {
				t.doubt("tape check " + c.String())
			}
		}
	}
	strings := sighting != nil && sighting.Reference.Kind == calibrate.KindGrid
	for _, span := range t.toldOfSizes().Spans {
		name := tapeRow
		if span.By != "" {
			name = setUpTapeRow
		}
		switch {
		case strings:
			h := span.Hold(sighting.Reference)
			add(name, h.String(), h.Within)
		case span.By == "":
			rows = append(rows, look.Row{Name: tapeRow, Text: letters.Spell(fmt.Sprintf("%s to %s: tape %g mm; no strings are scaled in this photo to hold it against", span.From, span.To, span.LengthMm))})
		}
	}
	for _, tape := range t.heard.Tapes {
		v := tape.Value
		_, squares := evidence.SpanOf(v.From, v.To, v.LengthMm, "")
		if len(v.At) == 0 && !squares {
			rows = append(rows, look.Row{Name: tapeRow, Text: letters.Spell(fmt.Sprintf("%s to %s: tape %g mm; not held against the plate, since nobody showed both places in the photo", v.From, v.To, v.LengthMm))})
		}
	}
	if held > 1 {
		rows = append(rows, look.Row{Name: "tape checks", Text: fmt.Sprintf("%d of %d within U", within, held)})
	}
	return rows
}

// doubt keeps what a person has to settle about the plates, once.
func (t *task) doubt(text string) {
	if !slices.Contains(t.doubts, text) {
		t.doubts = append(t.doubts, text)
	}
}
