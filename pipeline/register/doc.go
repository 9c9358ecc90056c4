// Package register reads what the crew wrote down: season.toml and the sheets of finds, jackets, set-ups, localities,
// diary and words on photos.
//
// The two functions you want are [Read], which gives a [Register] and every fault of the sheets at once, and [Template],
// which writes an empty season folder that explains itself.
//
// A find is not a jacket: a jacket may hold several finds, and a find may lie in several jackets. Numbers of finds and
// jackets are any text and are never parsed for a meaning. A cell that was left blank is nil or "", which means "not
// recorded"; nothing is filled in for it. A row that cannot be used costs that row, a cell that cell, and each is a
// [Problem] with its file, row, column, value and what is allowed.
//
// A sheet is read from CSV (sheet.go, heads.go) or from the workbook (book.go, bookcell.go, bookview.go) into the same rows. What spreadsheets do to
// numbers is recognised in damage.go and, by a cell's type and number format, in bookcell.go; ranges in the diary in span.go. Words said later stand in package words.
package register
