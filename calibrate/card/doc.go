// Package card is the pattern of our own printed card, and of the tiles at the
// corners of a frame: which squares are dark, which of the light ones carry a
// dot, and how the squares read in a photo tell which card or tile it is and
// which way round it lies.
//
// You want two functions: [Family.Dot], which draws a pattern, and
// [Family.Decode], which reads one. Both belong to [Cards] and [Tiles].
//
// A pattern is a field of squares, dark where column and row add up to an even
// number, so that all four corners are dark. Each light square is empty or
// holds one dark dot; these bits are the identity, the orientation and the
// position in one. Columns run to the right and rows down as the card lies face
// up with its arrow pointing up the page, so the arrow points towards row 0 and
// beyond; a tile lies so when its name can be read. Nothing here knows pixels
// or paper.
package card
