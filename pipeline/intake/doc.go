// Package intake turns a photo file into what it is and what it says of itself.
//
// The function you want is [Read]: it gives a [Photo] (path, hash, upright size) and a [Capture] (time, position,
// bearing, focal length). What a photo does not say is nil, never zero and never taken from elsewhere: not from the
// file's date, not from this machine's zone, not from its name. What it says badly is dropped, and a note says so.
//
// A file is known by its content. This version reads JPEG; other containers are recognised and named by [ErrUnsupported],
// and their readers belong beside jpeg.go, each handing the EXIF block it found to the same fence.
//
// The bytes of a photo are not trusted. A bounded walk over the segments (jpeg.go) finds the EXIF block, a bounded walk
// over the block (fence.go) copies the wanted and valid tags, listed in one table (fields.go), to a clean block, and only that
// clean block is given to the EXIF library.
package intake
