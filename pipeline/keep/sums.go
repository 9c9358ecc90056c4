package keep

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"io"
	"io/fs"
	"maps"
	"os"
	"path/filepath"
	"slices"
	"strconv"
	"strings"
)

// Sums are the checksums of finished files, by which one that was damaged since is known. They stand in one file, a line each,
// the later line of a file counts; [Sums.Add] appends, so that a killed run loses none.
type Sums struct {
	Dir  string // the files lie below it
	File string // that holds the sums
}

// A sum is what a file was when it was finished. A file of the same size and date is not read again.
type sum struct {
	sha256 string
	bytes  int64
	timeNs int64
}

// line is a line of the list: SHA-256, length in bytes, date in nanoseconds since 1970, slash path.
func (s sum) line(file string) string {
	return fmt.Sprintf("%s %d %d %s\n", s.sha256, s.bytes, s.timeNs, strconv.Quote(file))
}

// Add notes what a finished file, a slash path below Dir, holds now.
func (s Sums) Add(file string) error {
	at, err := s.of(file)
	if err != nil {
		return err
	}
	list, err := os.OpenFile(s.File, os.O_RDWR|os.O_CREATE|os.O_APPEND, 0o600)
	if err != nil {
		return err
	}
	line := at.line(file)
	cut, err := isCut(list)
	if cut {
		line = "\n" + line
	}
	if err == nil {
		_, err = list.WriteString(line) // one write, so that lines of several writers do not mix
	}
	return errors.Join(err, list.Close())
}

// isCut tells whether a list ends within a line, as a full disk leaves it.
func isCut(list *os.File) (bool, error) {
	info, err := list.Stat()
	if err != nil || info.Size() == 0 {
		return false, err
	}
	last := make([]byte, 1)
	_, err = list.ReadAt(last, info.Size()-1)
	return last[0] != '\n', err
}

// Broken gives the files, in the order of their names, that are there and hold something else than when they were finished. What
// is no longer there is forgotten. Call it while nobody adds.
func (s Sums) Broken() (files []string, err error) {
	all, before, err := s.read()
	if err != nil {
		return nil, err
	}
	var list bytes.Buffer
	for _, file := range slices.Sorted(maps.Keys(all)) {
		was := all[file]
		info, err := os.Stat(filepath.Join(s.Dir, filepath.FromSlash(file)))
		if errors.Is(err, fs.ErrNotExist) {
			continue
		}
		if err == nil && info.Size() == was.bytes && info.ModTime().UnixNano() == was.timeNs {
			list.WriteString(was.line(file))
			continue
		}
		now, err := s.of(file)
		if err != nil || now.sha256 != was.sha256 { // what cannot be read is damaged too
			files = append(files, file)
			now = was
		}
		list.WriteString(now.line(file))
	}
	if bytes.Equal(list.Bytes(), before) {
		return files, nil
	}
	return files, Bytes(s.File, 0o600, list.Bytes())
}

// of is what a file holds now.
func (s Sums) of(file string) (sum, error) {
	f, err := os.Open(filepath.Join(s.Dir, filepath.FromSlash(file)))
	if err != nil {
		return sum{}, err
	}
	defer f.Close()
	info, err := f.Stat()
	if err != nil {
		return sum{}, err
	}
	h := sha256.New()
	if _, err := io.Copy(h, f); err != nil {
		return sum{}, err
	}
	return sum{hex.EncodeToString(h.Sum(nil)), info.Size(), info.ModTime().UnixNano()}, nil
}

// read reads the list. A line that is none, such as one that a full disk cut, costs that line: its file counts as it stands.
func (s Sums) read() (all map[string]sum, content []byte, err error) {
	all = map[string]sum{}
	content, err = os.ReadFile(s.File)
	if errors.Is(err, fs.ErrNotExist) {
		return all, nil, nil
	}
	for line := range strings.Lines(string(content)) {
		parts := strings.SplitN(strings.TrimSuffix(line, "\n"), " ", 4)
		if len(parts) != 4 || len(parts[0]) != 2*sha256.Size {
			continue
		}
		size, err1 := strconv.ParseInt(parts[1], 10, 64)
		timeNs, err2 := strconv.ParseInt(parts[2], 10, 64)
		file, err3 := strconv.Unquote(parts[3])
		if errors.Join(err1, err2, err3) == nil && filepath.IsLocal(filepath.FromSlash(file)) {
			all[file] = sum{parts[0], size, timeNs}
		}
	}
	return all, content, err
}
