package main

import (
	"context"
	"fmt"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/relief"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/loose"
	"fieldjacket/pipeline/record"
)

// withFlag names the other photos of one laid grid.
type withFlag struct {
	With []string `sep:"none" placeholder:"OTHER" help:"Another photo of the same laid grid, from another place, nothing moved between; may be given several times: then the depth of the ground below the strings is measured too."`
}

// A depthAnswer is what several photos of one laid grid tell of its ground.
type depthAnswer struct {
	Status    string       `json:"status"` // found, refused
	Why       relief.Why   `json:"why,omitempty"`
	Reason    string       `json:"reason,omitempty"`
	Retake    string       `json:"retake,omitempty"`
	Photos    int          `json:"photos,omitempty"`
	IfUnmoved bool         `json:"if_unmoved,omitempty"` // a frame that slid along the line between the two cameras would not have been seen
	Squares   []squareDeep `json:"squares,omitempty"`

	depths *relief.Depths
}

// squareDeep is one square; column 0 and row 0 are the photo's top left.
type squareDeep struct {
	Column   int     `json:"column"`
	Row      int     `json:"row"`
	BelowCm  float64 `json:"below_cm"`
	UBelowCm float64 `json:"u_below_cm"` // k = 2
}

// fill takes the answer from what the photos told; nil: nothing was asked.
func (a *scaleAnswer) fillDepth(laid *loose.Laid) {
	switch {
	case laid == nil:
	case laid.Refused != nil:
		r := laid.Refused
		a.Depth = &depthAnswer{Status: "refused", Why: r.Why, Reason: r.Reason, Retake: r.Retake}
	default:
		d := laid.Depths
		a.Depth = &depthAnswer{Status: "found", Photos: d.Photos, IfUnmoved: d.IfUnmoved, depths: d}
		for _, s := range d.Squares {
			a.Depth.Squares = append(a.Depth.Squares, squareDeep{s.Column, s.Row, s.BelowCm, s.UBelowCm})
		}
	}
}

// line says it in words.
func (a *depthAnswer) line() string {
	if a.Status == "refused" {
		return "depth not measured: " + a.Reason + "\n    " + a.Retake
	}
	least, most, ok := a.depths.RangeCm()
	if !ok {
		return "depth measured in no square"
	}
	out := fmt.Sprintf("depth below the strings from %d photos: %.1f to %.1f cm, in %d of %d squares", a.Photos, least, most, len(a.Squares), a.depths.Columns*a.depths.Rows)
	if a.IfUnmoved {
		out += ", if the frame did not move; a third photo from the next side would show it"
	}
	return out
}

// loose takes a photo through reading and fitting, with others where any are named.
func (f withFlag) loose(ctx context.Context, child *children.Child, photo string, refs []calibrate.Reference, drawn *loose.Overlay) (*record.Record, *loose.Laid, error) {
	if len(f.With) == 0 {
		r, err := loose.Read(ctx, child, photo, refs, drawn)
		return r, nil, err
	}
	return loose.ReadWith(ctx, child, photo, f.With, refs[0], drawn)
}

// check refuses flags that do not go together.
func (f withFlag) check(refs []calibrate.Reference) error {
	if len(f.With) > 0 && (len(refs) != 1 || refs[0].Kind != calibrate.KindGrid) {
		return exit{exitUsage, "--with: the depth is measured below the strings of a grid: name --grid with its pitch, and no other reference"}
	}
	return nil
}
