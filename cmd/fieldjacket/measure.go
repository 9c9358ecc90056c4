package main

import (
	"bufio"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"os"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/diagnostic"
	"fieldjacket/pipeline/loose"
)

type measureCommand struct {
	referenceFlags
	withFlag
	Segment  []string `sep:"none" placeholder:"X1,Y1,X2,Y2" help:"Two places in the upright photo, in pixels; may be given several times."`
	Segments string   `placeholder:"FILE" help:"A file with such a segment on each line; - reads the standard input."`
	Below    string   `placeholder:"6cm" help:"Measure this far behind the reference's plane, as the camera sees it."`
	Overlay  string   `placeholder:"FILE" help:"Draw what was found and measured on a copy of the photo, a JPEG."`
	JSON     bool     `help:"One JSON object, and nothing else."`
	Photo    string   `arg:"" help:"The photo; it is only read."`
}

func (measureCommand) Help() string {
	return "Example: fieldjacket measure --checker 7x5/2cm --segment 812,1440,2210,1395 IMG_0412.JPG"
}

// A measured is the one object that measure prints.
type measured struct {
	scaleAnswer
	Cm  []float64 `json:"cm,omitempty"`
	UCm []float64 `json:"u_cm,omitempty"` // k = 2

	// Of the ground under each segment, where other photos were named; null: not found, and the length is that at the strings.
	BelowCm  []*float64 `json:"below_cm,omitempty"`
	UBelowCm []*float64 `json:"u_below_cm,omitempty"`
}

// A segment is two places of the upright photo.
type segment struct{ a, b calibrate.Point }

// Run prints the length of every segment, in order.
func (c measureCommand) Run(ctx context.Context, t terminal) error {
	ref, err := c.reference()
	if err != nil {
		return err
	}
	below := 0.0
	if c.Below != "" {
		if below, err = calibrate.ParseLength(c.Below); err != nil {
			return exit{exitUsage, "--below: " + err.Error()}
		}
	}
	if err := c.check([]calibrate.Reference{ref}); err != nil {
		return err
	}
	if c.Below != "" && len(c.With) > 0 {
		return exit{exitUsage, "--below says the depth and --with measures it: name one of them"}
	}
	segments, err := c.read(t.in)
	if err != nil {
		return err
	}
	overlays, err := diagnostic.Paths(c.Overlay, []string{c.Photo})
	if err != nil {
		return exit{exitUsage, "--overlay: " + err.Error()}
	}
	child, done, err := looker(ctx, []calibrate.Reference{ref}, c.Overlay != "")
	defer done()
	if err != nil {
		return err
	}
	var drawn *loose.Overlay
	if overlays[0] != "" {
		drawn = &loose.Overlay{Path: overlays[0]}
		for _, s := range segments {
			drawn.Segments = append(drawn.Segments, [2]calibrate.Point{s.a, s.b})
		}
	}
	record, laid, err := c.loose(ctx, child, c.Photo, []calibrate.Reference{ref}, drawn)
	if err != nil {
		return err
	}
	var m measured
	m.fill(record, []calibrate.Reference{ref})
	m.fillDepth(laid)
	if m.plane != nil {
		if err := m.lengths(segments, below, c.PickPx); err != nil {
			var refusal *calibrate.Refusal
			if !errors.As(err, &refusal) {
				refusal = calibrate.Refuse("choose places on the reference's plane", "%v", err)
			}
			m = measured{}
			m.refuse(refusal)
		}
	}
	if c.JSON {
		if err := json.NewEncoder(t.out).Encode(m); err != nil {
			return err
		}
	} else {
		m.File = c.Photo
		fmt.Fprintln(t.out, m.line())
		if m.Depth != nil {
			fmt.Fprintln(t.out, "    "+m.Depth.line())
		}
		for i := range m.Cm {
			fmt.Fprintf(t.out, "  %s cm (k = 2)%s\n", calibrate.Quantity{Value: m.Cm[i], U: m.UCm[i]}, m.below(i))
		}
	}
	if m.Status != "scaled" {
		return exit{code: exitPerson}
	}
	return nil
}

// lengths fills in the lengths; an error leaves none.
func (m *measured) lengths(segments []segment, belowCm, uPickPx float64) error {
	level, err := m.plane.At(belowCm)
	if err != nil {
		return err
	}
	for i, s := range segments {
		q, err := level.PickedLengthCm(s.a, s.b, uPickPx)
		if err != nil {
			return fmt.Errorf("segment %d: %w", i+1, err)
		}
		if m.Depth != nil {
			var below, u *float64
			if m.Depth.depths != nil {
				if under, ok := m.Depth.depths.UnderSegment(s.a, s.b, uPickPx); ok {
					q, below, u = under.LengthCm, &under.BelowCm.Value, &under.BelowCm.U
				}
			}
			m.BelowCm, m.UBelowCm = append(m.BelowCm, below), append(m.UBelowCm, u)
		}
		m.Cm, m.UCm = append(m.Cm, q.Value), append(m.UCm, q.U)
	}
	return nil
}

// below says at which depth a length holds.
func (m *measured) below(i int) string {
	switch {
	case m.Depth == nil:
		return ""
	case m.BelowCm[i] == nil:
		return ", at the strings: the depth under it was not found"
	}
	return fmt.Sprintf(", %s cm below the strings", calibrate.Quantity{Value: *m.BelowCm[i], U: *m.UBelowCm[i]})
}

// maxSegments bounds what is read from a file.
const maxSegments = 100_000

// read gathers the segments of the flags and of the file.
func (c measureCommand) read(in io.Reader) ([]segment, error) {
	var out []segment
	add := func(where, text string) error {
		a, b, err := calibrate.ParseSegment(text)
		if err != nil {
			return exit{exitUsage, where + ": " + err.Error()}
		}
		out = append(out, segment{a, b})
		return nil
	}
	for _, text := range c.Segment {
		if err := add("--segment", text); err != nil {
			return nil, err
		}
	}
	if c.Segments != "" {
		name := "standard input"
		if c.Segments != "-" {
			name = c.Segments
			f, err := os.Open(c.Segments)
			if err != nil {
				return nil, exit{exitUsage, "--segments: " + err.Error()}
			}
			defer f.Close()
			in = f
		}
		lines := bufio.NewScanner(in)
		for n := 1; lines.Scan(); n++ {
			if strings.TrimSpace(lines.Text()) == "" {
				continue
			}
			if len(out) == maxSegments {
				return nil, exit{exitUsage, fmt.Sprintf("%s: more than %d segments", name, maxSegments)}
			}
			if err := add(fmt.Sprintf("%s, line %d", name, n), lines.Text()); err != nil {
				return nil, err
			}
		}
		if err := lines.Err(); err != nil {
			return nil, exit{exitUsage, name + ": " + err.Error()}
		}
	}
	if len(out) == 0 {
		return nil, exit{exitUsage, "name what to measure: --segment x1,y1,x2,y2 or --segments FILE"}
	}
	return out, nil
}
