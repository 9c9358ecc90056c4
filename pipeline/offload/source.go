package offload

import (
	"context"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path"
	"path/filepath"
	"regexp"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/container"
)

// A Kind is what a file is for the crew.
type Kind string

// The kinds that are copied.
const (
	Photo   Kind = "photo"
	Film    Kind = "film"
	Sidecar Kind = "sidecar" // what lies beside a photo or film under its name, and files of edits
)

// A Source is a folder that photos are taken from.
type Source struct {
	files  fs.FS
	camera bool // it lies within a camera's own tree
}

// Open gives the folder as a source.
func Open(dir string) (Source, error) {
	whole, err := filepath.Abs(dir)
	if err != nil {
		return Source{}, err
	}
	info, err := os.Stat(whole)
	if err != nil {
		return Source{}, fmt.Errorf("%s: %w: is the phone or card plugged in, unlocked and mounted", dir, plain(err))
	}
	if !info.IsDir() {
		return Source{}, fmt.Errorf("%s: want a folder", dir)
	}
	return Source{os.DirFS(whole), slices.ContainsFunc(strings.Split(filepath.ToSlash(whole), "/"), isDCIM)}, nil
}

// kinds are by the endings that phones and cameras give (common practice, no source). Any other file is looked into.
var kinds = map[Kind][]string{
	Photo: {".jpg", ".jpeg", ".jpe", ".heic", ".heif", ".hif", ".png", ".tif", ".tiff", ".webp", ".avif", ".gif",
		".dng", ".cr2", ".cr3", ".nef", ".arw", ".orf", ".rw2", ".raf", ".pef", ".srw"},
	Film:    {".mov", ".mp4", ".m4v", ".3gp", ".3g2", ".avi", ".mts", ".m2ts", ".mkv", ".webm", ".mpg", ".mpeg"},
	Sidecar: {".xmp", ".aae"},
}

func kindByName(name string) Kind {
	ending := strings.ToLower(path.Ext(name))
	for kind, endings := range kinds {
		if slices.Contains(endings, ending) {
			return kind
		}
	}
	return ""
}

// list finds what lies below the source, by folder and name, and what of it is left there. Links are not followed, what is
// hidden is not entered. The error says that the source itself cannot be listed.
func (s Source) list(ctx context.Context, r *Result) error {
	var others []*File
	err := fs.WalkDir(s.files, ".", func(name string, d fs.DirEntry, err error) error {
		switch {
		case ctx.Err() != nil:
			return ctx.Err()
		case err != nil && name == ".":
			return plain(err)
		case err != nil:
			r.Unread = append(r.Unread, Left{name, plain(err).Error()})
			return nil
		case name == ".":
			return nil
		case strings.HasPrefix(path.Base(name), "."):
			r.Left = append(r.Left, Left{name, "hidden"})
			if d.IsDir() {
				return fs.SkipDir
			}
			return nil
		case d.IsDir():
			return nil
		case d.Type()&fs.ModeSymlink != 0:
			r.Left = append(r.Left, Left{name, "a link"})
			return nil
		case !d.Type().IsRegular():
			r.Left = append(r.Left, Left{name, "not a file"})
			return nil
		}
		info, err := d.Info()
		if err != nil {
			r.Unread = append(r.Unread, Left{name, plain(err).Error()})
			return nil
		}
		f := &File{From: name, Kind: kindByName(name), Bytes: info.Size(), changed: info.ModTime()}
		if f.Kind == "" {
			others = append(others, f)
		} else {
			r.Files = append(r.Files, f)
		}
		return nil
	})
	if err != nil {
		return err
	}
	s.sortOut(others, r)
	slices.SortFunc(r.Files, func(a, b *File) int { return strings.Compare(a.From, b.From) })
	return nil
}

// sortOut gives files of unknown endings their kind: they belong to a photo or film of their name, or are one by their start.
func (s Source) sortOut(others []*File, r *Result) {
	named := map[string]bool{}
	for _, f := range r.Files {
		named[f.group()] = named[f.group()] || f.Kind != Sidecar
	}
	for _, f := range others {
		if named[f.group()] {
			f.Kind = Sidecar
			r.Files = append(r.Files, f)
			continue
		}
		kind, err := s.kindByStart(f.From)
		switch f.Kind = kind; {
		case err != nil:
			r.Unread = append(r.Unread, Left{f.From, plain(err).Error()})
		case kind == "":
			r.Left = append(r.Left, Left{f.From, "no photo, film or sidecar"})
		default:
			r.Files = append(r.Files, f)
		}
	}
	slices.SortStableFunc(r.Left, func(a, b Left) int { return strings.Compare(a.Name, b.Name) })
}

func (s Source) kindByStart(name string) (Kind, error) {
	f, err := s.files.Open(name)
	if err != nil {
		return "", err
	}
	defer f.Close()
	start := make([]byte, container.StartBytes)
	n, err := io.ReadFull(f, start)
	if err != nil && err != io.EOF && !errors.Is(err, io.ErrUnexpectedEOF) {
		return "", err
	}
	switch start = start[:n]; {
	case container.IsPicture(start):
		return Photo, nil
	case n > 8 && string(start[4:8]) == "ftyp": // ISO/IEC 14496-12, 4.3: a film where it is no picture
		return Film, nil
	}
	return "", nil
}

// isDCIM: the folder in which cameras and phones keep their own (JEITA CP-3461, the DCF root; from memory).
func isDCIM(segment string) bool { return strings.EqualFold(segment, "DCIM") }

// counted is how cameras name the folders below it: three digits and five signs.
var counted = regexp.MustCompile(`^[1-9][0-9]{2}[A-Za-z0-9_]{5}$`)

// target is the slash path that a file gets below a place. Folders that a person made stay, since their names say which
// jacket they are of; those that a camera made go, since their numbers are no jacket's.
func (s Source) target(name string) string {
	folders := strings.Split(path.Dir(name), "/")
	if s.camera || slices.ContainsFunc(folders, isDCIM) {
		return path.Base(name)
	}
	folders = slices.DeleteFunc(folders, counted.MatchString)
	return path.Join(append(folders, path.Base(name))...)
}

// A File is one photo, film or sidecar of the source.
type File struct {
	From   string `json:"from"` // slash path below the source
	Kind   Kind   `json:"kind"`
	Bytes  int64  `json:"bytes"`
	SHA256 string `json:"sha256,omitempty"` // "": not read
	Fault  string `json:"fault,omitempty"`  // why the source could not be read
	At     []At   `json:"at"`               // by place

	changed time.Time
}

// An At is how a file stands at one place.
type At struct {
	File   string `json:"file,omitempty"`   // slash path below the place's folder; "": it is not there
	Copied bool   `json:"copied,omitempty"` // by this run; otherwise it was there
	Fault  string `json:"fault,omitempty"`  // why it is not there
}

// group is what a photo, its film and its sidecars have in common: their folder and name.
func (f *File) group() string {
	dir, base := path.Split(f.From)
	return dir + stemOf(base)
}

// stemOf is a name without its ending; of a sidecar's IMG_0001.JPG.xmp without both.
func stemOf(base string) string {
	stem := strings.TrimSuffix(base, path.Ext(base))
	if kindByName(base) == Sidecar && kindByName(stem) != "" {
		stem = strings.TrimSuffix(stem, path.Ext(stem))
	}
	return stem
}
