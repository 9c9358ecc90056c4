// Package publish writes the documents of a season: packets, labels, lists, the
// workbook and pages. [Write] is all of it; what each sheet says stands in package
// paperwork.
package publish
