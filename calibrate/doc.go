// Package calibrate turns marks found on a reference of known size into a
// scale: how many picture pixels make a centimetre, and how sure that is.
//
// You want two functions: [Fit], which takes the marks of one reference and
// gives its [Plane] or a [Refusal] that says how to retake the photo, and
// [Plane.At], which gives the [Level] (the reference's own plane, or a plane
// some centimetres behind it) on which lengths and scales are read.
//
// Everything here is arithmetic on coordinates. No pixel is read, nothing is
// printed, and two calls with the same marks give the same bits. Coordinates
// of a photo are those of the upright picture: x right, y down, (0, 0) the
// centre of the top-left pixel. Lengths are centimetres. Every U is an
// expanded uncertainty with k = 2 after JCGM 100:2008 section 6; the small u
// inside the package is a standard uncertainty.
package calibrate
