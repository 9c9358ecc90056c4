package keep

import (
	"errors"
	"fmt"
	"os"
	"time"

	"golang.org/x/sys/windows"
)

// patience is how long a file may be held by what looks at every new file: a
// virus scanner, a program that keeps folders in step.
const patience = 3 * time.Second

// ErrOpenElsewhere says that another program holds the file to be replaced.
var ErrOpenElsewhere = errors.New("it is open in another program, such as a spreadsheet or a PDF viewer: close it there, then run again")

// rename replaces final. Windows refuses that for a file marked read-only, from
// which the mark is taken, and for one that another program has open.
func rename(temp, final string) error {
	writable(final)
	for until := time.Now().Add(patience); ; time.Sleep(100 * time.Millisecond) {
		err := os.Rename(temp, final)
		held := errors.Is(err, windows.ERROR_SHARING_VIOLATION) || errors.Is(err, windows.ERROR_LOCK_VIOLATION) || errors.Is(err, windows.ERROR_ACCESS_DENIED)
		if !held {
			return err
		}
		if time.Now().After(until) {
			if at, gone := os.Lstat(final); gone == nil && at.Mode().IsRegular() {
				return fmt.Errorf("%w (%w)", ErrOpenElsewhere, err)
			}
			return err
		}
	}
}

// writable takes the mark read-only from a regular file.
func writable(path string) {
	if at, err := os.Lstat(path); err == nil && at.Mode().IsRegular() && at.Mode().Perm()&0o200 == 0 {
		_ = os.Chmod(path, at.Mode().Perm()|0o200)
	}
}
