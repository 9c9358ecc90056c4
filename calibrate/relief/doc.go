// Package relief tells how deep ground and bone lie below the strings of a
// grid from two or more photos of it, taken from different places while
// nothing moved: poses from the strings, one least-squares adjustment of all
// photos together, ground seen twice, and what must be refused. Pure Go, no
// pixels: the matches come from the vision program.
//
// Places are (U, V) in cm on the plane of the strings as the first photo's
// [calibrate.Plane] has them, and a depth below it, in cm, positive away from
// the cameras.
package relief
