// Package scene renders photos of a dig with exact truth, for the demo, tests and trials.
//
// The two functions you want are [Scene.Render], which gives a picture and the [Truth] of it, and phonefile.WritePhoto, which
// writes the picture as the JPEG a phone would have made, with the tags it would have written.
//
// The world is in centimetres: x to the right, y away from the viewer, z up; the ground lies about z = 0. Ground, bones,
// pebbles and plaster lumps are one height field with colours; references are boxes and strings drawn into each pixel by
// ray. Photo points follow package calibrate: the upright picture, x right, y down, (0, 0) the centre of the first pixel.
//
// A picture depends on the scene alone: the same scene gives the same bytes, however many cores draw it. Processors that
// fuse a multiplication with an addition may differ from others in the last bit.
package scene
