package pipeline

import (
	"context"
	"errors"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/observe"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/scale"
	"fieldjacket/pipeline/words"
)

// Try makes of a reference put by hand what a run would make of it alone, without
// what else the picture shows, which may contradict it; child may be nil: then nothing is looked at. Nothing is written.
func (s *Season) Try(ctx context.Context, child *children.Child, r *record.Record, h words.ManualReference) (scale.Trial, error) {
	var found look.Found
	if child != nil && h.Corners != nil {
		var err error
		if found, err = observe.AskRefine(ctx, child, r.Source(s.Dir.Photos()), h); err != nil {
			return scale.Trial{}, err
		}
	}
	in := scale.Input{Photo: evidence.Of(r, s.Register, s.Words), Carried: s.references()}
	return in.Try(h, found)
}

// Source is a record's photo as a child is told of it.
func (s *Season) Source(r *record.Record) look.Source { return r.Source(s.Dir.Photos()) }

// Ready has a child decode a photo, so that the first Try is as quick as the
// next.
func (s *Season) Ready(ctx context.Context, child *children.Child, r *record.Record) error {
	_, err := child.Ask(ctx, look.Request{Refine: &look.RefineRequest{Source: r.Source(s.Dir.Photos()), Ready: true}})
	return err
}

// Bare has a child write a picture of a photo alone, as JPEG.
func Bare(ctx context.Context, child *children.Child, source look.Source, picture look.Picture, out string) error {
	_, err := observe.Draw(ctx, child, look.DrawRequest{Source: source, Plate: look.Plate{Picture: picture}, Bare: true, Out: out})
	return err
}

// Measured says how long it is between two places of a record's photo, or how
// large the area within more of them is, on a level below the plane that its
// plates are made on; nil: on the bone where its depth is known, else on the
// plane.
func (s *Season) Measured(r *record.Record, at []calibrate.Point, levelCm *float64) (string, error) {
	plane, sighting := r.Plane()
	if plane == nil {
		return "", errors.New("the photo has no scale")
	}
	number := ""
	if len(r.Belongs.Jackets) > 0 {
		number = r.Belongs.Jackets[0]
	}
	o := figure.Outline{Points: at, LevelCm: levelCm}
	q, where, err := o.Area(plane, evidence.Of(r, s.Register, s.Words).DepthToBone(number), calibrate.Thing(sighting.Reference.Kind))
	if err != nil {
		return "", err
	}
	unit := "cm²"
	if len(at) == 2 {
		unit = "cm"
	}
	return fmt.Sprintf("%s %s (k = 2), %s", q, unit, where), nil
}
