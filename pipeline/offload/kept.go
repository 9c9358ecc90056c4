package offload

import (
	"bytes"
	"encoding/json"
	"errors"
	"fmt"
	"io/fs"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/keep"
)

// KeptFile is the file of a season's folder that holds what was verified. It cannot be made again once a phone is wiped.
const KeptFile = "copied.json"

// Kept is what was verified, by the folder below photos.
type Kept struct {
	Folders map[string]Folder `json:"folders"`
}

// A Folder is what came off one phone.
type Folder struct {
	Files []KeptCopy `json:"files"`             // by name
	Left  []Left     `json:"lacking,omitempty"` // what the last copying did not bring over
	Short bool       `json:"short,omitempty"`   // it ended before it had tried all: the source went away, the disk was full, it was interrupted
}

// A KeptCopy is one file that was verified.
type KeptCopy struct {
	File   string   `json:"file,omitempty"` // slash path below the folder; "": at second places only
	SHA256 string   `json:"sha256"`
	Bytes  int64    `json:"bytes"`
	Kind   Kind     `json:"kind"`
	Model  string   `json:"model,omitempty"`
	Day    string   `json:"day,omitempty"`    // "2026-02-11"
	Second []string `json:"second,omitempty"` // names of the other places where it was verified
}

// ReadKept reads what a season's folder keeps; nothing where there is no such file.
func ReadKept(dir string) (Kept, error) {
	k := Kept{Folders: map[string]Folder{}}
	text, err := os.ReadFile(filepath.Join(dir, KeptFile))
	if errors.Is(err, fs.ErrNotExist) {
		return k, nil
	}
	if err == nil {
		err = json.Unmarshal(text, &k)
	}
	if err != nil {
		return k, fmt.Errorf("%s: %w: put it aside and copy again from what is still on the phones", KeptFile, err)
	}
	if k.Folders == nil {
		k.Folders = map[string]Folder{}
	}
	return k, nil
}

// Write writes it to a season's folder.
func (k Kept) Write(dir string) error {
	var b bytes.Buffer
	lines := json.NewEncoder(&b)
	lines.SetEscapeHTML(false)
	lines.SetIndent("", " ")
	if err := lines.Encode(k); err != nil {
		return err
	}
	return keep.Bytes(filepath.Join(dir, KeptFile), 0o644, b.Bytes())
}

// Add takes up what a copying into a folder verified. What an earlier one did stands, but where this one looked and found
// otherwise.
func (k Kept) Add(as string, r Result, t Summary, ended bool) {
	was := k.Folders[as]
	bySum := map[string]KeptCopy{}
	for _, c := range was.Files {
		bySum[c.SHA256] = c
	}
	now := Folder{Short: r.Gone || !ended, Left: slices.Clone(r.Unread)}
	for _, f := range r.Files {
		switch {
		case f.Fault != "":
			now.Left = append(now.Left, Left{f.From, f.Fault})
		case f.At[0].Fault != "":
			now.Left = append(now.Left, Left{f.From, f.At[0].Fault})
		case f.At[0].File == "":
			now.Short = true
		}
		if f.SHA256 == "" {
			continue
		}
		c := bySum[f.SHA256]
		c.SHA256, c.Bytes, c.Kind = f.SHA256, f.Bytes, f.Kind
		if at := f.At[0].File; at != "" {
			c.File = at
			if by, ok := t.of[at]; ok {
				c.Model, c.Day = by.model, by.day
			}
		}
		c.Second = secondAfter(c.Second, f, r)
		if c.File != "" || len(c.Second) > 0 {
			bySum[f.SHA256] = c
		}
	}
	for _, c := range bySum {
		now.Files = append(now.Files, c)
	}
	slices.SortFunc(now.Files, func(a, b KeptCopy) int {
		return strings.Compare(a.File+"\n"+a.SHA256, b.File+"\n"+b.SHA256)
	})
	k.Folders[as] = now
}

// secondAfter are the second places where a file is, of those of before and those that were looked at now.
func secondAfter(before []string, f *File, r Result) []string {
	second := slices.Clone(before)
	for i, place := range r.Places[1:] {
		at, same := f.At[i+1], place.Name+" (same disk)"
		if at.File+at.Fault == "" {
			continue // nobody looked
		}
		second = slices.DeleteFunc(second, func(name string) bool { return name == place.Name || name == same })
		switch {
		case at.File == "":
		case place.SameDisk:
			second = append(second, same)
		default:
			second = append(second, place.Name)
		}
	}
	slices.Sort(second)
	return second
}
