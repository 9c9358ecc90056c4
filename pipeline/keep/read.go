package keep

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
)

// Read gives a whole file of a person's, or its first most+1 bytes where it is longer. The error wraps [fs.ErrNotExist] only
// where there is nothing of that name: a link that leads nowhere (a disk that is not connected), a folder and a named pipe,
// which would be waited for, are files that cannot be read.
func Read(path string, most int64) ([]byte, error) {
	at, err := os.Stat(path)
	if errors.Is(err, fs.ErrNotExist) {
		if to, err := os.Readlink(path); err == nil {
			return nil, fmt.Errorf("%s: a link to %s, which is not there", path, to)
		}
	}
	if err != nil {
		return nil, err
	}
	if !at.Mode().IsRegular() {
		return nil, fmt.Errorf("%s: %s, not a file", path, kind(at.Mode()))
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	return io.ReadAll(io.LimitReader(f, most+1))
}

// kind says what is no regular file.
func kind(mode fs.FileMode) string {
	switch {
	case mode.IsDir():
		return "a folder"
	case mode&fs.ModeNamedPipe != 0:
		return "a named pipe"
	}
	return "something else"
}
