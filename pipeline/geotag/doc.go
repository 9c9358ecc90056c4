// Package geotag gives the photos of a season their time and place, and tells
// what of phones, tracks and places a person may want to look into.
//
// [Times] comes first, since what a photo belongs to depends on it; then
// [Places]; [Compare] holds the phones against each other once all is known.
package geotag
