package intake

import (
	"slices"

	"github.com/rwcarlsen/goexif/exif"
)

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
	whole                 // one whole number, 0 to 4294967295
	rationals             // not negative, denominators not zero
)

// A field is one tag that intake wants.
type field struct {
	in    directory
	tag   uint16
	name  exif.FieldName // the standard's name for it; the EXIF library's key, and in the notes
	kind  kind
	count int // numbers: exactly so many; text: at most so many bytes, the closing NUL included

	xmp string // the property that says the same in an XMP packet, read where EXIF is silent; "": none
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

// lacks names what the EXIF library does not load by itself.
var lacks = []exif.FieldName{offsetTime, offsetTimeOriginal, offsetTimeDigitized, gpsHPositioningError}

// fields is the one list of what is read from EXIF: the fence copies these and nothing else. Tags, directories, types and
// counts are from CIPA DC-008 (Exif 2.32), tables 4, 7, 8, 12 and 15; the XMP properties from CIPA DC-010 (Exif metadata for
// XMP), where one property holds a time with its fraction and offset, a latitude with its letter, an instant with its day. In the
// order of directory and tag.
//
// A camera's serial number is not among them on purpose: it would tie a volunteer's phone to the paper.
var fields = []field{
	{ifd0, 0x010F, exif.Make, text, maxText, "tiff:Make"},
	{ifd0, 0x0110, exif.Model, text, maxText, "tiff:Model"},
	{ifd0, 0x0112, exif.Orientation, small, 1, ""},
	{ifd0, 0x0131, exif.Software, text, maxText, "tiff:Software"},
	{ifd0, 0x0132, exif.DateTime, text, 32, ""},

	{ifdExif, 0x9003, exif.DateTimeOriginal, text, 32, "exif:DateTimeOriginal"},
	{ifdExif, 0x9004, exif.DateTimeDigitized, text, 32, ""},
	{ifdExif, 0x9010, offsetTime, text, 16, ""},
	{ifdExif, 0x9011, offsetTimeOriginal, text, 16, ""},
	{ifdExif, 0x9012, offsetTimeDigitized, text, 16, ""},
	{ifdExif, 0x9291, exif.SubSecTimeOriginal, text, 32, ""},
	{ifdExif, 0xA002, exif.PixelXDimension, whole, 1, "exif:PixelXDimension"},
	{ifdExif, 0xA003, exif.PixelYDimension, whole, 1, "exif:PixelYDimension"},
	{ifdExif, 0xA401, exif.CustomRendered, small, 1, "exif:CustomRendered"},
	{ifdExif, 0xA404, exif.DigitalZoomRatio, rationals, 1, "exif:DigitalZoomRatio"},
	{ifdExif, 0xA405, exif.FocalLengthIn35mmFilm, small, 1, "exif:FocalLengthIn35mmFilm"},
	{ifdExif, 0xA434, exif.LensModel, text, maxText, "exifEX:LensModel"},

	{ifdGPS, 0x01, exif.GPSLatitudeRef, text, 8, ""},
	{ifdGPS, 0x02, exif.GPSLatitude, rationals, 3, "exif:GPSLatitude"},
	{ifdGPS, 0x03, exif.GPSLongitudeRef, text, 8, ""},
	{ifdGPS, 0x04, exif.GPSLongitude, rationals, 3, "exif:GPSLongitude"},
	{ifdGPS, 0x05, exif.GPSAltitudeRef, octet, 1, "exif:GPSAltitudeRef"},
	{ifdGPS, 0x06, exif.GPSAltitude, rationals, 1, "exif:GPSAltitude"},
	{ifdGPS, 0x07, exif.GPSTimeStamp, rationals, 3, "exif:GPSTimeStamp"},
	{ifdGPS, 0x09, exif.GPSStatus, text, 8, "exif:GPSStatus"},
	{ifdGPS, 0x10, exif.GPSImgDirectionRef, text, 8, "exif:GPSImgDirectionRef"},
	{ifdGPS, 0x11, exif.GPSImgDirection, rationals, 1, "exif:GPSImgDirection"},
	{ifdGPS, 0x12, exif.GPSMapDatum, text, 64, "exif:GPSMapDatum"},
	{ifdGPS, 0x1D, exif.GPSDateStamp, date, 32, ""},
	{ifdGPS, 0x1F, gpsHPositioningError, rationals, 1, "exif:GPSHPositioningError"},
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
	found := map[uint16]exif.FieldName{}
	for _, f := range fields {
		if f.in == in && slices.Contains(lacks, f.name) {
			found[f.tag] = f.name
		}
	}
	return found
}

// place is where a field stands in fields.
func place(name exif.FieldName) int {
	return slices.IndexFunc(fields, func(f field) bool { return f.name == name })
}
