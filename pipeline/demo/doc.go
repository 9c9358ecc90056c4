// Package demo writes a small invented season: places, people, numbers and
// fossils are made up, and the photos are rendered.
//
// You want [Write], which also gives what a run of the season has to come to.
package demo
