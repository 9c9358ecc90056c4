package look

import (
	"bytes"
	"encoding/binary"
)

// An Overlay is a photo with all that was found in it drawn on it, for a
// person who wants to see whether the right thing was found. A drawer adds no
// word of its own. Places are in pixels of its picture, (0, 0) the centre of
// the top-left one.
type Overlay struct {
	Picture Picture  `json:"picture"` // without a plane: the photo itself, reduced
	Heading string   `json:"heading"`
	Texts   []string `json:"texts"` // what was found, one line or more each
	Curves  []Curve  `json:"curves,omitempty"`
	Spots   []Spot   `json:"spots,omitempty"`
}

// A Stroke is what a curve stands for.
type Stroke string

// The strokes of an overlay.
const (
	StrokePlane      Stroke = "plane"      // the plane's own lines, carried on beyond the reference
	StrokeFirst      Stroke = "first"      // a line of the reference, first direction
	StrokeSecond     Stroke = "second"     // the same, second direction
	StrokeConsidered Stroke = "considered" // looked at and not believed
	StrokeMeasured   Stroke = "measured"   // a length asked for
)

// A Curve is one line, with a short name at its first end.
type Curve struct {
	Stroke  Stroke       `json:"stroke"`
	Through [][2]float64 `json:"through"`
	Name    string       `json:"name,omitempty"`
}

// A Spot is a mark where it was found, and a pointer that shows, enlarged,
// how far that is from where the plane has it.
type Spot struct {
	At   [2]float64 `json:"at"`
	From [2]float64 `json:"from"` // where the plane has it; the same as At where there is no plane
	Tip  [2]float64 `json:"tip"`  // the pointer's end, seen from From
	Used bool       `json:"used"` // carries the fit
}

// OverlayComment is the comment in an overlay's file, by which a later one
// knows that it may replace it.
const OverlayComment = "fieldjacket overlay"

// CommentSegment is a JPEG's COM segment (ITU-T T.81, B.2.4.5); nothing for no
// text.
func CommentSegment(text string) []byte {
	if text == "" {
		return nil
	}
	return append(binary.BigEndian.AppendUint16([]byte{0xff, 0xfe}, uint16(len(text)+2)), text...)
}

// IsOverlay tells whether a file that begins so is an overlay.
func IsOverlay(head []byte) bool {
	const jfif = 20 // bytes that every encoder here writes first
	return len(head) > jfif && bytes.HasPrefix(head, []byte{0xff, 0xd8}) && bytes.HasPrefix(head[jfif:], CommentSegment(OverlayComment))
}
