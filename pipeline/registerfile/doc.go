// Package registerfile reads a season's register from its folder, and makes the folder of a new one.
//
// [Read] takes season.toml (package seasonfile), the sheets (package table) and the jackets carried over from earlier seasons
// together into one [register.Register], checks them against each other and tells every fault with file, row and column.
// [Template] writes an empty season.
package registerfile
