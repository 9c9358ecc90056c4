package publish

import (
	"bytes"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/paperwork"
)

// WritePage writes the page of the season's last day, to a file, in place of an earlier page at most. The error says
// that no day is known, or that the file may not be written.
func (s Season) WritePage(file string) error {
	day := s.LastDay()
	if day == nil {
		return errors.New("no photo and no line of the diary has a day yet: no page is written")
	}
	photos, errIn := filepath.Abs(s.Dir.Photos())
	at, errAt := filepath.Abs(file)
	if err := errors.Join(errIn, errAt); err != nil {
		return err
	}
	if in, err := filepath.Rel(photos, at); err == nil && filepath.IsLocal(in) {
		return fmt.Errorf("%s: lies among the photos, which are only read: want another place", file)
	}
	switch earlier, err := os.ReadFile(file); {
	case errors.Is(err, fs.ErrNotExist):
	case err != nil:
		return err
	case !bytes.HasPrefix(earlier, []byte("<!doctype html>")):
		return fmt.Errorf("%s: is there and no page: want another name", file)
	}
	return keep.Write(file, 0o644, func(w io.Writer) error { return paperwork.WriteDay(w, *day) })
}
