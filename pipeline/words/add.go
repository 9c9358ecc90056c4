package words

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strings"

	"fieldjacket/pipeline/keep"
)

// write writes a text to the log. Tests make the disk full here.
var write = (*os.File).WriteString

// add puts whole lines behind the log's last, all or none, and has flushed them to the disk when it returns: where they cannot
// be written the log is again as it was. It makes the log when there is none. more is told the number of the first line and
// gives the lines.
func add(path string, more func(number int) string) error {
	before, err := keep.Read(path, maxBytes)
	isNew := errors.Is(err, fs.ErrNotExist)
	if err != nil && !isNew {
		return err
	}
	text := closing(before, isNew)
	text += more(1 + bytes.Count(before, []byte("\n")) + strings.Count(text, "\n"))
	if len(before)+len(text) > maxBytes {
		return fmt.Errorf("%s: is full at %d MB", path, maxBytes>>20)
	}
	f, err := os.OpenFile(path, os.O_WRONLY|os.O_CREATE|os.O_APPEND, 0o644)
	if err != nil {
		return err
	}
	defer f.Close()
	if _, err = write(f, text); err == nil {
		err = f.Sync()
	}
	if err == nil && isNew {
		err = keep.Named(path)
	}
	if err != nil {
		return errors.Join(fmt.Errorf("%s: nothing was kept: %w", path, err), putBack(f, int64(len(before)), isNew))
	}
	return nil
}

// putBack makes the log what it was before a write that failed: half a word must not stand, and no word of several.
func putBack(f *os.File, size int64, isNew bool) error {
	err := f.Truncate(size)
	if err == nil {
		err = f.Sync()
	}
	if isNew {
		err = errors.Join(err, os.Remove(f.Name()))
	}
	if err != nil {
		return fmt.Errorf("and what was half written could not be taken back: %w", err)
	}
	return nil
}
