// Package carryover writes a jacket that goes on into another season as a
// bundle of its rows, words and pictures, and reads it there.
//
// [Pack] and [Bundle.Write] make one; [Packet] gives its paper.
package carryover
