// Package keep writes files whole or not at all.
//
// The two functions you want are [Write], which streams a file into place, and [Commit], which puts a file that a
// child process wrote into place. Whatever happens between (a full disk, a pulled plug, a kill), the file under the
// final name is either the old one or the whole new one. [Sweep] clears what a killed run left behind.
package keep
