//go:build cgo

package vision

/*
#cgo CXXFLAGS: -std=c++11
#cgo pkg-config: opencv4
#include "threads.h"
*/
import "C"

import "gocv.io/x/gocv"

// OneThread keeps OpenCV to one thread. Call it once, at the start.
func OneThread() { C.fieldjacket_one_thread() }

// OpenCV is the version of the library that is loaded.
func OpenCV() string { return gocv.OpenCVVersion() }
