// Package look says what may be asked of a vision child and what it answers:
// the lines that travel between the two programs, as JSON, one object a line.
//
// You want [Request] and [Reply]. A request carries exactly one of hello,
// look, refine and draw; its reply carries the same one, or an error. Photo
// coordinates are those of the upright picture throughout. Pixels never
// travel: they pass through files, which the child writes beside their final
// names and the parent renames.
package look
