package geotag

import (
	"crypto/sha256"
	"encoding/hex"
	"encoding/json"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/record"
)

// tracksRecipe is raised whenever the same tracks give a photo another place.
const tracksRecipe = 1

// Tracks are what is kept of the tracks as they were read last: a receiver's season takes seconds to read.
type Tracks struct {
	Key     string   `json:"key"`
	Notices []string `json:"notices,omitempty"`
	// Apart says of a photo, by its file, how the tracks contradict each other.
	Apart map[string]string `json:"apart,omitempty"`
	fresh bool              // read by this pass
}

// lacksPlace tells whether the tracks are asked where the photo was taken.
func lacksPlace(r *record.Record) bool {
	_, ok := r.When.UTC()
	return ok && r.Capture != nil && r.Capture.Position == nil
}

// whereKey is the key of a place that the tracks gave.
func whereKey(r *record.Record, tracks string) string {
	utc, _ := r.When.UTC()
	return keep.Hash(tracks, utc.UnixNano())
}

// tracksFor reads the season's tracks if any photo's place depends on them and is not known from them already: nil where it is not
// so. Tracks that cannot be read become notices of the folder.
func tracksFor(records []*record.Record, dir folder.Dir) (tracks []locate.Track, folder Tracks, err error) {
	if !slices.ContainsFunc(records, lacksPlace) {
		return nil, folder, nil
	}
	files, key, err := trackFiles(dir)
	if err != nil {
		return nil, folder, err
	}
	if text, err := os.ReadFile(keptFile(dir)); err == nil && json.Unmarshal(text, &folder) != nil {
		folder = Tracks{}
	}
	if folder.Key != key || slices.ContainsFunc(records, func(r *record.Record) bool { return lacksPlace(r) && r.Keys["where"] != whereKey(r, key) }) {
		folder = Tracks{Key: key, Apart: map[string]string{}, fresh: true}
		tracks, folder.Notices = readTracks(files)
	}
	return tracks, folder, nil
}

func keptFile(dir folder.Dir) string { return dir.Paper("records", "tracks.json") }

// Keep writes what was read of the tracks.
func (t Tracks) Keep(dir folder.Dir) error {
	if !t.fresh {
		return nil
	}
	text, err := json.Marshal(t)
	if err != nil {
		return err
	}
	return keep.Bytes(keptFile(dir), 0o600, append(text, '\n'))
}

// trackFiles lists the track files in the order of their names, with a key that changes with them.
func trackFiles(dir folder.Dir) (paths []string, key string, err error) {
	folder := filepath.Join(string(dir), "tracks")
	entries, err := os.ReadDir(folder)
	if err != nil && !errors.Is(err, fs.ErrNotExist) {
		return nil, "", err
	}
	stands := []any{tracksRecipe}
	for _, e := range entries {
		if e.IsDir() || !strings.EqualFold(filepath.Ext(e.Name()), ".gpx") || strings.HasPrefix(e.Name(), ".") {
			continue
		}
		paths = append(paths, filepath.Join(folder, e.Name()))
		stands = append(stands, e.Name(), contentOf(paths[len(paths)-1]))
	}
	return paths, keep.Hash(stands...), nil
}

// readTracks reads track files; never nil.
func readTracks(paths []string) (out []locate.Track, notices []string) {
	out = []locate.Track{}
	for _, path := range paths {
		t, err := readTrack(path)
		switch {
		case err != nil:
			notices = append(notices, err.Error()+"; it is not used")
			continue
		case t.Passed > 0:
			notices = append(notices, fmt.Sprintf("track %s: not used are points without a place or a time in UTC: %d", t.Name, t.Passed))
		}
		out = append(out, t)
	}
	return out, notices
}

// openTrack opens a file that is one: a named pipe would be waited for.
func openTrack(path string) (*os.File, error) {
	if at, err := os.Stat(path); err == nil && !at.Mode().IsRegular() {
		return nil, errors.New("not a file")
	}
	return os.Open(path)
}

// contentOf is the hash of a file, so that a copied one is the same; "": it cannot be read.
func contentOf(path string) string {
	f, err := openTrack(path)
	if err != nil {
		return ""
	}
	defer f.Close()
	sum := sha256.New()
	if _, err := io.Copy(sum, f); err != nil {
		return ""
	}
	return hex.EncodeToString(sum.Sum(nil))
}

func readTrack(path string) (locate.Track, error) {
	name := filepath.Base(path)
	f, err := openTrack(path)
	if err != nil {
		return locate.Track{}, fmt.Errorf("track %s: %w", name, err)
	}
	defer f.Close()
	return locate.ReadTrack(f, name)
}
