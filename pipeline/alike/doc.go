// Package alike tells which photos show the same picture: copies that a chat program has reduced, and shots of one view taken at
// one go.
//
// The two functions you want are [Originals] and [Bursts]. Both go by small pictures ([look.Content]) that were made when a photo
// was looked at.
package alike
