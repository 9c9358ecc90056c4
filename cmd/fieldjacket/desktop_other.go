//go:build !windows

package main

// fromDesktop leaves the arguments as they are: elsewhere programs are started
// by typing their name.
func fromDesktop(args []string) ([]string, bool) { return args, false }
