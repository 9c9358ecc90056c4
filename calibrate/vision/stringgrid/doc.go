// Package stringgrid finds a grid of strings or wires in a photo: thin lines
// in a reduced picture, a square lattice through them, then the strings at
// full size. [Find] looks for one wherever it is, [Refine] for the strings
// near a plane that a person has set.
//
// It is given pixels and gives marks; decoding and blurring are done by the
// package above, so that all of it runs and is tested without OpenCV.
package stringgrid
