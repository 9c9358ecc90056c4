// Package intake turns a photo file into what it is and what it says of itself.
//
// The function you want is [Read]: it gives a [Photo] (path, hash, upright size) and a [Capture] (time, position,
// bearing, focal length). What a photo does not say is nil, never zero and never taken from elsewhere: not from the
// file's date, not from this machine's zone, not from its name. What it says badly is dropped, and a note says so.
//
// A file is known by its content. JPEG, HEIC, PNG, TIFF and WebP are read; other containers, cameras' raw files among them,
// are recognised and named by [container.ErrUnsupported].
//
// The bytes of a photo are not trusted. Package container walks a bounded way to the size, the EXIF block and the XMP packet.
// A bounded walk over the block (fence.go) copies the wanted and valid tags, listed in one table (fields.go), to a clean block;
// of fields on which EXIF is silent the packet is asked (xmpfill.go); and only the clean block is given to the EXIF library.
// [Photo].Intact keeps that a HEIC's picture was looked through. What is known against a picture's geometry stands in
// [Capture].Shape.
package intake
