// Package figure works out where on a plate its directions and places lie: north, the ends, the three ups, the squares of
// a grid, outlines brought over from another photo, tape checks; and what a level below the reference does to lengths.
//
// You want [Lay], which takes places of a photo to its plate, and [North], the one function that may turn one north into
// another. It decides nothing that a person has not said: what is not given is not drawn, and signs that contradict each
// other draw nothing.
package figure
