package intake

import (
	"fmt"
	"math"
	"regexp"
	"slices"
	"strconv"
	"strings"
	"time"

	"github.com/rwcarlsen/goexif/exif"
)

// together are fields that mean nothing apart: XMP gives all of a group or none, so that no value is mixed of two sources.
var together = [][]exif.FieldName{
	{exif.DateTimeOriginal, exif.SubSecTimeOriginal, offsetTimeOriginal, offsetTimeDigitized, offsetTime, exif.DateTimeDigitized, exif.DateTime},
	{exif.GPSLatitude, exif.GPSLatitudeRef, exif.GPSLongitude, exif.GPSLongitudeRef, exif.GPSStatus, exif.GPSMapDatum,
		gpsHPositioningError, exif.GPSAltitude, exif.GPSAltitudeRef},
	{exif.GPSTimeStamp, exif.GPSDateStamp},
	{exif.GPSImgDirection, exif.GPSImgDirectionRef},
	{exif.PixelXDimension, exif.PixelYDimension},
	{exif.Make, exif.Model, exif.LensModel, exif.FocalLengthIn35mmFilm, exif.DigitalZoomRatio, exif.CustomRendered},
}

// fill gives values what an XMP packet says of fields on which EXIF is silent. What it says badly costs that field and is noted.
func fill(values []*validTag, says map[string]string, doubts *notes) {
	taken := map[exif.FieldName]bool{} // EXIF speaks of these, or of one that goes with them
	for i, f := range fields {
		if values[i] == nil {
			continue
		}
		taken[f.name] = true
		for _, group := range together {
			if slices.Contains(group, f.name) {
				for _, name := range group {
					taken[name] = true
				}
			}
		}
	}
	for _, f := range fields {
		said := says[f.xmp]
		if f.xmp == "" || said == "" || taken[f.name] {
			continue
		}
		got, err := fromXMP(f, said)
		if err != nil {
			doubts.add(fmt.Sprintf("%s of the XMP packet was not read: %q is %v", f.name, said, err))
		}
		for name, v := range got {
			values[place(name)] = v
		}
	}
}

// fromXMP converts a property's text to what EXIF would hold of it, in one field or several.
func fromXMP(f field, said string) (map[exif.FieldName]*validTag, error) {
	one := func(v *validTag) map[exif.FieldName]*validTag { return map[exif.FieldName]*validTag{f.name: v} }
	switch f.name {
	case exif.DateTimeOriginal:
		return xmpTime(said)
	case exif.GPSTimeStamp:
		return xmpInstant(said)
	case exif.GPSLatitude:
		return xmpAngle(said, f.name, exif.GPSLatitudeRef)
	case exif.GPSLongitude:
		return xmpAngle(said, f.name, exif.GPSLongitudeRef)
	}
	switch f.kind {
	case text, date:
		said = plain([]byte(said), false)
		if said == "" || len(said) >= f.count {
			return nil, fmt.Errorf("%d bytes long, at most %d are read", len(said), f.count-1)
		}
		return one(&validTag{text: said}), nil
	case rationals:
		over, under, ok := strings.Cut(said, "/")
		if !ok {
			under = "1"
		}
		n, err1 := strconv.ParseUint(over, 10, 32)
		d, err2 := strconv.ParseUint(under, 10, 32)
		if err1 != nil || err2 != nil || d == 0 || f.count != 1 {
			return nil, fmt.Errorf("no ratio")
		}
		return one(&validTag{numbers: []uint32{uint32(n), uint32(d)}}), nil
	default:
		bits := map[kind]int{small: 16, octet: 8, whole: 32}[f.kind]
		n, err := strconv.ParseUint(said, 10, bits)
		if err != nil {
			return nil, fmt.Errorf("no whole number in its range")
		}
		return one(&validTag{numbers: []uint32{uint32(n)}}), nil
	}
}

// isoTime is a date and time as XMP writes them (ISO 16684-1, 8.2.1.2).
var isoTime = regexp.MustCompile(`^(\d{4})-(\d\d)-(\d\d)T(\d\d:\d\d)(:\d\d)?(?:\.(\d{1,9}))?(Z|[+-]\d\d:\d\d)?$`)

func xmpTime(said string) (map[exif.FieldName]*validTag, error) {
	m := isoTime.FindStringSubmatch(said)
	if m == nil {
		return nil, fmt.Errorf("not of the form YYYY-MM-DDThh:mm:ss")
	}
	if m[5] == "" {
		m[5] = ":00"
	}
	got := map[exif.FieldName]*validTag{exif.DateTimeOriginal: {text: m[1] + ":" + m[2] + ":" + m[3] + " " + m[4] + m[5]}}
	if m[6] != "" {
		got[exif.SubSecTimeOriginal] = &validTag{text: m[6]}
	}
	if m[7] != "" {
		got[offsetTimeOriginal] = &validTag{text: m[7]}
	}
	return got, nil
}

func xmpInstant(said string) (map[exif.FieldName]*validTag, error) {
	at, err := time.Parse(time.RFC3339Nano, said)
	if err != nil || at.Year() < 1 || at.Year() > 9999 {
		return nil, fmt.Errorf("not of the form YYYY-MM-DDThh:mm:ssZ")
	}
	at = at.UTC()
	micros := uint32(at.Second())*1e6 + uint32(at.Nanosecond()/1000)
	return map[exif.FieldName]*validTag{
		exif.GPSDateStamp: {text: at.Format("2006:01:02")},
		exif.GPSTimeStamp: {numbers: []uint32{uint32(at.Hour()), 1, uint32(at.Minute()), 1, micros, 1e6}},
	}, nil
}

// coordinate is a latitude or longitude as XMP writes it: "30,15.507S" or "30,15,30S" (CIPA DC-010, GPSCoordinate).
var coordinate = regexp.MustCompile(`^(\d{1,3}),(\d{1,2}(?:\.\d{1,12})?)(?:,(\d{1,2}(?:\.\d{1,12})?))?([NSEW])$`)

func xmpAngle(said string, name, ref exif.FieldName) (map[exif.FieldName]*validTag, error) {
	m := coordinate.FindStringSubmatch(said)
	if m == nil {
		return nil, fmt.Errorf("not of the form DD,MM.mmmK or DD,MM,SSK")
	}
	const fine = 10_000_000 // a ten-millionth of a minute is 0.2 mm
	deg, _ := strconv.ParseUint(m[1], 10, 32)
	minutes, _ := strconv.ParseFloat(m[2], 64)
	seconds, _ := strconv.ParseFloat("0"+m[3], 64)
	return map[exif.FieldName]*validTag{
		name: {numbers: []uint32{uint32(deg), 1, uint32(math.Round(minutes * fine)), fine, uint32(math.Round(seconds * fine)), fine}},
		ref:  {text: m[4]},
	}, nil
}
