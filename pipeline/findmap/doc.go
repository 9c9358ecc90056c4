// Package findmap makes the plan of a quarry: where set-ups, finds and jackets lie in the quarry's own grid, metres east and north
// of its datum.
//
// You want Of, which takes the sheets and the photos and gives a Map. Network is what was measured between set-ups, for package
// survey to adjust. A place carries the uncertainty of its set-up's placement, of the photo's plane and of the depth to bone. What
// cannot be placed is told with the reason, never guessed.
//
// Pure: no file is touched. Bearings are degrees clockwise from the quarry's north, uncertainties k = 2.
package findmap
