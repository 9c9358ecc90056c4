// Package overlay draws on an image what makes a photo a plate: the jacket's number, scale bar, headline, north arrow,
// end marks and other labels, the line around the measured area, the title block.
//
// You want [Arrange], which says how large a plate's canvas is and where its picture goes, and [Draw], which draws
// everything else around and upon the picture. Every word comes from the [look.Plate]; the same plate gives the same
// bytes. Nothing is lettered on the picture: it is bone.
//
// Sizes are in millimetres of the printed plate, since a plate is read on paper; a plate's pixels per millimetre follow
// from its picture, see [Layout].
package overlay
