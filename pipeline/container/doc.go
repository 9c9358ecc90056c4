// Package container finds the way in a picture file: what kind of container it is, the picture's size, its EXIF block and its XMP
// packet.
//
// [FormatOf] names the container by a file's first bytes, and [Walks] has a walk for each that is read: JPEG, HEIC, PNG, TIFF
// and WebP. Each walk is bounded, whatever the bytes are, and gives a [Head]. Nothing of what the blocks say is taken from them here:
// package intake does that. A HEIC's picture is looked through for bytes that HEVC never writes ([CodedPicture.CheckWhole]).
package container
