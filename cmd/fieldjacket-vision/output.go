//go:build cgo

package main

import "os"

// privateOutput keeps the program's standard output for answers alone: it
// moves it to a descriptor of its own and points descriptor 1 at standard
// error, since C libraries print.
func privateOutput() (*os.File, error) {
	fd, err := moveOutput()
	if err != nil {
		return nil, err
	}
	return os.NewFile(fd, "answers"), nil
}
