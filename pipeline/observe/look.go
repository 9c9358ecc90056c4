package observe

import (
	"cmp"
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"slices"
	"strconv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
)

// A Photo is one photo that is looked at.
type Photo struct {
	*record.Record
	Folder     string                // of the photos
	Season     folder.Dir            // "": the photo belongs to none, and nothing is kept
	Refs       []calibrate.Reference // looked for
	Considered bool                  // what was considered is told too
	Child      *children.Child       // nil: there is no vision program
	OpenCV     string                // the library's version
	Looked     bool                  // by [Photo.Look]

	found []look.Found // one for each reference that pixels are read for
}

// Sought are the references that pixels are read for, in the order of [Photo.Marks].
func (p *Photo) Sought() (refs []calibrate.Reference) {
	for _, ref := range p.Refs {
		if ref.Kind != calibrate.KindPoints {
			refs = append(refs, ref)
		}
	}
	return refs
}

// LookReads is the photo's content and way up, what is looked for, and the
// library that looks. Names and tolerances of references change nothing here.
func (p *Photo) LookReads() any {
	refs := p.Sought()
	for i := range refs {
		refs[i].Name, refs[i].ToleranceCm, refs[i].CheckLineMm = "", nil, nil
		if refs[i].TilesInCm != nil {
			refs[i].TilesInCm = new(float64) // that there are tiles, not where
		}
	}
	return []any{p.Photo.SHA256, p.Photo.Orientation, p.Camera(), refs, p.OpenCV}
}

func (p *Photo) LookStands() bool {
	if p.HasNote("look", true) {
		return true // there was nothing to write
	}
	for _, path := range []string{p.marksPath(), p.previewPath(), p.smallPath()} {
		if _, err := os.Stat(path); path != "" && err != nil {
			return false
		}
	}
	return true
}

func (p *Photo) marksPath() string {
	if p.Season == "" {
		return ""
	}
	return p.Season.Paper(record.MarksFile(p.Name()))
}

func (p *Photo) previewPath() string {
	if p.Season == "" {
		return ""
	}
	return p.Season.Paper(record.PreviewFile(p.Name()))
}

func (p *Photo) smallPath() string {
	if p.Season == "" {
		return ""
	}
	return p.Season.Paper(record.SmallFile(p.Name()))
}

// Look has the child find every reference in the photo and write its two
// reduced pictures.
func (p *Photo) Look(ctx context.Context) error {
	p.found, p.Looked = nil, true
	refs := p.Sought()
	if len(refs) == 0 && p.Season == "" {
		return nil
	}
	seed, err := strconv.ParseUint(p.Photo.SHA256[:16], 16, 64)
	if err != nil {
		return fmt.Errorf("hash %q: %w", p.Photo.SHA256, err)
	}
	request := look.LookRequest{Source: p.Source(p.Folder), References: refs, Placards: p.Season != "", Seed: seed, Considered: p.Considered || p.Season != ""}
	if p.Season != "" {
		request.Preview, request.Small = keep.TempFor(p.previewPath()), keep.TempFor(p.smallPath())
	}
	reply, err := p.Child.Ask(ctx, look.Request{Look: &request})
	if err == nil && (reply.Look == nil || len(reply.Look.Found) != len(refs)) {
		err = ErrProtocol
	}
	if err == nil {
		err = p.Unchanged()
	}
	if err != nil {
		if Fatal(ctx, err) {
			return err
		}
		if !Transient(err) {
			p.Codes, p.Content = nil, nil
		}
		retake := "copy it from the phone again; if that changes nothing, save it anew on another device that shows it"
		switch {
		case errors.Is(err, children.ErrDamaged): // saved anew it would look whole
			retake = "copy it from the phone again; if that changes nothing, it is damaged there too: leave it out in photos.csv and take another"
		case errors.Is(err, children.ErrMemory):
			retake = "close other programs and run again; if that changes nothing, run on a computer with more memory"
		case errors.Is(err, children.ErrLost):
			retake = "run again; if that changes nothing, leave it out in photos.csv: the others are not affected"
		case errors.Is(err, children.ErrUnopened):
			retake = "put it back and run again"
		case errors.Is(err, intake.ErrChanging):
			retake = unreadHint(err)
		}
		p.AddNote("look", retake, true, "not looked at: %v", err)
		p.Notes[len(p.Notes)-1].Again = Transient(err)
		return nil
	}
	p.found, p.Codes, p.Content = reply.Look.Found, reply.Look.Codes, &reply.Look.Content
	if p.Season == "" {
		return nil
	}
	keepConsidered(p.found)
	text, err := json.Marshal(p.found)
	if err != nil {
		return err
	}
	if err := errors.Join(keep.Commit(request.Preview, p.previewPath()), keep.Commit(request.Small, p.smallPath()), keep.Bytes(p.marksPath(), 0o600, text)); err != nil {
		return err
	}
	return p.Season.Finish(record.PreviewFile(p.Name()), record.SmallFile(p.Name()), record.MarksFile(p.Name()))
}

// mostConsidered is how many lines are kept of what was considered of one reference.
const mostConsidered = 120

// keepConsidered keeps the longest lines of what was considered, in whole px, and only where something like the reference was seen: a
// person is shown them.
func keepConsidered(found []look.Found) {
	for i := range found {
		f := &found[i]
		if f.Refused == nil || f.Refused.Near < calibrate.Like {
			f.Considered = nil
			continue
		}
		slices.SortStableFunc(f.Considered, func(a, b []calibrate.Point) int { return cmp.Compare(longOf(b), longOf(a)) })
		f.Considered = f.Considered[:min(len(f.Considered), mostConsidered)]
		for _, line := range f.Considered {
			for k := range line {
				line[k] = calibrate.Point{XPx: math.Round(line[k].XPx), YPx: math.Round(line[k].YPx)}
			}
		}
	}
}

func longOf(line []calibrate.Point) (px float64) {
	for i := 1; i < len(line); i++ {
		px += math.Hypot(line[i].XPx-line[i-1].XPx, line[i].YPx-line[i-1].YPx)
	}
	return px
}

// Fatal tells errors of a child that end the run from those of one photo.
func Fatal(ctx context.Context, err error) bool {
	return ctx.Err() != nil || errors.Is(err, children.ErrUnwritten) || errors.Is(err, children.ErrNotStarted) || errors.Is(err, children.ErrChanged)
}

// Unchanged fails where the file is no longer the one that was read: what a child
// saw may then be another picture.
func (p *Photo) Unchanged() error {
	info, err := os.Stat(p.Source(p.Folder).Path)
	if err != nil || !p.Photo.Unchanged(info) {
		return intake.ErrChanging
	}
	return nil
}

// Transient tells errors that the next run may not meet again.
func Transient(err error) bool {
	return errors.Is(err, children.ErrLost) || errors.Is(err, children.ErrUnopened) || errors.Is(err, intake.ErrChanging)
}

// Marks gives what look found, from this run or an earlier one. It fails where
// a file of marks is there and the disk does not give it: without them the photo
// would lose its scale.
func (p *Photo) Marks() ([]look.Found, error) {
	n := len(p.Sought())
	if p.found == nil && p.marksPath() != "" {
		text, err := os.ReadFile(p.marksPath())
		if err != nil && !errors.Is(err, fs.ErrNotExist) {
			return nil, err
		}
		if err == nil {
			_ = json.Unmarshal(text, &p.found) // what is not whole is without marks
		}
	}
	if len(p.found) != n {
		return make([]look.Found, n), nil
	}
	return p.found, nil
}

// ErrProtocol is the fault of a child that does not keep to the protocol.
var ErrProtocol = errors.New("the vision program answered something else")

// Draw has a child draw to a temporary file. Where that fails, the caller
// takes away what was begun.
func Draw(ctx context.Context, child *children.Child, r look.DrawRequest) (*look.DrawReply, error) {
	reply, err := child.Ask(ctx, look.Request{Draw: &r})
	if err == nil && reply.Draw == nil {
		err = ErrProtocol
	}
	if err != nil {
		return nil, err
	}
	return reply.Draw, nil
}
