// Package imagefile makes pixels of a photo's file and files of pixels: [Decode]
// for JPEG, PNG, TIFF, WebP and HEIC, with the colour profile that a plate
// carries on; [JPEG], [PNG] and [TIFF] with their resolution.
package imagefile
