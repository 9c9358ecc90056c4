// Package museum hands a season's finds over to a collections database: a Darwin Core archive with the finds, their photos, plates and
// measurements.
//
// You want [Write], which writes the archive and gives a [Report] of what it holds, lacks and withholds. Where things were found is in
// it only where [Options] say so.
package museum
