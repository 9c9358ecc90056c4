package main

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
)

// A scaleAnswer is what is said of one loose photo; measure adds lengths. Where
// several references are named, the photo's own numbers are those of the first
// that was scaled, and References has every one's.
type scaleAnswer struct {
	File string `json:"file,omitempty"`
	scaled
	References []scaled              `json:"references,omitempty"` // where several are named
	Levels     []record.DepthBetween `json:"levels,omitempty"`     // how far one lies behind another
	Depth      *depthAnswer          `json:"depth,omitempty"`      // where other photos of the same laid grid were named

	plane *calibrate.Plane // of the photo's own numbers
}

// scaled is what is said of one reference.
type scaled struct {
	Status    string               `json:"status"` // scaled, refused; of a photo also unreadable
	Reason    string               `json:"reason,omitempty"`
	Retake    string               `json:"retake,omitempty"`
	PxPerCm   float64              `json:"px_per_cm,omitempty"`
	UPxPerCm  float64              `json:"u_px_per_cm,omitempty"` // k = 2
	TiltDeg   *float64             `json:"tilt_deg,omitempty"`
	Counted   string               `json:"counted,omitempty"`
	Size      calibrate.Known      `json:"size,omitempty"`      // how the reference's size is known: confirmed, said, assumed
	SizeBy    string               `json:"size_by,omitempty"`   // by what, or whom
	HalfTurn  string               `json:"half_turn,omitempty"` // "not told": the picture may be half a turn round
	Reference *calibrate.Reference `json:"reference,omitempty"`

	taken bool // what was found is another of the references that were named
}

// fill takes the answer from a record, which was made with these references.
func (a *scaleAnswer) fill(r *record.Record, refs []calibrate.Reference) {
	for i, ref := range refs {
		one := scaled{Reference: &ref}
		one.fill(r.Sightings[i])
		if a.plane == nil && one.Status == "scaled" {
			a.plane, a.scaled = r.Sightings[i].Plane, one
		}
		a.References = append(a.References, one)
	}
	a.Levels = r.DepthsBetween
	if a.plane == nil {
		a.scaled = scaled{Status: "refused", Reason: strings.Join(a.distinct(func(s scaled) string { return s.Reason }), "; "),
			Retake: strings.Join(a.distinct(func(s scaled) string { return s.Retake }), "; ")}
	}
	if len(refs) == 1 {
		a.References = nil
	}
}

// distinct gathers a text of all references, each once.
func (a *scaleAnswer) distinct(text func(scaled) string) (out []string) {
	for _, s := range a.References {
		if t := text(s); t != "" && !slices.Contains(out, t) {
			out = append(out, t)
		}
	}
	return out
}

// open tells whether a person has to settle something: a reference was refused.
func (a *scaleAnswer) open() bool {
	return a.Status == "refused" || slices.ContainsFunc(a.References, func(s scaled) bool { return s.Status == "refused" && !s.taken })
}

// fill takes one reference's answer from its sighting.
func (s *scaled) fill(sighting calibrate.Sighting) {
	if sighting.Refused != nil {
		s.refuse(sighting.Refused)
		s.taken = sighting.Refused.Near == calibrate.Taken
		return
	}
	level, err := sighting.Plane.At(0)
	if err == nil {
		var scale calibrate.Quantity
		u, v := sighting.Plane.MiddleCm()
		if scale, err = level.ScalePxPerCm(u, v); err == nil {
			s.Status, s.PxPerCm, s.UPxPerCm = "scaled", scale.Value, scale.U
		}
	}
	if err != nil {
		s.refuse(calibrate.Refuse("retake it squarer", "%s: %v", sighting.Reference, err))
		return
	}
	s.Counted = sighting.Counted
	if sighting.Size != nil {
		s.Size, s.SizeBy = sighting.Size.Known, sighting.Size.By
	}
	if tilt, known := sighting.Plane.TiltDeg(); known {
		s.TiltDeg = &tilt
	}
	if sighting.Reference.Kind == calibrate.KindChecker {
		s.HalfTurn = "not told"
	}
}

// refuse turns the answer into a refusal; of one reference it stays named
// where several are.
func (s *scaled) refuse(r *calibrate.Refusal) {
	*s = scaled{Status: "refused", Reason: r.Reason, Retake: r.Retake, Reference: s.Reference}
}

// refuse turns the whole answer into a refusal.
func (a *scaleAnswer) refuse(r *calibrate.Refusal) {
	*a = scaleAnswer{File: a.File, scaled: scaled{Status: "refused", Reason: r.Reason, Retake: r.Retake}}
}

// line is the answer for a person: a line a reference, and the levels.
func (a *scaleAnswer) line() string {
	if a.Status == "unreadable" {
		return fmt.Sprintf("not read: %s", a.Reason)
	}
	if a.Status == "refused" || len(a.References) == 0 {
		return a.File + ": " + a.scaled.line()
	}
	var lines []string
	for _, s := range a.References {
		lines = append(lines, a.File+": "+s.line())
	}
	for _, l := range a.Levels {
		lines = append(lines, "    "+l.String())
	}
	return strings.Join(lines, "\n")
}

// line says what was found of one reference.
func (s scaled) line() string {
	if s.Status == "refused" {
		out := "not scaled: " + s.Reason
		if s.Retake != "" {
			out += "\n    " + s.Retake
		}
		return out
	}
	out := fmt.Sprintf("%s px/cm (k = 2), %s", calibrate.Quantity{Value: s.PxPerCm, U: s.UPxPerCm}, s.Reference)
	if s.Counted != "" {
		out += ", " + s.Counted
	}
	if s.TiltDeg != nil {
		out += fmt.Sprintf(", camera tilt %.0f degrees", *s.TiltDeg)
	}
	switch {
	case s.Size == calibrate.Confirmed:
		out += ", size confirmed: " + s.SizeBy
	case s.Size == calibrate.Assumed:
		out += ", size assumed"
	}
	if s.HalfTurn != "" {
		out += "; a plain board looks the same turned half round: its ends are not told apart"
	}
	return out
}
