package main

import (
	"context"
	"encoding/json"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline"
)

type scaleCommand struct {
	referenceFlags
	Overlay string   `placeholder:"FILE" help:"Draw what was found on a copy of the photo: a JPEG; for several photos a folder."`
	JSON    bool     `help:"One JSON object a line."`
	Photos  []string `arg:"" name:"photo" help:"Photos; they are only read."`
}

func (scaleCommand) Help() string {
	return "Example: fieldjacket scale --checker 7x5/2cm IMG_0412.JPG IMG_0413.JPG"
}

// Run prints one line per photo. It ends with 3 when a photo was refused and
// with 1 when none could be read.
func (c scaleCommand) Run(ctx context.Context, t terminal) error {
	ref, err := c.reference()
	if err != nil {
		return err
	}
	overlays, err := pipeline.OverlayPaths(c.Overlay, c.Photos)
	if err != nil {
		return exit{exitUsage, "--overlay: " + err.Error()}
	}
	child, done, err := looker(ctx, []calibrate.Reference{ref}, c.Overlay != "")
	defer done()
	if err != nil {
		return err
	}
	read, refused := 0, 0
	for i, path := range c.Photos {
		var drawn *pipeline.Overlay
		if overlays[i] != "" {
			drawn = &pipeline.Overlay{Path: overlays[i]}
		}
		answer := scaleAnswer{File: path}
		record, err := pipeline.Loose(ctx, child, path, []calibrate.Reference{ref}, drawn)
		if ctx.Err() != nil {
			return ctx.Err()
		}
		if err != nil {
			answer.Status, answer.Reason = "unreadable", err.Error()
		} else {
			read++
			answer.fill(record, ref)
			if answer.Status == "refused" {
				refused++
			}
		}
		if c.JSON {
			if err := json.NewEncoder(t.out).Encode(answer); err != nil {
				return err
			}
			continue
		}
		fmt.Fprintln(t.out, answer.line())
	}
	switch {
	case read == 0:
		return exit{code: exitNothing}
	case refused > 0 || read < len(c.Photos):
		return exit{code: exitPerson}
	}
	return nil
}

// A scaleAnswer is what is said of one loose photo; measure adds lengths.
type scaleAnswer struct {
	File      string               `json:"file,omitempty"`
	Status    string               `json:"status"` // scaled, refused, unreadable
	Reason    string               `json:"reason,omitempty"`
	Retake    string               `json:"retake,omitempty"`
	PxPerCm   float64              `json:"px_per_cm,omitempty"`
	UPxPerCm  float64              `json:"u_px_per_cm,omitempty"` // k = 2
	TiltDeg   *float64             `json:"tilt_deg,omitempty"`
	Counted   string               `json:"counted,omitempty"`
	Reference *calibrate.Reference `json:"reference,omitempty"`

	plane *calibrate.Plane
}

// fill takes the answer from a record.
func (a *scaleAnswer) fill(r *pipeline.Record, ref calibrate.Reference) {
	a.Reference = &ref
	if !ref.Kind.Built() {
		a.refuse(calibrate.Refuse("name another reference", "%s: this version does not look for a %s", ref, ref.Kind))
		return
	}
	sighting := r.Sightings[0]
	a.Counted = sighting.Counted
	if sighting.Refused != nil {
		a.refuse(sighting.Refused)
		return
	}
	level, err := sighting.Plane.At(0)
	if err == nil {
		var scale calibrate.Quantity
		u, v := sighting.Plane.MiddleCm()
		if scale, err = level.ScalePxPerCm(u, v); err == nil {
			a.Status, a.plane, a.PxPerCm, a.UPxPerCm = "scaled", sighting.Plane, scale.Value, scale.U
		}
	}
	if err != nil {
		a.refuse(calibrate.Refuse("retake it squarer", "%s: %v", ref, err))
		return
	}
	if tilt, known := sighting.Plane.TiltDeg(); known {
		a.TiltDeg = &tilt
	}
}

// refuse turns the answer into a refusal.
func (a *scaleAnswer) refuse(r *calibrate.Refusal) {
	*a = scaleAnswer{File: a.File, Status: "refused", Reason: r.Reason, Retake: r.Retake}
}

// line is the answer for a person.
func (a *scaleAnswer) line() string {
	switch a.Status {
	case "scaled":
		out := fmt.Sprintf("%s: %s px/cm (k = 2), %s", a.File, calibrate.Quantity{Value: a.PxPerCm, U: a.UPxPerCm}, a.Reference)
		if a.Counted != "" {
			out += ", " + a.Counted
		}
		if a.TiltDeg != nil {
			out += fmt.Sprintf(", tilt %.0f degrees", *a.TiltDeg)
		}
		return out
	case "refused":
		out := fmt.Sprintf("%s: not scaled: %s", a.File, a.Reason)
		if a.Retake != "" {
			out += "\n    " + a.Retake
		}
		return out
	}
	return fmt.Sprintf("not read: %s", a.Reason)
}
