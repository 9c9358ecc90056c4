// Package phones tells what only all photos of one phone say together: whether its clock is right, which zone it is set to,
// and which of its running numbers were not copied over.
//
// The two functions you want are [Settle], which gives every photo its instant and says from what, and [Gaps].
package phones
