package intake

import "github.com/rwcarlsen/goexif/exif"

// A directory of the EXIF block.
type directory int

const (
	ifd0 directory = iota
	ifdExif
	ifdGPS
	directories
)

var directoryNames = [directories]string{"IFD0", "Exif", "GPS"}

// A kind is how the clean block holds a value, and so what a stored value must be convertible to.
type kind int

const (
	text      kind = iota // any ASCII or UTF-8, cut at the first NUL, blanks around it off; never empty
	date                  // as text, but a NUL between digits counts as a colon: some cameras write them so
	small                 // one whole number, 0 to 65535
	octet                 // one whole number, 0 to 255
	rationals             // not negative, denominators not zero
)

// A field is one tag that intake wants.
type field struct {
	in    directory
	tag   uint16
	name  exif.FieldName // the standard's name for it; the EXIF library's key, and in the notes
	kind  kind
	count int // numbers: exactly so many; text: at most so many bytes, the closing NUL included
}

// maxText bounds the texts that the standard leaves open.
const maxText = 128

// The names that the EXIF library lacks.
const (
	offsetTime           exif.FieldName = "OffsetTime"
	offsetTimeOriginal   exif.FieldName = "OffsetTimeOriginal"
	offsetTimeDigitized  exif.FieldName = "OffsetTimeDigitized"
	gpsHPositioningError exif.FieldName = "GPSHPositioningError"
)

// fields is the one list of what is read from EXIF: the fence copies these and nothing else. Tags, directories, types and
// counts are from CIPA DC-008 (Exif 2.32), tables 4, 7, 8, 12 and 15. In the order of directory and tag.
//
// A camera's serial number is not among them on purpose: it would tie a volunteer's phone to the paper.
var fields = []field{
	{ifd0, 0x010F, exif.Make, text, maxText},
	{ifd0, 0x0110, exif.Model, text, maxText},
	{ifd0, 0x0112, exif.Orientation, small, 1},
	{ifd0, 0x0131, exif.Software, text, maxText},
	{ifd0, 0x0132, exif.DateTime, text, 32},

	{ifdExif, 0x9003, exif.DateTimeOriginal, text, 32},
	{ifdExif, 0x9004, exif.DateTimeDigitized, text, 32},
	{ifdExif, 0x9010, offsetTime, text, 16},
	{ifdExif, 0x9011, offsetTimeOriginal, text, 16},
	{ifdExif, 0x9012, offsetTimeDigitized, text, 16},
	{ifdExif, 0x9291, exif.SubSecTimeOriginal, text, 32},
	{ifdExif, 0xA404, exif.DigitalZoomRatio, rationals, 1},
	{ifdExif, 0xA405, exif.FocalLengthIn35mmFilm, small, 1},

	{ifdGPS, 0x01, exif.GPSLatitudeRef, text, 8},
	{ifdGPS, 0x02, exif.GPSLatitude, rationals, 3},
	{ifdGPS, 0x03, exif.GPSLongitudeRef, text, 8},
	{ifdGPS, 0x04, exif.GPSLongitude, rationals, 3},
	{ifdGPS, 0x05, exif.GPSAltitudeRef, octet, 1},
	{ifdGPS, 0x06, exif.GPSAltitude, rationals, 1},
	{ifdGPS, 0x07, exif.GPSTimeStamp, rationals, 3},
	{ifdGPS, 0x09, exif.GPSStatus, text, 8},
	{ifdGPS, 0x10, exif.GPSImgDirectionRef, text, 8},
	{ifdGPS, 0x11, exif.GPSImgDirection, rationals, 1},
	{ifdGPS, 0x12, exif.GPSMapDatum, text, 64},
	{ifdGPS, 0x1D, exif.GPSDateStamp, date, 32},
	{ifdGPS, 0x1F, gpsHPositioningError, rationals, 1},
}

// fieldFor returns the place in fields of a tag in a directory, or -1 when it is not wanted.
func fieldFor(in directory, tag uint16) int {
	for i, f := range fields {
		if f.in == in && f.tag == tag {
			return i
		}
	}
	return -1
}

// libraryLacks is the part of fields that the EXIF library does not load by itself, as its LoadTags wants it.
func libraryLacks(in directory) map[uint16]exif.FieldName {
	lacks := map[uint16]exif.FieldName{}
	for _, f := range fields {
		switch f.name {
		case offsetTime, offsetTimeOriginal, offsetTimeDigitized, gpsHPositioningError:
			if f.in == in {
				lacks[f.tag] = f.name
			}
		}
	}
	return lacks
}
