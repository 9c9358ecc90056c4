// Package table reads one sheet of the register as a table: a CSV file, or a sheet of the workbook register.xlsx.
//
// A [Form] says which columns a sheet has. [ReadCSV] and [Book.Sheet] give the same [Sheet] of rows for it, and the methods of a
// [Row] read its cells; what is wrong with a cell is a [register.Problem] of the sheet, with row, column and value.
// [WriteBook] and [WriteText] write workbooks whose cells are all text.
package table
