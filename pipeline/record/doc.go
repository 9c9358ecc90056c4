// Package record holds what is known of one photo, and its files.
//
// The type you want is [Record]: each field is written by one stage. [Load]
// reads those of the runs before, [Record.Save] keeps one.
package record
