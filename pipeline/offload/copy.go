package offload

import (
	"cmp"
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"slices"
)

// Progress hears of each file before its turn.
type Progress interface {
	Started(files int)
	Photo(file string)
}

// Copy copies what a source has and a place lacks, to each place by itself, and reads back what it says is there. The source
// is read once where the first place is whole. A fault of one file or place stands in the Result and stops no other; the error
// says that nothing could be listed, or that ctx has ended: then the Result holds what was done.
func Copy(ctx context.Context, from Source, to []Place, show Progress) (Result, error) {
	var r Result
	if err := from.list(ctx, &r); err != nil {
		return Result{}, err
	}
	c := copier{ctx: ctx, from: from, result: &r, show: show, buffer: make([]byte, 1<<20)}
	for i, at := range to {
		p := openPlace(ctx, at, c.buffer)
		if p.stopped == nil {
			p.stopped = p.lacksRoom(r.Files)
		}
		r.Places = append(r.Places, State{Name: at.Name, Dir: at.Dir})
		c.places = append(c.places, p)
		if first, ok := diskOf(existing(to[0].Dir)); i > 0 && ok && p.known {
			r.Places[i].SameDisk = first == p.disk
		}
	}
	for _, f := range r.Files {
		f.At = make([]At, len(to))
	}
	show.Started(len(r.Files))
	for _, group := range groups(r.Files) {
		c.copyGroup(group)
		if ctx.Err() != nil || r.Gone {
			break
		}
	}
	for i, p := range c.places {
		_ = os.Remove(p.path(unfinished))
		if p.stopped != nil {
			r.Places[i].Stopped = p.stopped.Error()
		}
	}
	return r, ctx.Err()
}

// notYet stands until a file that a place lacks is there.
const notYet = "not copied yet"

// groups puts photos, their films and sidecars together, in the order of the first of each.
func groups(files []*File) (out [][]*File) {
	at := map[string]int{}
	for _, f := range files {
		i, ok := at[f.group()]
		if !ok || slices.ContainsFunc(out[i], func(o *File) bool { return fold(o.ending()) == fold(f.ending()) }) { // .JPG and .jpg
			i = len(out)
			at[f.group()] = i
			out = append(out, nil)
		}
		out[i] = append(out[i], f)
	}
	for _, group := range out { // the photo first, since the others go by it
		slices.SortStableFunc(group, func(a, b *File) int { return cmp.Compare(order[a.Kind], order[b.Kind]) })
	}
	return out
}

var order = map[Kind]int{Photo: 0, Film: 1, Sidecar: 2}

// A copier takes files to their places.
type copier struct {
	ctx    context.Context
	from   Source
	places []*place
	result *Result
	show   Progress
	buffer []byte
}

// copyGroup takes one group to every place.
func (c *copier) copyGroup(group []*File) {
	for _, f := range group {
		c.show.Photo(f.From)
	}
	for i, p := range c.places {
		if p.stopped != nil {
			continue
		}
		lacking, there := c.lacking(i, group)
		for _, f := range lacking {
			f.At[i].Fault = notYet
		}
		target := c.from.target(group[0].From)
		if p.clashes(target, lacking) { // then the name has a hash in it
			lacking = slices.DeleteFunc(lacking, func(f *File) bool { return !c.sum(f) })
		}
		if len(lacking) == 0 {
			continue
		}
		stem := p.nameFor(target, there, lacking)
		for _, f := range lacking {
			if p.stopped == nil && c.ctx.Err() == nil && !c.result.Gone {
				c.write(i, f, stem+f.ending())
			}
		}
	}
}

// lacking gives those of a group that a place does not hold, and one that it does.
func (c *copier) lacking(at int, group []*File) (lacking []*File, there *held) {
	p := c.places[at]
	for _, f := range group {
		if f.Fault != "" || len(p.held[f.Bytes]) > 0 && !c.sum(f) {
			continue
		}
		if f.SHA256 != "" {
			h, err := p.find(c.ctx, f, there)
			if err != nil {
				return nil, nil
			}
			if h != nil {
				if there == nil {
					there = h
				}
				f.At[at].File = h.file
				continue
			}
		}
		lacking = append(lacking, f)
	}
	return lacking, there
}

// sum hashes a file of the source, once.
func (c *copier) sum(f *File) bool {
	if f.SHA256 != "" {
		return true
	}
	in, err := c.from.files.Open(f.From)
	if err == nil {
		defer in.Close()
		var sum string
		if sum, err = c.read(f, in, io.Discard); err == nil {
			f.SHA256 = sum
			return true
		}
	}
	c.unread(f, err)
	return false
}

// unread keeps why the source did not give a file, and looks whether it is there at all any more.
func (c *copier) unread(f *File, err error) {
	if c.ctx.Err() != nil {
		return
	}
	f.Fault = plain(err).Error()
	if _, err := fs.ReadDir(c.from.files, "."); err != nil {
		c.result.Gone = true
	}
}

// errWrite marks a fault of what is written to.
type errWrite struct{ error }

func (e errWrite) Unwrap() error { return e.error }

// read hashes all of a file of the source while it is written to out, and sees that it has its length. Its date is not compared:
// some phones give another one each time they are asked.
func (c *copier) read(f *File, in io.Reader, out io.Writer) (sum string, err error) {
	sum, bytes, err := hashOf(c.ctx, in, out, c.buffer)
	if err == nil && bytes != f.Bytes {
		err = fmt.Errorf("it gave %d bytes and was listed with %d: the connection failed, or it is still being written", bytes, f.Bytes)
	}
	return sum, err
}

// write copies a file to a place, from an earlier place that has it, else from the source.
func (c *copier) write(at int, f *File, name string) {
	p := c.places[at]
	open := func() (fs.File, error) { return c.from.files.Open(f.From) }
	earlier := -1
	for i, other := range f.At[:at] {
		if other.File != "" {
			open, earlier = func() (fs.File, error) { return os.Open(c.places[i].path(other.File)) }, i
		}
	}
	ofSource := earlier < 0
	in, err := open()
	if err == nil {
		err = c.copyTo(p, at, f, in, name, ofSource)
		in.Close()
	}
	var written errWrite
	switch {
	case err == nil:
	case c.ctx.Err() != nil:
	case errors.As(err, &written):
		f.At[at].Fault = plain(written.error).Error()
		if isFull(err) {
			p.stopped = fmt.Errorf("%w: make room or mend it, and run again", plain(written.error))
		}
	case ofSource:
		c.unread(f, err)
	case errors.Is(err, errDiffers): // then it is whole at neither
		f.At[earlier] = At{Fault: err.Error()}
		f.At[at].Fault = fmt.Sprintf("%s gave another content than was read back from it: %s", c.places[earlier].Dir, notYet)
	default:
		f.At[at].Fault = plain(err).Error()
	}
}
