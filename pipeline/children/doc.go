// Package children starts the vision children, feeds them, times them out and
// replaces them.
//
// You want [Find], which looks for the second program, and [Start], whose
// [Pool] has one [Child] for each worker; [Child.Ask] sends one request and
// waits for its reply. A child that dies, hangs or runs out of memory costs
// the one request it was on: Ask gives an error that wraps [ErrLost], and the
// next Ask finds a fresh child.
package children
