package figure

import (
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// UDepthCm is the standard uncertainty of a depth to bone taken with a tape
// or rule through strings (common practice, no source).
const UDepthCm = 0.5

// A Depth is how far the bone lies below a reference.
type Depth struct {
	Cm float64
	U  float64 // k = 2, of a depth measured in the photo; 0: taken with a tape
	By string  // what in the photo told it: "card 7"; "": a person
	On string  // whose word or which sheet a person's is: "set-up S2"

	Ground  *Ground `json:"-"` // several photos told it, and lengths are measured along it; nil: they did not
	Unfound bool    // nobody showed where in it the bone lies: it is the level of what lies in the middle of the strings
}

// uCm is its standard uncertainty. That the bone lies level with the tape's end, or with what was measured in the photo, is
// known no better than UDepthCm; where the bone itself was measured, U holds how much its level differs.
func (d Depth) uCm() float64 {
	if d.Ground != nil {
		return d.U / 2
	}
	return math.Hypot(UDepthCm, d.U/2)
}

// At is what a length by a scale bar at this depth holds for.
func (d Depth) At(thing string) string {
	switch {
	case d.Ground == nil:
		return fmt.Sprintf("at bone level (%s)", d.Below(thing))
	case d.Unfound:
		return fmt.Sprintf("at the level of what lies in the middle (%s)", d.Below(thing))
	}
	return fmt.Sprintf("at bone level (%s)", d.Below(thing))
}

// Below is "8 cm below the strings", "12.1 ± 1.5 cm below the strings by card 7", or "9.8 ± 0.4 cm below the strings, from 3
// photos".
func (d Depth) Below(thing string) string {
	switch {
	case d.Ground != nil && d.Cm < 0:
		return fmt.Sprintf("%s cm above the %s, %s", toMm(calibrate.Quantity{Value: -d.Cm, U: d.U}), thing, d.Ground.From())
	case d.Ground != nil:
		return fmt.Sprintf("%s cm below the %s, %s", toMm(calibrate.Quantity{Value: d.Cm, U: d.U}), thing, d.Ground.From())
	case d.Cm == 0:
		return "at the level of the " + thing
	case d.Cm < 0:
		return fmt.Sprintf("%g cm above the %s", -d.Cm, thing)
	case d.By == "":
		return fmt.Sprintf("%g cm below the %s", d.Cm, thing)
	}
	return fmt.Sprintf("%s cm below the %s by %s", calibrate.Quantity{Value: d.Cm, U: d.U}, thing, d.By)
}

// shareAt is how large on the plane, seen from the camera, a length is that lies that far below it: H/(H+h), since planes that lie
// one above the other are pictures of each other, in one ratio all over, however askew they are seen. ok is false where the camera's
// distance is not known, or the depth does not lie before it.
func shareAt(plane *calibrate.Plane, depthCm float64) (share float64, ok bool) {
	if depthCm == 0 {
		return 1, true
	}
	_, err := plane.At(depthCm)
	distance, known := plane.DistanceCm()
	return distance.Value / (distance.Value + depthCm), err == nil && known
}

// AtDepth is the share of the plate's own scale that holds at a depth below the plane,
// and its relative U (k = 2) at a place of the plane: the plane's own with the focal length's and the depth's. Of a depth that
// was measured in the photo the focal length's error counts twice, so that U is
// rather too large.
func AtDepth(plane *calibrate.Plane, depth Depth, u, v float64) (share, relU float64, ok bool) {
	if depth.Ground != nil {
		return depth.Ground.scaleAt(depth, u, v)
	}
	level, err := plane.At(0)
	if err != nil {
		return 0, 0, false
	}
	own, err := level.ScalePxPerCm(u, v)
	share, ok1 := shareAt(plane, depth.Cm)
	deeper, ok2 := shareAt(plane, depth.Cm+depth.uCm())
	distance, known := plane.DistanceCm()
	if err != nil || !ok1 || !ok2 || !known {
		return 0, 0, false
	}
	fromDepth := 2 * (share - deeper) / share
	fromFocal := distance.U / distance.Value * (1 - share)
	return share, math.Hypot(own.U/own.Value, math.Hypot(fromFocal, fromDepth)), true
}

// byBar gives what a length at another depth has to be multiplied by once it
// was read by a scale bar that holds barCm below the plane; both are in cm
// below the plane.
func byBar(plane *calibrate.Plane, barCm float64) func(depthCm float64) (times float64, ok bool) {
	bar, okBar := shareAt(plane, barCm)
	return func(depthCm float64) (float64, bool) {
		share, ok := shareAt(plane, depthCm)
		return bar / share, ok && okBar && share > 0
	}
}

// WhatBelow says how much too short bones below the reference's level read, as
// h/(H+h).
func WhatBelow(plane *calibrate.Plane) string {
	var depths, shorts []string
	times := byBar(plane, 0)
	for _, d := range []float64{5, 10, 20} {
		by, ok := times(d)
		if !ok {
			return "the photo does not tell how much shorter bones below it read"
		}
		depths = append(depths, fmt.Sprintf("%g", d))
		shorts = append(shorts, fmt.Sprintf("%.0f", 100*(1-1/by)))
	}
	return fmt.Sprintf("bone %s cm below it reads %s %% short", strings.Join(depths, ", "), strings.Join(shorts, ", "))
}

// BySquare lists depths below the strings square by square, with what a length
// there has to be multiplied by once it was read by the plate's scale bar,
// which holds barCm below the strings; "" where there are none.
func BySquare(plane *calibrate.Plane, barCm float64, depths []register.SquareDepth) string {
	var parts []string
	times := byBar(plane, barCm)
	for _, d := range depths {
		text := fmt.Sprintf("%s %g cm", d.Square, d.DepthCm)
		if by, ok := times(d.DepthCm); ok {
			text += fmt.Sprintf(" (× %.3f)", by)
		}
		parts = append(parts, text)
	}
	if parts == nil {
		return ""
	}
	return strings.Join(parts, "; ") + ". In brackets: what a length read there by the scale bar is to be multiplied by"
}

// shiftCm is how far from its true place, towards the point below the camera, something depthCm below the plane and asideCm
// from that point is seen on the plane: d = r h/(H+h), relief displacement counted from the upper plane.
func shiftCm(distanceCm, depthCm, asideCm float64) float64 {
	return asideCm * depthCm / (distanceCm + depthCm)
}

// Parallax warns that a bone below the reference is drawn in a wrong place; "" where the camera's distance is not known, or
// the bone does not lie below. bone nil: not known, so that 20 cm serve as the example. thing is the reference's everyday word.
func Parallax(plane *calibrate.Plane, bone *Depth, thing string, squares bool) string {
	h, ok := plane.DistanceCm()
	if !ok || bone != nil && !(bone.Cm > 0) {
		return ""
	}
	deep, what := 20.0, "bone, were it 20 cm below the "+thing+", would be"
	if bone != nil {
		deep, what = bone.Cm, fmt.Sprintf("bone %.3g cm below the %s is", bone.Cm, thing)
	}
	text := fmt.Sprintf("%s drawn out of place, towards the point below the camera: by %.1f cm where it lies 50 cm from that point", what, shiftCm(h.Value, deep, 50))
	if squares {
		text += ". It may show in a neighbour square"
	}
	return text
}
