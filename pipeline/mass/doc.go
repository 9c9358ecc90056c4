// Package mass estimates what a package weighs, from its size and rock. You want [Of], and [Estimate.String] to print it.
//
// An estimate is a range, never a permission: its upper end is the whole box, full of the heaviest rock of its kind, in a
// jacket that is still wet. Who lifts weighs or test-lifts first.
package mass
