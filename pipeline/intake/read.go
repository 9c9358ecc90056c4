package intake

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
)

// Limits bound what is taken as a photo. The zero value means the defaults.
type Limits struct {
	Pixels int64 // declared width times height; default 250 million
	Bytes  int64 // length of the file; default 1 GiB
}

func (l Limits) orDefaults() Limits {
	if l.Pixels == 0 {
		l.Pixels = 250_000_000
	}
	if l.Bytes == 0 {
		l.Bytes = 1 << 30
	}
	return l
}

// Read reads the photo at the slash path rel in the folder root, within the default [Limits].
//
// known is what an earlier Read gave for rel, or nil; when the file's length and stamp are the same it is not hashed
// again. All else is read anew, which costs a few kilobytes of reading, not the whole file.
//
// The Capture is nil only with an error. The Photo then holds what was known by then; it has its hash with
// [ErrUnsupported] too. Errors begin with rel and wrap [ErrNotPhoto], [ErrUnsupported], [ErrDamaged], [ErrTooLarge] or what the
// system said ([fs.ErrNotExist], [fs.ErrPermission], ...). Whatever the file holds, Read is bounded: memory by some 200 kB,
// time by one pass over the file.
func Read(root, rel string, known *Photo) (Photo, *Capture, error) {
	return ReadWithin(root, rel, known, Limits{})
}

// ReadWithin is [Read] with other limits.
func ReadWithin(root, rel string, known *Photo, limits Limits) (Photo, *Capture, error) {
	photo := Photo{File: rel}
	capture, err := read(&photo, root, known, limits.orDefaults())
	if err != nil {
		var at *fs.PathError
		if errors.As(err, &at) {
			err = at.Err // the path is said once, and without the folder above
		}
		return photo, nil, fmt.Errorf("%s: %w", rel, err)
	}
	return photo, capture, nil
}

func read(photo *Photo, root string, known *Photo, limits Limits) (*Capture, error) {
	if !fs.ValidPath(photo.File) {
		return nil, fmt.Errorf("%w: want a slash path inside the photos folder", fs.ErrInvalid)
	}
	path := filepath.Join(root, filepath.FromSlash(photo.File))
	before, err := os.Stat(path)
	if err != nil {
		return nil, err
	}
	if !before.Mode().IsRegular() { // opening a named pipe would wait for ever
		return nil, fmt.Errorf("%w: %v", ErrNotPhoto, before.Mode().Type())
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	if before, err = f.Stat(); err != nil {
		return nil, err
	}
	photo.Bytes, photo.Stamp = before.Size(), stampOf(before)

	capture, refused := look(photo, f, limits)
	if refused != nil && !errors.Is(refused, ErrUnsupported) {
		return nil, refused
	}
	if known != nil && known.Unchanged(before) {
		photo.SHA256 = known.SHA256
		return capture, refused
	}
	if photo.SHA256, err = hash(f, photo.Bytes); err != nil {
		return nil, err
	}
	after, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !photo.Unchanged(after) {
		photo.SHA256 = ""
		return nil, errStillCopied
	}
	return capture, refused
}

// errStillCopied: the file grew, shrank or was rewritten between the first look and the end of the hash.
var errStillCopied = fmt.Errorf("%w: the file changed while it was read; run again when the copying has ended", ErrDamaged)

// look fills in what the file's start tells.
func look(photo *Photo, f io.ReaderAt, limits Limits) (*Capture, error) {
	if photo.Bytes == 0 {
		if !namedLikePhoto(photo.File) {
			return nil, fmt.Errorf("%w: the file is empty", ErrNotPhoto)
		}
		return nil, fmt.Errorf("%w: the file is empty; copy it again from the phone", ErrDamaged)
	}
	start := make([]byte, sniffBytes)
	n, err := f.ReadAt(start, 0)
	if err != nil && err != io.EOF {
		return nil, err
	}
	photo.Format = container(start[:n])
	switch {
	case photo.Format == "" && namedLikePhoto(photo.File):
		return nil, fmt.Errorf("%w: named like a photo, but its content is none; copy it again from the phone", ErrDamaged)
	case photo.Format == "":
		return nil, ErrNotPhoto
	case photo.Bytes > limits.Bytes:
		return nil, fmt.Errorf("%w: %d bytes, limit %d", ErrTooLarge, photo.Bytes, limits.Bytes)
	case photo.Format != "jpeg":
		return nil, fmt.Errorf("%s photo: %w", photo.Format, ErrUnsupported)
	}
	found, err := walkJPEG(f, photo.Bytes)
	if err != nil {
		return nil, err
	}
	if pixels := int64(found.widthPx) * int64(found.heightPx); pixels > limits.Pixels {
		return nil, fmt.Errorf("%w: declares %d x %d px, limit %d million px", ErrTooLarge,
			found.widthPx, found.heightPx, limits.Pixels/1_000_000)
	}
	capture, orientation, err := say(found.exif)
	if err != nil {
		return nil, err
	}
	photo.WidthPx, photo.HeightPx, photo.Orientation = found.widthPx, found.heightPx, orientation
	if swapsSides(orientation) {
		photo.WidthPx, photo.HeightPx = found.heightPx, found.widthPx
	}
	return capture, nil
}

// hash returns the SHA-256 of exactly the first n bytes, so that a file that grows for ever does not hold it.
func hash(f io.ReaderAt, n int64) (string, error) {
	sum := sha256.New()
	got, err := io.Copy(sum, io.NewSectionReader(f, 0, n))
	if err != nil {
		return "", err
	}
	if got != n {
		return "", errStillCopied
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}
