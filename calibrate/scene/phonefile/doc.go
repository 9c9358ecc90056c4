// Package phonefile writes pictures as a phone would have: JPEG files with the tags of their camera, time, place and orientation.
package phonefile
