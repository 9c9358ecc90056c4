// Package seasonfile reads season.toml.
//
// [Read] gives the [register.Season] that it describes, with a problem for each key that cannot be used; [Empty] is the file of
// a new season.
package seasonfile
