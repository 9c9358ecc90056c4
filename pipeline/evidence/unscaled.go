package evidence

import (
	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// Unscaled is why the photo has no scale: a person wants none, or what came
// nearest was refused; nil: it has one, or nothing was looked for.
func Unscaled(r *record.Record) *calibrate.Refusal {
	if r.NoScale != "" {
		return calibrate.Refuse("", "%s", r.NoScale)
	}
	if plane, _ := r.Plane(); plane != nil {
		return nil
	}
	var cards []int
	for _, c := range r.Codes {
		cards = append(cards, c.Card)
	}
	return Nearest(r.Sightings, cards)
}

// Refused is what a person has to do something about: why a gridded view, or
// one in which a reference is to be seen, has no scale, and every note that asks for
// one.
func Refused(r *record.Record) (out []record.Note) {
	if f := Unscaled(r); f != nil && r.NoScale == "" && (r.Belongs.View == register.ViewGridded || f.Near >= calibrate.Other) {
		out = append(out, record.Note{Stage: "fit", Text: f.Reason, Retake: f.Retake, Person: true})
	}
	for _, n := range r.Notes {
		if n.Person {
			out = append(out, n)
		}
	}
	return out
}
