// Package withhold keeps positions, owners and permits off paper that is passed on: whole cells of columns that the register
// does not know, by their head or by what they hold, and positions within any other text.
//
// [Copy] gives what may be printed of a value; [Explain] says what that leaves out.
package withhold
