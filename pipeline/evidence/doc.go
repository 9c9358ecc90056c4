// Package evidence weighs what is told of one photo by people, by sheets and by
// the picture itself, and says whose word counts. It reads no files and no
// pixels: values go in and come out.
//
// [Sizes] settles which reference the marks in a photo belong to, and how its
// size is known.
package evidence
