package offload

import (
	"context"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"

	"fieldjacket/pipeline/keep"
)

// copyTo writes a file beside its place, flushes it, reads it back from the disk, compares, and only then names it. Faults of the
// place are errWrite. Whatever happens, nothing half stays.
func (c *copier) copyTo(p *place, at int, f *File, in fs.File, name string, ofSource bool) error {
	if p.stopped = p.unplugged(); p.stopped != nil {
		return errWrite{p.stopped}
	}
	final := p.path(name)
	if err := p.makeFolders(name); err != nil {
		return errWrite{err}
	}
	temp := filepath.Join(p.Dir, unfinished, filepath.Base(keep.TempFor(final)))
	out, err := os.OpenFile(temp, os.O_WRONLY|os.O_CREATE|os.O_EXCL, 0o644)
	if err != nil {
		return errWrite{err}
	}
	defer os.Remove(temp) // after it was named there is none
	sum, err := c.fill(f, in, out, ofSource)
	if err == nil {
		if synced := out.Sync(); synced != nil {
			err = errWrite{synced}
		}
	}
	if closed := out.Close(); err == nil && closed != nil {
		err = errWrite{closed}
	}
	if err != nil {
		return err
	}
	if err := os.Chtimes(temp, f.changed, f.changed); err != nil {
		c.result.Places[at].Undated++
	}
	switch back, err := p.readBack(c.ctx, temp); {
	case err != nil:
		return errWrite{fmt.Errorf("cannot be read back: %w", plain(err))}
	case back != sum:
		return errWrite{errors.New("what was read back differs from what was written: do not trust this disk")}
	}
	if f.SHA256 != "" && sum != f.SHA256 && !ofSource {
		return errDiffers
	}
	if f.SHA256 != "" && sum != f.SHA256 {
		return errors.New("it was read twice with two contents: do not trust this phone's cable, or this card")
	}
	if err := keep.Place(temp, final); err != nil {
		return errWrite{err}
	}
	f.SHA256 = sum
	f.At[at] = At{File: name, Copied: true}
	p.held[f.Bytes] = append(p.held[f.Bytes], &held{file: name, sum: sum})
	p.taken[fold(name)] = true
	return nil
}

// errDiffers says that a place gave other bytes than were read back from it before.
var errDiffers = errors.New("it was read twice with two contents: do not trust this disk")

// fill writes what in holds to out and gives its hash.
func (c *copier) fill(f *File, in fs.File, out io.Writer, ofSource bool) (sum string, err error) {
	to := faulty{out}
	if ofSource {
		return c.read(f, in, to)
	}
	sum, _, err = hashOf(c.ctx, in, to, c.buffer)
	return sum, err
}

// faulty marks the faults of a writer as such.
type faulty struct{ io.Writer }

func (w faulty) Write(b []byte) (int, error) {
	n, err := w.Writer.Write(b)
	if err != nil {
		err = errWrite{err}
	}
	return n, err
}

// unplugged tells that the place's drive is not the one that was there at the beginning: below its folder there is another disk.
func (p *place) unplugged() error {
	if p.Drive == "" {
		return nil
	}
	if now, ok := diskOf(p.Drive); ok != p.known || now != p.disk {
		return fmt.Errorf("%s is not there any more: plug it in and run again", p.Drive)
	}
	return nil
}

// makeFolders makes what lies above a place's file. A link among it would lead elsewhere.
func (p *place) makeFolders(name string) error {
	if err := os.MkdirAll(filepath.Join(p.Dir, unfinished), 0o755); err != nil {
		return err
	}
	folder := filepath.Dir(p.path(name))
	if err := os.MkdirAll(folder, 0o755); err != nil {
		return err
	}
	for ; folder != filepath.Clean(p.Dir); folder = filepath.Dir(folder) {
		if info, err := os.Lstat(folder); err != nil || !info.IsDir() {
			return fmt.Errorf("%s: want a folder, and no link to one", folder)
		}
	}
	return nil
}

// hashOf is the SHA-256 and the length of all that in gives, which out gets too.
func hashOf(ctx context.Context, in io.Reader, out io.Writer, buffer []byte) (digest string, bytes int64, err error) {
	sum := sha256.New()
	for {
		n, err := in.Read(buffer)
		if ctx.Err() != nil {
			return "", 0, ctx.Err()
		}
		bytes += int64(n)
		sum.Write(buffer[:n])
		if _, err := out.Write(buffer[:n]); err != nil {
			return "", 0, err
		}
		if err == io.EOF {
			return hex.EncodeToString(sum.Sum(nil)), bytes, nil
		}
		if err != nil {
			return "", 0, err
		}
	}
}
