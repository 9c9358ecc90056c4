// Package placard writes and reads the square code that names a jacket on a
// placard: a QR code (ISO/IEC 18004) with the project's own prefix, the
// jacket's number and a check character, so that a visitor's code of another
// kind is never taken for a jacket's.
//
// You want [Draw], which gives the dark modules of a jacket's code, and
// [Decode], which reads them again. Both are pure Go; where a code lies in a
// photo is found by package vision.
package placard
