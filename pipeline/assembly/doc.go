// Package assembly settles what no photo of a season tells alone: which are copies of others, when and where each was taken, what it
// belongs to, and what others tell of its grid's size, of the bone under its plaster and of the ground below its strings.
//
// [Season.Assemble] does it for all photos at once, the same for whoever asks, and is called anew whenever more is known of them.
package assembly
