// Package picture makes JPEG files that carry nothing but the picture.
//
// You want [Clean], which drops all that a file carries beside its picture, resolution and colour profile.
package picture
