// Package sheet lays out true-scale pages for the printer and writes them as PDF.
//
// You want [New], which begins a set of sheets, and [Sheets.Write], which ends it. Between them words, tables, pencil
// lines and pictures are added from the top down; a new page begins where they no longer fit, [Sheets.Page] begins one
// by hand. Every sheet carries the set's number, "page n of m" and a line that measures 100 mm when the sheet was printed
// at actual size. The sheets are black on white and are meant to survive a photocopier and a pencil.
//
// Lengths are in mm on paper, y runs down. The same calls give the same bytes: dates come from the caller. The first fault
// is kept and comes back from Write, as nothing can be done about it in between. Pictures are embedded byte for byte, so
// only JPEGs without anything but picture, resolution and colour profile are taken: another could carry a position.
package sheet
