// Package contour draws level lines of a surface that is known at the nodes of a square net, with holes where it is not.
//
// You want [Surface.Lines]; [Surface.Filled] first, where the surface is measured and has small holes and noise.
package contour
