package intake

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"unicode/utf8"

	"fieldjacket/pipeline/container"
)

// MaxPixels is the largest picture that is taken as a photo, unless other [Limits] are given.
const MaxPixels = 250_000_000

// Limits bound what is taken as a photo. The zero value means the defaults.
type Limits struct {
	Pixels int64 // declared width times height; default MaxPixels
	Bytes  int64 // length of the file; default 1 GiB
}

func (l Limits) orDefaults() Limits {
	if l.Pixels == 0 {
		l.Pixels = MaxPixels
	}
	if l.Bytes == 0 {
		l.Bytes = 1 << 30
	}
	return l
}

// Read reads the photo at the slash path rel in the folder root, within the default [Limits].
//
// known is what an earlier Read gave for rel, or nil; when the file's length and state are the same it is not hashed
// again. All else is read anew, which costs a few kilobytes of reading, not the whole file.
//
// The Capture is nil only with an error. The Photo then holds what was known by then; it has its hash with
// [container.ErrUnsupported] too. Errors begin with rel and wrap [ErrNotPhoto], [ErrLinked], [container.ErrUnsupported], [container.ErrDamaged], [ErrTooLarge], [ErrChanging] or what the
// system said ([fs.ErrNotExist], [fs.ErrPermission], ...). Whatever the file holds, Read is bounded: memory by some 200 kB,
// time by one pass over the file, over a HEIC's picture by one more.
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

// Glance gives what the photo at the slash path rel in the folder root says of its taking, from its first kilobytes: that it is
// whole is not seen. Errors are those of [Read], without rel before them.
func Glance(root, rel string) (*Capture, error) {
	photo := Photo{File: rel}
	f, _, err := photo.open(root)
	if err != nil {
		return nil, err
	}
	defer f.Close()
	capture, _, err := walked(&photo, f, Limits{}.orDefaults())
	return capture, err
}

// open opens the file and fills in what the disk says of it.
func (p *Photo) open(root string) (*os.File, fs.FileInfo, error) {
	if !utf8.ValidString(p.File) {
		return nil, nil, ErrName
	}
	if !fs.ValidPath(p.File) {
		return nil, nil, fmt.Errorf("%w: want a slash path inside the photos folder", fs.ErrInvalid)
	}
	path := filepath.Join(root, filepath.FromSlash(p.File))
	info, err := os.Stat(path)
	if err != nil {
		return nil, nil, err
	}
	if _, err := os.Readlink(path); err == nil && info.IsDir() {
		return nil, nil, ErrLinked
	}
	if !info.Mode().IsRegular() { // opening a named pipe would wait for ever
		return nil, nil, fmt.Errorf("%w: %v", ErrNotPhoto, info.Mode().Type())
	}
	f, err := os.Open(path)
	if err != nil {
		return nil, nil, err
	}
	if info, err = f.Stat(); err != nil {
		f.Close()
		return nil, nil, err
	}
	p.Bytes, p.FileState = info.Size(), fileStateOf(info)
	return f, info, nil
}

func read(photo *Photo, root string, known *Photo, limits Limits) (*Capture, error) {
	f, before, err := photo.open(root)
	if err != nil {
		return nil, err
	}
	defer f.Close()

	capture, found, refused := walked(photo, f, limits)
	if refused != nil && !errors.Is(refused, container.ErrUnsupported) {
		return nil, refused
	}
	if known != nil && known.Unchanged(before) && (found.Coded == nil || known.Intact) {
		photo.SHA256, photo.CutShort, photo.Intact = known.SHA256, known.CutShort, known.Intact
		return photo.whole(capture, refused)
	}
	end := &endWatch{from: found.Scan}
	if photo.SHA256, err = hash(f, photo.Bytes, end); err != nil {
		return nil, err
	}
	photo.CutShort = found.Scan > 0 && !end.seen
	spoilt := found.Coded.CheckWhole()
	photo.Intact = found.Coded != nil && spoilt == nil
	after, err := f.Stat()
	if err != nil {
		return nil, err
	}
	if !photo.Unchanged(after) {
		photo.SHA256 = ""
		return nil, ErrChanging
	}
	if spoilt != nil {
		return nil, spoilt
	}
	return photo.whole(capture, refused)
}

// whole refuses a photo whose end is missing.
func (p *Photo) whole(capture *Capture, refused error) (*Capture, error) {
	if refused == nil && p.CutShort {
		return nil, container.ErrCutShort
	}
	return capture, refused
}

// walked fills in what the walk over the container tells, and gives what it found.
func walked(photo *Photo, f io.ReaderAt, limits Limits) (capture *Capture, found container.Head, err error) {
	if photo.Bytes == 0 {
		if !container.NamedLikePhoto(photo.File) {
			return nil, found, fmt.Errorf("%w: the file is empty", ErrNotPhoto)
		}
		return nil, found, fmt.Errorf("%w: the file is empty", container.ErrDamaged)
	}
	start := make([]byte, container.StartBytes)
	n, err := f.ReadAt(start, 0)
	if err != nil && err != io.EOF {
		return nil, found, err
	}
	photo.Format = container.FormatOf(start[:n])
	switch {
	case photo.Format == "" && container.NamedLikePhoto(photo.File):
		return nil, found, fmt.Errorf("%w: %s", container.ErrDamaged, container.NoPicture(start[:n]))
	case photo.Format == "":
		return nil, found, ErrNotPhoto
	case photo.Bytes > limits.Bytes:
		return nil, found, fmt.Errorf("%w: %d bytes, limit %d", ErrTooLarge, photo.Bytes, limits.Bytes)
	case photo.Format == "raw":
		return nil, found, container.ErrRaw
	}
	walk, ok := container.Walks[photo.Format]
	if !ok {
		return nil, found, fmt.Errorf("%s photo: %w", photo.Format, container.ErrUnsupported)
	}
	found, err = walk(f, photo.Bytes)
	if err != nil {
		return nil, found, err
	}
	if pixels := int64(found.WidthPx) * int64(found.HeightPx); pixels > limits.Pixels {
		return nil, found, fmt.Errorf("%w: declares %d x %d px, limit %d million px", ErrTooLarge,
			found.WidthPx, found.HeightPx, limits.Pixels/1_000_000)
	}
	capture, orientation, err := captureOf(found)
	if err != nil {
		return nil, found, err
	}
	photo.WidthPx, photo.HeightPx, photo.Orientation = found.WidthPx, found.HeightPx, orientation
	if swapsSides(orientation) {
		photo.WidthPx, photo.HeightPx = found.HeightPx, found.WidthPx
	}
	return capture, found, nil
}

// hash returns the SHA-256 of exactly the first n bytes, so that a file that grows for ever does not hold it, and shows them
// to watch.
func hash(f io.ReaderAt, n int64, watch io.Writer) (string, error) {
	sum := sha256.New()
	got, err := io.Copy(io.MultiWriter(sum, watch), io.NewSectionReader(f, 0, n))
	if err != nil {
		return "", err
	}
	if got != n {
		return "", ErrChanging
	}
	return hex.EncodeToString(sum.Sum(nil)), nil
}

// An endWatch looks for the marker that ends a JPEG's picture (T.81 B.1.1.2: EOI; within the picture FF is never followed by D9)
// from a place on. A file cut short has none.
type endWatch struct {
	at, from int64
	last     byte
	seen     bool
}

func (w *endWatch) Write(p []byte) (int, error) {
	if rest := p[min(int64(len(p)), max(0, w.from-w.at)):]; len(rest) > 0 && !w.seen {
		w.seen = w.last == 0xFF && rest[0] == container.MarkerEOI || bytes.Contains(rest, []byte{0xFF, container.MarkerEOI})
		w.last = rest[len(rest)-1]
	}
	w.at += int64(len(p))
	return len(p), nil
}
