// Package locate works out where things are and which way north lies: positions as people type them, tracks of a handheld
// receiver, distances on the ground and the magnetic declination.
//
// The two functions you want are [Parse], which reads a typed position or says what is ambiguous about it, and
// [Declination], which turns a magnetic bearing to true. Nothing here shifts a position from one datum to another: what was
// typed on another datum than WGS84 is kept as typed and said to be so.
package locate
