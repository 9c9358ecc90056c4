// Package picture makes JPEG files that carry nothing but the picture and what is meant to be told of it.
//
// You want [Clean], which drops all that a file carries beside its picture, and [Tagged], which then writes caption, creator, licence and
// resolution into it.
package picture
