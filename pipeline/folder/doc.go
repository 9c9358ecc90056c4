// Package folder holds the paths of a season's folder, its lock, the listing of
// its photos, and files below paper/ that are written once for the same input.
//
// The type you want is [Dir].
package folder
