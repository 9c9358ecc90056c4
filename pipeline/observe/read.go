package observe

import (
	"context"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/container"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

// Read takes what the file says of itself.
func (p *Photo) Read(_ context.Context) error {
	var known *intake.Photo
	if p.Photo.SHA256 != "" {
		known = &p.Photo
	}
	before := p.Photo.SHA256
	photo, capture, err := intake.Photo{File: p.Photo.File}, (*intake.Capture)(nil), error(nil)
	if p.Season != "" {
		err = p.Season.Own(photo.File)
	}
	if err == nil {
		photo, capture, err = intake.Read(p.Folder, photo.File, known)
	}
	if before != "" && err != nil && !refused(err) {
		return p.keepAsRead(err)
	}
	if before != "" && photo.SHA256 != before {
		// Another picture under the same name. The plates of the old one stay
		// named until draw has taken them away; its record, which may serve the
		// old picture under a new name, stands until tidy.
		plates := slices.Clone(p.Plates)
		for i := range plates {
			plates[i].Key = ""
		}
		*p.Record = record.Record{Keys: map[string]string{}, Plates: plates}
	}
	p.New = false
	p.Photo, p.Capture = photo, capture
	switch {
	case errors.Is(err, intake.ErrNotPhoto):
		p.AddNote("read", "", false, "%v", err)
	case err != nil:
		p.AddNote("read", unreadHint(err), true, "%v", err)
	case capture.Stripped:
		p.AddNote("read", askForOriginal, false, "reduced copy: a chat program or an editor took its time, position and camera away")
	case capture.ReducedBy > 0:
		p.AddNote("read", askForOriginal, false, "reduced copy: the camera's picture was %.1f times as wide", capture.ReducedBy)
	}
	p.noteShape()
	return nil
}

// refused tells what is against the file itself from a disk that did not give
// it this time, which says nothing of the photo.
func refused(err error) bool {
	for _, why := range []error{intake.ErrNotPhoto, container.ErrUnsupported, container.ErrDamaged, intake.ErrTooLarge, intake.ErrName, intake.ErrLinked, folder.ErrLinkedFile} {
		if errors.Is(err, why) {
			return true
		}
	}
	return false
}

// keepAsRead leaves all that earlier runs learned of a photo that could not be
// read this time. It fails where the whole folder of it has gone since it was
// listed: then it is a disk or card, not a photo.
func (p *Photo) keepAsRead(why error) error {
	top := p.Folder
	if first, _, below := strings.Cut(p.Photo.File, "/"); below {
		top = filepath.Join(top, first)
	}
	if there, err := os.ReadDir(top); err != nil || len(there) == 0 {
		return fmt.Errorf("%s has gone since its photos were listed (%w): connect its disk or card and run again\n%w", top, why, register.ErrUnread)
	}
	p.AddNote("read", unreadHint(why), true, "%v; what earlier runs made of it stands", why)
	p.Notes[len(p.Notes)-1].Again = true
	return nil
}

const askForOriginal = "ask for the original"

// unreadHint is what a person can do about a file that was not read.
func unreadHint(err error) string {
	switch {
	case errors.Is(err, container.ErrUnsupported):
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

// noteShape says what is against the picture's geometry and what that costs.
func (p *Photo) noteShape() {
	if p.Capture == nil || p.Capture.Shape == nil {
		return
	}
	s := p.Capture.Shape
	cost := map[intake.ShapeKind]string{
		intake.Panorama:  "not used for scale",
		intake.UltraWide: "not used for scale with a bar or two points, which cannot tell its stretch",
		intake.Cropped:   "its focal length is not used, so nothing is known below the reference's level",
		intake.Portrait:  "marks in its blurred parts may have moved",
	}[s.Kind]
	p.AddNote("read", "use the camera's main lens and the picture as it was taken", false, "%s picture (%s): %s", s.Kind, s.Why, cost)
}
