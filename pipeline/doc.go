// Package pipeline takes every photo of a season through its stages and makes
// the paper.
//
// You want [Open], which opens a season's folder, and [Season.Run], which
// does the work; [Season.Check] tells what each jacket still lacks. The stages
// stand in two lists of named steps in steps.go: first those of one photo,
// then those of the whole season. What a photo has taught is its [Record].
//
// The package reports through a [Reporter] and never prints.
package pipeline
