// Package letters holds the fonts that plates and paper are lettered with, and knows which of them has a letter.
//
// You want [Runs], which splits a text by the font each letter is in and refuses a text with a letter that neither font
// has, and [Wrap], which breaks a text into lines. Nothing is ever drawn with a gap: a number with a letter missing is
// another number. Whoever has to print a text all the same takes [Spell].
//
// The fonts are Go (golang.org/x/image/font/gofont) and, for what that lacks, DejaVu Sans; both may be embedded freely.
package letters
