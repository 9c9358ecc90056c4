package card

// CodeMm is the side of a code in a card's panel, with the white round it.
const CodeMm = 44.0

// CodesAtMm are the corners of the panel's two codes, with the white round
// them, from the corner of the field: to the right and down, as the card lies
// with its arrow up the page.
var CodesAtMm = [2][2]float64{{-11, 100}, {99, 100}}
