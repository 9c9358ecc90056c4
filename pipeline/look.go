package pipeline

import (
	"context"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"strconv"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/pipeline/children"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
)

// read takes what the file says of itself.
func (t *task) read(_ context.Context) error {
	var known *intake.Photo
	if t.r.Photo.SHA256 != "" {
		known = &t.r.Photo
	}
	before := t.r.Photo.SHA256
	photo, capture, err := intake.Photo{File: t.r.Photo.File}, (*intake.Capture)(nil), error(nil)
	if t.season != nil {
		err = t.season.Dir.Own(photo.File)
	}
	if err == nil {
		photo, capture, err = intake.Read(t.root, photo.File, known)
	}
	if before != "" && photo.SHA256 != before {
		// Another picture under the same name. The plates of the old one stay
		// named until draw has taken them away; its record, which may serve the
		// old picture under a new name, stands until tidy.
		*t.r = Record{Keys: map[string]string{}, Plates: t.r.Plates}
	}
	t.r.New = false
	t.r.Photo, t.r.Capture = photo, capture
	switch {
	case errors.Is(err, intake.ErrNotPhoto):
		t.r.AddNote("read", "", false, "%v", err)
	case err != nil:
		t.r.AddNote("read", unreadHint(err), true, "%v", err)
	case capture.Stripped:
		t.r.AddNote("read", askForOriginal, false, "reduced copy: a chat program or an editor took its time, position and camera away")
	case capture.ReducedBy > 0:
		t.r.AddNote("read", askForOriginal, false, "reduced copy: the camera's picture was %.1f times as wide", capture.ReducedBy)
	}
	t.noteShape()
	return nil
}

const askForOriginal = "ask for the original"

// unreadHint is what a person can do about a file that was not read.
func unreadHint(err error) string {
	switch {
	case errors.Is(err, intake.ErrUnsupported):
		return "save it as JPEG with the phone's or camera's own program and put that beside it, or leave it out in photos.csv"
	case errors.Is(err, intake.ErrTooLarge):
		return "save it smaller and put that in its place, or leave it out in photos.csv"
	case errors.Is(err, intake.ErrChanging):
		return "wait until the copying has ended and run again"
	case errors.Is(err, intake.ErrName):
		return "give the file another name, of letters and digits; an old card or an archive from another system wrote this one"
	case errors.Is(err, folder.ErrLinkedFile):
		return "put the photo itself here"
	case errors.Is(err, intake.ErrLinked):
		return "put the photos themselves here, or the link directly into photos/, where it may lead to a folder outside the season"
	case errors.Is(err, fs.ErrPermission):
		return "give yourself the right to read it"
	case errors.Is(err, fs.ErrNotExist):
		return "put it back, or run again without it"
	}
	return "copy it from the phone again; if the phone does not show it either, leave it out in photos.csv"
}

// looked are the references that pixels are read for.
func (t *task) looked() (refs []calibrate.Reference) {
	for _, ref := range t.refs {
		if ref.Kind != calibrate.KindPoints {
			refs = append(refs, ref)
		}
	}
	return refs
}

// lookReads is the photo's content and way up, what is looked for, and the
// library that looks. Names and tolerances of references change nothing here.
func (t *task) lookReads() any {
	refs := t.looked()
	for i := range refs {
		refs[i].Name, refs[i].ToleranceCm, refs[i].CheckLineMm = "", nil, nil
		if refs[i].TilesInCm != nil {
			refs[i].TilesInCm = new(float64) // that there are tiles, not where
		}
	}
	return []any{t.r.Photo.SHA256, t.r.Photo.Orientation, t.r.Camera(), refs, t.opencv}
}

func (t *task) lookStands() bool {
	if t.r.HasNote("look", true) {
		return true // there was nothing to write
	}
	for _, path := range []string{t.marksPath(), t.previewPath(), t.smallPath()} {
		if _, err := os.Stat(path); path != "" && err != nil {
			return false
		}
	}
	return true
}

func (t *task) marksPath() string {
	if t.season == nil {
		return ""
	}
	return t.season.Dir.Paper(record.MarksFile(t.r.Name()))
}

func (t *task) previewPath() string {
	if t.season == nil {
		return ""
	}
	return t.season.Dir.Paper(record.PreviewFile(t.r.Name()))
}

func (t *task) smallPath() string {
	if t.season == nil {
		return ""
	}
	return t.season.Dir.Paper(record.SmallFile(t.r.Name()))
}

// look has the child find every reference in the photo and write its two
// reduced pictures.
func (t *task) look(ctx context.Context) error {
	t.found, t.r.Codes, t.r.Content, t.didLook = nil, nil, nil, true
	refs := t.looked()
	if len(refs) == 0 && t.season == nil {
		return nil
	}
	seed, err := strconv.ParseUint(t.r.Photo.SHA256[:16], 16, 64)
	if err != nil {
		return fmt.Errorf("hash %q: %w", t.r.Photo.SHA256, err)
	}
	request := look.LookRequest{Source: t.r.Source(t.root), References: refs, Placards: t.season != nil, Seed: seed, Considered: t.considered}
	if t.season != nil {
		request.Preview, request.Small = keep.TempFor(t.previewPath()), keep.TempFor(t.smallPath())
	}
	reply, err := t.child.Ask(ctx, look.Request{Look: &request})
	if err == nil && (reply.Look == nil || len(reply.Look.Found) != len(refs)) {
		err = errOther
	}
	if err == nil {
		err = t.stands()
	}
	if err != nil {
		if stops(ctx, err) {
			return err
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
		t.r.AddNote("look", retake, true, "not looked at: %v", err)
		t.r.Notes[len(t.r.Notes)-1].Again = passing(err)
		return nil
	}
	t.found, t.r.Codes, t.r.Content = reply.Look.Found, reply.Look.Codes, &reply.Look.Content
	if t.season == nil {
		return nil
	}
	text, err := json.Marshal(t.found)
	if err != nil {
		return err
	}
	if err := errors.Join(keep.Commit(request.Preview, t.previewPath()), keep.Commit(request.Small, t.smallPath()), keep.Bytes(t.marksPath(), 0o600, text)); err != nil {
		return err
	}
	return t.season.Dir.Finish(record.PreviewFile(t.r.Name()), record.SmallFile(t.r.Name()), record.MarksFile(t.r.Name()))
}

// stops tells errors of a child that end the run from those of one photo.
func stops(ctx context.Context, err error) bool {
	return ctx.Err() != nil || errors.Is(err, children.ErrUnwritten) || errors.Is(err, children.ErrNotStarted) || errors.Is(err, children.ErrChanged)
}

// stands fails where the file is no longer the one that was read: what a child
// saw may then be another picture.
func (t *task) stands() error {
	info, err := os.Stat(t.r.Source(t.root).Path)
	if err != nil || !t.r.Photo.Unchanged(info) {
		return intake.ErrChanging
	}
	return nil
}

// passing tells errors that the next run may not meet again.
func passing(err error) bool {
	return errors.Is(err, children.ErrLost) || errors.Is(err, children.ErrUnopened) || errors.Is(err, intake.ErrChanging)
}

// marks gives what look found, from this run or an earlier one.
func (t *task) marks() []look.Found {
	n := len(t.looked())
	if t.found == nil && t.marksPath() != "" {
		if text, err := os.ReadFile(t.marksPath()); err == nil {
			_ = json.Unmarshal(text, &t.found) // an unreadable file is one without marks
		}
	}
	if len(t.found) != n {
		return make([]look.Found, n)
	}
	return t.found
}
