// Package pipeline takes every photo of a season through its stages and has the
// paper written.
//
// You want [Open], which opens a season's folder, and [Season.Run], which
// does the work; [Season.Check] tells what each jacket still lacks. The stages
// stand in lists in steps.go; what is settled for all photos at once stands in
// assemble.go. What a stage does lies in the packages below: package record is
// what is known of one photo, observe looks at it, scale and evidence weigh what
// was seen, plate says what is drawn, publish writes the documents.
//
// The package reports through a [Reporter] and never prints.
package pipeline
