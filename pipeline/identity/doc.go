// Package identity names a season's finds, jackets, photos and plates so that every export calls the same thing the same.
//
// You want [Of], which gives the [Names] of a season. Each name is a UUID of version 5 (RFC 9562, 5.5) within the season's own:
// from a photo's SHA-256, from the first number that a find or a jacket had, and from a plate's photo, jacket and view.
package identity
