// Package evidence weighs what is told of one photo by people, by sheets and by
// the picture itself, and says whose word counts. It reads no files and no
// pixels: values go in and come out.
//
// A [Photo] is a record with what people and sheets say of it: [Photo.DepthToBone] is the
// depth to the bone, [Photo.Squaring] names the squares, [Photo.Arrows] point
// north, [Norths] is how the norths lie to each other, [Photo.Uncover] brings what
// other photos show of the bone under the plaster. [Sizes] settles which reference
// the marks in a photo belong to, and how its size is known.
package evidence
