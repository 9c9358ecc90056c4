// Package observe asks the vision program what it sees in a photo and keeps the
// answer. What goes wrong with a photo becomes a note of its record.
//
// A [Photo] is read ([Photo.Read]), looked at ([Photo.Look]) and measured where a
// person put a reference ([Photo.Refine]); [Draw] draws a plate of it.
package observe
