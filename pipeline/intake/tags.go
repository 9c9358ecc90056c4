package intake

import (
	"fmt"

	"github.com/rwcarlsen/goexif/exif"

	"fieldjacket/pipeline/container"
)

// decodedTags is a decoded clean block with the sentences about it.
type decodedTags struct {
	x     *exif.Exif
	notes notes
}

// text returns a text field; "" when not said.
func (s *decodedTags) text(name exif.FieldName) string {
	tag, err := s.x.Get(name)
	if err != nil {
		return ""
	}
	text, err := tag.StringVal()
	if err != nil {
		return ""
	}
	return text
}

// whole returns a whole number; ok is false when not said.
func (s *decodedTags) whole(name exif.FieldName) (n int, ok bool) {
	tag, err := s.x.Get(name)
	if err != nil {
		return 0, false
	}
	n, err = tag.Int(0)
	return n, err == nil
}

// numbers returns the rationals of a field as decimal numbers, nil when not said. The fence saw to their count, their sign
// and their denominators.
func (s *decodedTags) numbers(name exif.FieldName) []float64 {
	tag, err := s.x.Get(name)
	if err != nil {
		return nil
	}
	var numbers []float64
	for i := range int(tag.Count) {
		over, under, err := tag.Rat2(i)
		if err != nil {
			return nil
		}
		numbers = append(numbers, float64(over)/float64(under))
	}
	return numbers
}

// number is the first of numbers; ok is false when not said.
func (s *decodedTags) number(name exif.FieldName) (n float64, ok bool) {
	if numbers := s.numbers(name); len(numbers) > 0 {
		return numbers[0], true
	}
	return 0, false
}

func (s *decodedTags) note(format string, values ...any) { s.notes.add(fmt.Sprintf(format, values...)) }

// captureOf reads what the EXIF block and the XMP packet of a photo say; of the latter what the former is silent about. orientation
// is 1 when not said, and where the container has a turn of its own. An error is one of reading the file.
func captureOf(h container.Head) (capture *Capture, orientation int, err error) {
	capture = &Capture{Also: h.Also}
	orientation = 1
	values, doubts := make([]*validTag, len(fields)), notes(nil)
	if h.EXIF != nil {
		if values, doubts, err = pass(h.EXIF); err != nil {
			return nil, 0, err
		}
	}
	packet := properties(h.XMP)
	fill(values, packet, &doubts)
	x, err := decode(values)
	if err != nil {
		return nil, 0, err
	}
	s := &decodedTags{x: x, notes: doubts}

	capture.Local = s.local()
	capture.OffsetMin = s.offset(capture.Local)
	capture.GPSTimeUTC = s.gpsTime()
	capture.Position = s.position()
	capture.Bearing = s.bearing()
	capture.Focal35Mm, capture.DigitalZoom = s.focal()
	capture.Make = s.text(exif.Make)
	capture.Model = s.text(exif.Model)
	capture.Software = s.text(exif.Software)
	capture.Shape, capture.ReducedBy = s.shape(packet, h.WidthPx, h.HeightPx), s.reduced(h.WidthPx, h.HeightPx)
	if packet["GCamera:MotionPhoto"] == "1" || packet["GCamera:MicroVideo"] == "1" {
		capture.Also = "a video"
	}
	switch n, ok := s.whole(exif.Orientation); {
	case !ok || h.Shown && (n == 1 || h.Turned):
	case h.Shown:
		s.note("Orientation is %d, but the container turns nothing; the picture is taken as it lies, by the standard", n)
	case n >= 1 && n <= 8:
		orientation = n
	default:
		s.note("Orientation is %d, not 1 to 8; the picture is taken as it lies", n)
	}
	if capture.Local == nil && capture.Position == nil && capture.Make == "" && capture.Model == "" {
		capture.Stripped = true
		what := "EXIF without time, position and camera"
		if h.EXIF == nil {
			what = "no EXIF"
		}
		s.note("%s: %s", what, askForOriginal)
	}
	capture.Notes = s.notes
	return capture, orientation, nil
}

const askForOriginal = "a reduced copy or stripped; ask for the original"

// Lenses that photos are taken with, as 35 mm equivalents: the widest rectilinear
// ones have 9 to 10 mm, phones 13 to 300, the longest in use 1200 (common
// practice, no source).
const (
	shortestFocal35Mm = 8
	longestFocal35Mm  = 1600
)

// focal returns the 35 mm equivalent focal length (0 is unknown) and the digital zoom (0 is not used).
func (s *decodedTags) focal() (focal35Mm, zoom *float64) {
	if n, ok := s.whole(exif.FocalLengthIn35mmFilm); ok && n >= shortestFocal35Mm && n <= longestFocal35Mm {
		mm := float64(n)
		focal35Mm = &mm
	} else if ok && n > 0 {
		s.note("FocalLengthIn35mmFilm %d was dropped: no lens from %d to %d mm", n, shortestFocal35Mm, longestFocal35Mm)
	}
	if ratio, ok := s.number(exif.DigitalZoomRatio); ok && ratio >= 1 {
		zoom = &ratio
	} else if ok && ratio > 0 {
		s.note("DigitalZoomRatio %g was dropped: less than 1", ratio)
	}
	return focal35Mm, zoom
}
