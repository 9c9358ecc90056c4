// Package scale makes of the marks found in a photo what they tell of its
// scale. It reads no files and no pixels: values go in and come out.
//
// [Fit] is all of it; [Input.Manual] is what a reference set by hand comes to.
package scale
