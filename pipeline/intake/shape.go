package intake

import (
	"fmt"
	"strings"

	"github.com/rwcarlsen/goexif/exif"
)

// A Shape is why a picture is not what one lens drew in one moment.
type Shape struct {
	Kind ShapeKind `json:"kind"`
	Why  string    `json:"why"` // what in the file says so
}

// A ShapeKind names what was done to a picture.
type ShapeKind string

const (
	Panorama  ShapeKind = "panorama"   // put together from several: no single camera, nothing is scaled
	UltraWide ShapeKind = "ultra-wide" // stretched towards its edges: only references with many marks can tell how
	Cropped   ShapeKind = "cropped"    // or edited: the focal length no longer belongs to the picture
	Portrait  ShapeKind = "portrait"   // the background is blurred by computation: marks there may have moved
)

// ultraWideMm: phones' main lenses have 23 to 28 mm, their ultra-wide ones 13 to 16 (common practice, no source).
const ultraWideMm = 19

// widest is the longest side over the shortest of what a phone's camera makes: 21:9 (common practice, no source).
const widest = 2.4

// Values of CustomRendered that phones write beyond the standard's 0 and 1, as exiftool's table of EXIF tags lists them.
var rendered = map[int]ShapeKind{6: Panorama, 7: Portrait, 8: Portrait}

// editors are words in Software that no camera writes.
var editors = []string{"photoshop", "lightroom", "gimp", "snapseed", "picasa", "paint", "affinity", "darktable", "rawtherapee", "imagemagick", "canva"}

// shape finds what is known against the picture's geometry, the weightiest first; nil: nothing. says is its XMP packet, width and
// height the size as decoded.
func (s *decodedTags) shape(says map[string]string, widthPx, heightPx int) *Shape {
	long, short := float64(max(widthPx, heightPx)), float64(min(widthPx, heightPx))
	kind := rendered[s.rendered()]
	editor := ""
	for _, word := range editors {
		if said := s.text(exif.Software); strings.Contains(strings.ToLower(said), word) {
			editor = said
		}
	}
	wide, tall := s.asTaken()
	switch {
	case says["GPano:ProjectionType"] != "":
		return &Shape{Panorama, fmt.Sprintf("XMP says its projection is %.40q", says["GPano:ProjectionType"])}
	case kind == Panorama:
		return &Shape{Panorama, "CustomRendered is 6"}
	case long > widest*short:
		return &Shape{Panorama, fmt.Sprintf("%d x %d px is longer than a camera's picture: put together or cropped", widthPx, heightPx)}
	case wide > 0 && !alike(long/short, max(wide, tall)/min(wide, tall)):
		return &Shape{Cropped, fmt.Sprintf("taken with %g x %g px and now of another shape, %d x %d", wide, tall, widthPx, heightPx)}
	case editor != "":
		return &Shape{Cropped, fmt.Sprintf("edited with %.40q, which may have cropped or bent it", editor)}
	case strings.Contains(strings.ToLower(s.text(exif.LensModel)), "ultra wide"):
		return &Shape{UltraWide, fmt.Sprintf("LensModel %q", s.text(exif.LensModel))}
	case s.wide() > 0:
		return &Shape{UltraWide, fmt.Sprintf("focal length %g mm as on 35 mm film", s.wide())}
	case kind == Portrait:
		return &Shape{Portrait, fmt.Sprintf("CustomRendered is %d", s.rendered())}
	}
	return nil
}

// alike: shapes that differ by rounding to whole pixels or blocks of them.
func alike(a, b float64) bool { return a < b*1.02 && b < a*1.02 }

// rendered is the value of CustomRendered, 0 when not said.
func (s *decodedTags) rendered() int {
	n, _ := s.whole(exif.CustomRendered)
	return n
}

// asTaken is the size that the camera wrote down; 0, 0 when not said.
func (s *decodedTags) asTaken() (widthPx, heightPx float64) {
	w, _ := s.whole(exif.PixelXDimension)
	h, _ := s.whole(exif.PixelYDimension)
	if w < 1 || h < 1 {
		return 0, 0
	}
	return float64(w), float64(h)
}

// wide is the 35 mm focal length of an ultra-wide lens; 0: it is none, or zoomed in on.
func (s *decodedTags) wide() float64 {
	if mm, ok := s.whole(exif.FocalLengthIn35mmFilm); ok && mm >= shortestFocal35Mm && mm < ultraWideMm {
		return float64(mm)
	}
	return 0
}

// reduced tells that a picture is smaller than the camera made it, in the same shape; by is how many times a side.
func (s *decodedTags) reduced(widthPx, heightPx int) (by float64) {
	wide, tall := s.asTaken()
	long, short := float64(max(widthPx, heightPx)), float64(min(widthPx, heightPx))
	if wide == 0 || !alike(long/short, max(wide, tall)/min(wide, tall)) || max(wide, tall) < 1.1*long {
		return 0
	}
	return max(wide, tall) / long
}
