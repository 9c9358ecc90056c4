package keep

import (
	"errors"
	"fmt"
	"io/fs"
	"os"
)

// CanReplace tells whether a file that a person named may be written: one that is not there, or one in which ours knows the
// program's own work. The error says that it may be somebody else's, and is never nil for a link, a folder or what cannot be read.
func CanReplace(path string, ours func(content []byte) bool) error {
	at, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	if at.Mode().IsRegular() {
		content, err := os.ReadFile(path)
		if err != nil {
			return err
		}
		if ours(content) {
			return nil
		}
	}
	return fmt.Errorf("%s is there already, and nothing in it says that it was made here: name another file", path)
}
