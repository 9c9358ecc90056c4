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
}

// uCm is its standard uncertainty. That the bone lies level with the tape's end, or with what was measured in the photo, is
// known no better than UDepthCm.
func (d Depth) uCm() float64 { return math.Hypot(UDepthCm, d.U/2) }

// Below is "8 cm below the strings", or "12.1 ± 1.5 cm below the strings by card 7".
func (d Depth) Below(thing string) string {
	switch {
	case d.Cm == 0:
		return "at the level of the " + thing
	case d.Cm < 0:
		return fmt.Sprintf("%g cm above the %s", -d.Cm, thing)
	case d.By == "":
		return fmt.Sprintf("%g cm below the %s", d.Cm, thing)
	}
	return fmt.Sprintf("%s cm below the %s by %s", calibrate.Quantity{Value: d.Cm, U: d.U}, thing, d.By)
}

// AtDepth is the share of the own scale that holds at a depth below the plane,
// and its relative U (k = 2): the level's own with the depth's. Of a depth that
// was measured in the photo the focal length's error counts twice, so that U is
// rather too large.
func AtDepth(plane *calibrate.Plane, depth Depth, u, v, ownPxPerCm float64) (share, relU float64, ok bool) {
	scale := func(d float64) (calibrate.Quantity, bool) {
		level, err := plane.At(d)
		if err != nil {
			return calibrate.Quantity{}, false
		}
		q, err := level.ScalePxPerCm(u, v)
		return q, err == nil
	}
	q, ok1 := scale(depth.Cm)
	deeper, ok2 := scale(depth.Cm + depth.uCm())
	if !ok1 || !ok2 {
		return 0, 0, false
	}
	fromDepth := 2 * (q.Value - deeper.Value)
	return q.Value / ownPxPerCm, math.Hypot(q.U, fromDepth) / q.Value, true
}

// short is how much too short a length depthCm below the plane reads on it, as a share: h/(H+h).
func short(plane *calibrate.Plane, depthCm float64) (share float64, ok bool) {
	u, v := plane.MiddleCm()
	own, err := plane.At(0)
	if err != nil {
		return 0, false
	}
	q, err := own.ScalePxPerCm(u, v)
	if err != nil {
		return 0, false
	}
	at, _, ok := AtDepth(plane, Depth{Cm: depthCm}, u, v, q.Value)
	return 1 - at, ok
}

// WhatBelow says how much too short bones below the reference's level read.
func WhatBelow(plane *calibrate.Plane) string {
	var depths, shorts []string
	for _, d := range []float64{5, 10, 20} {
		share, ok := short(plane, d)
		if !ok {
			return "the photo does not tell how much shorter bones below it read"
		}
		depths = append(depths, fmt.Sprintf("%g", d))
		shorts = append(shorts, fmt.Sprintf("%.0f", 100*share))
	}
	return fmt.Sprintf("bone %s cm below it reads %s %% short", strings.Join(depths, ", "), strings.Join(shorts, ", "))
}

// BySquare lists the depths of a set-up square by square, with what they do to a length read at the level of the reference.
func BySquare(plane *calibrate.Plane, depths []register.SquareDepth) string {
	var parts []string
	for _, d := range depths {
		text := fmt.Sprintf("%s %g cm", d.Square, d.DepthCm)
		if share, ok := short(plane, d.DepthCm); ok && share < 1 {
			text += fmt.Sprintf(" (length here × %.3f)", 1/(1-share))
		}
		parts = append(parts, text)
	}
	return strings.Join(parts, "; ")
}

// shiftCm is how far from its true place, towards the point below the camera, something depthCm below the plane and asideCm
// from that point is seen on the plane: d = r h/(H+h), relief displacement counted from the upper plane.
func shiftCm(distanceCm, depthCm, asideCm float64) float64 {
	return asideCm * depthCm / (distanceCm + depthCm)
}

// Parallax warns that a bone below the reference is seen in a wrong place; "" where the distance is not known. bone nil:
// not known, so that 20 cm serve as the example.
func Parallax(plane *calibrate.Plane, bone *Depth) string {
	h, ok := plane.DistanceCm()
	if !ok || bone != nil && !(bone.Cm > 0) {
		return ""
	}
	deep := 20.0
	if bone != nil {
		deep = bone.Cm
	}
	return fmt.Sprintf("bone %.4g cm below and 50 cm aside of the camera is seen %.1f cm too near to it: a bone may show in its neighbour square", deep, shiftCm(h.Value, deep, 50))
}
