// Package plate writes every word on a plate. It reads no files and no pixels:
// values go in and come out.
//
// [Compose] gives the plates of a photo, each with its key.
package plate
