package diagnostic

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/record"
)

// Paths gives the file of each photo's overlay, empty texts where none
// is asked for. One photo's is the file named, or lies in the folder named;
// several photos' lie in the folder named, which is made where it is missing.
// A file that is there already is replaced only where it is an overlay; the
// error says which is not.
func Paths(to string, photos []string) ([]string, error) {
	out := make([]string, len(photos))
	if to == "" {
		return out, nil
	}
	at, err := os.Stat(to)
	folder := err == nil && at.IsDir()
	if len(photos) == 1 && !folder {
		out[0] = to
		return out, mayWrite(to, photos)
	}
	if err == nil && !folder {
		return nil, fmt.Errorf("%s is a file: for several photos name a folder", to)
	}
	if ending := strings.ToLower(filepath.Ext(to)); !folder && isJPEGName(ending) {
		return nil, fmt.Errorf("%s: for %d photos name a folder, not a file", to, len(photos))
	}
	for i, photo := range photos {
		base := record.Stem(filepath.ToSlash(photo))
		path := filepath.Join(to, base+"-overlay.jpg")
		for n := 2; slices.Contains(out[:i], path); n++ {
			path = filepath.Join(to, fmt.Sprintf("%s-overlay-%d.jpg", base, n))
		}
		if out[i] = path; folder {
			if err := mayWrite(path, photos); err != nil {
				return nil, err
			}
		}
	}
	return out, os.MkdirAll(to, 0o755)
}

func isJPEGName(ending string) bool { return ending == ".jpg" || ending == ".jpeg" }

// mayWrite tells whether an overlay may be written to a path: a new file, or
// one that an overlay was written to before. It is never a photo.
func mayWrite(path string, photos []string) error {
	if !isJPEGName(strings.ToLower(filepath.Ext(path))) {
		return fmt.Errorf("%s: an overlay is a JPEG: name it .jpg", path)
	}
	if folder, err := os.Stat(filepath.Dir(path)); err != nil || !folder.IsDir() {
		return fmt.Errorf("%s: there is no such folder", filepath.Dir(path))
	}
	at, err := os.Lstat(path)
	if errors.Is(err, fs.ErrNotExist) {
		return nil
	}
	if err != nil {
		return err
	}
	for _, photo := range photos {
		if original, err := os.Stat(photo); err == nil && os.SameFile(at, original) {
			return fmt.Errorf("%s is the photo itself: originals are never written to", path)
		}
	}
	refused := fmt.Errorf("%s is there already and is no overlay: name another file", path)
	if !at.Mode().IsRegular() {
		return refused
	}
	f, err := os.Open(path)
	if err != nil {
		return err
	}
	defer f.Close()
	head, err := io.ReadAll(io.LimitReader(f, 64))
	if err != nil {
		return err
	}
	if !look.IsOverlay(head) {
		return refused
	}
	return nil
}
