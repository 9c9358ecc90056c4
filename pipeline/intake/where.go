package intake

import (
	"strings"

	"github.com/rwcarlsen/goexif/exif"
)

// position returns where the phone says it was; nil unless latitude and longitude are both whole, with their letters.
func (s *decodedTags) position() *Position {
	lat, latSaid := s.angle(exif.GPSLatitude, exif.GPSLatitudeRef, 90, "N", "S")
	lon, lonSaid := s.angle(exif.GPSLongitude, exif.GPSLongitudeRef, 180, "E", "W")
	switch {
	case !latSaid && !lonSaid:
		return nil
	case !latSaid || !lonSaid:
		s.note("half a position was dropped: latitude and longitude are needed")
		return nil
	case lat == 0 && lon == 0:
		s.note("the position 0, 0 was dropped: it stands for none")
		return nil
	}
	if status := s.text(exif.GPSStatus); status != "" && status != "A" {
		s.note("GPSStatus is %q: the receiver had no sure fix when the photo was taken", status)
	}
	p := &Position{LatDeg: lat, LonDeg: lon, Datum: s.text(exif.GPSMapDatum), AltitudeM: s.altitude()}
	if u, ok := s.number(gpsHPositioningError); ok && u > 0 {
		p.UncertaintyM = &u
	} else if ok {
		s.note("GPSHPositioningError 0 was dropped: no receiver is exact")
	}
	return p
}

// angle returns a latitude or longitude in degrees; ok is false when it is not said or not valid.
func (s *decodedTags) angle(name, ref exif.FieldName, limitDeg float64, plus, minus string) (deg float64, ok bool) {
	parts, letter := s.numbers(name), strings.ToUpper(s.text(ref))
	switch {
	case parts == nil:
		return 0, false
	case letter != plus && letter != minus:
		s.note("%s was dropped: %s is %q, not %s or %s", name, ref, letter, plus, minus)
		return 0, false
	case parts[1] > 60 || parts[2] > 60: // 60 itself comes from rounding
		s.note("%s was dropped: %g degrees %g minutes %g seconds", name, parts[0], parts[1], parts[2])
		return 0, false
	}
	deg = parts[0] + parts[1]/60 + parts[2]/3600
	if deg > limitDeg {
		s.note("%s was dropped: %g degrees, at most %g", name, deg, limitDeg)
		return 0, false
	}
	if letter == minus && deg != 0 { // no minus zero
		deg = -deg
	}
	return deg, true
}

// altitude returns metres above sea level; nil when not said. References 2 and 3 came with Exif 3.0, there to tell sea
// level from the ellipsoid (from memory); what a phone writes under 0 and 1 is taken as above and below the sea, as ever.
func (s *decodedTags) altitude() *float64 {
	m, ok := s.number(exif.GPSAltitude)
	if !ok {
		return nil
	}
	ref, ok := s.whole(exif.GPSAltitudeRef)
	switch {
	case !ok:
		s.note("GPSAltitudeRef is not said; above sea level, by the standard")
	case (ref == 1 || ref == 3) && m != 0: // no minus zero
		m = -m
	case ref > 3:
		s.note("GPSAltitude was dropped: GPSAltitudeRef is %d, not 0 to 3", ref)
		return nil
	}
	const highestM = 100_000 // the edge of space
	if m < -highestM || m > highestM {
		s.note("GPSAltitude was dropped: %g m", m)
		return nil
	}
	return &m
}

// bearing returns where the camera looked; nil when not said. Without its reference it is true north's (Exif 2.2, p. 50:
// the default is T), which is noted.
func (s *decodedTags) bearing() *Bearing {
	deg, ok := s.number(exif.GPSImgDirection)
	if !ok {
		return nil
	}
	if deg > 360 {
		s.note("GPSImgDirection was dropped: %g degrees", deg)
		return nil
	}
	if deg == 360 {
		deg = 0
	}
	switch ref := strings.ToUpper(s.text(exif.GPSImgDirectionRef)); ref {
	case "T":
		return &Bearing{Deg: deg, North: NorthTrue}
	case "M":
		return &Bearing{Deg: deg, North: NorthMagnetic}
	case "":
		s.note("GPSImgDirectionRef is not said; true north, by the standard")
		return &Bearing{Deg: deg, North: NorthTrue}
	default:
		s.note("GPSImgDirection was dropped: GPSImgDirectionRef is %q, not T or M", ref)
		return nil
	}
}
