// Package vision is the only one that touches OpenCV: it decodes a photo,
// finds the marks of references in it, rectifies it and writes JPEG files.
//
// You want [Open], which decodes a [Picture] once, and [Look], which finds
// every reference asked for in it; [Rectify] and [Encode] make plates. No
// OpenCV type leaves the package except inside a Picture or a [Canvas].
//
// OpenCV answers a wrong argument with a C++ exception that ends the whole
// process, so the size and type of every matrix is checked before each call,
// and the program that runs this package is a child that may die. It works on
// one core: a child per core is faster than a library that shares its work out.
package vision
