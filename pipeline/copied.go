package pipeline

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"fieldjacket/pipeline/offload"
	"fieldjacket/pipeline/phones"
)

// A Copied is how many photos that came off one phone on one day were read back and found whole.
type Copied struct {
	Phone  phones.Phone   `json:"phone"`
	Day    string         `json:"day,omitempty"` // "" where they name no time, or of all days
	Photos int            `json:"photos"`
	Here   int            `json:"here"`             // of these now below photos/
	Second map[string]int `json:"second,omitempty"` // by the name of the other place: verified there when they were copied
}

// Lines say the same, a line a place. of is how many photos the season has of that phone and day.
func (c Copied) Lines(of int) []string {
	here := fmt.Sprintf("%d copied and verified", c.Photos)
	if of > c.Photos {
		here = fmt.Sprintf("%d of %d copied and verified", c.Photos, of)
	}
	if c.Here < c.Photos {
		here += fmt.Sprintf(", %d of them no longer here", c.Photos-c.Here)
	}
	lines := []string{here}
	for _, name := range slices.Sorted(maps.Keys(c.Second)) {
		n := fmt.Sprint(c.Second[name])
		if c.Second[name] < c.Photos {
			n += fmt.Sprintf(" of %d", c.Photos)
		}
		lines = append(lines, fmt.Sprintf("second place %s: %s verified", name, n))
	}
	if len(c.Second) == 0 {
		lines = append(lines, "no second place")
	}
	return lines
}

// CopiedByPhone sums up the days.
func (s *Season) CopiedByPhone() (sums []Copied) {
	for _, c := range s.copied {
		i := slices.IndexFunc(sums, func(sum Copied) bool { return sum.Phone == c.Phone })
		if i < 0 {
			i = len(sums)
			sums = append(sums, Copied{Phone: c.Phone, Second: map[string]int{}})
		}
		sums[i].Photos += c.Photos
		sums[i].Here += c.Here
		for name, n := range c.Second {
			sums[i].Second[name] += n
		}
	}
	return sums
}

// hearCopied reads what was copied, by phone and day, and tells of what was not. Records know better who took a photo and when:
// their clocks have been set right.
func (s *Season) hearCopied(records []*Record) {
	kept, err := offload.ReadKept(s.Dir)
	if err != nil {
		s.Notices = append(s.Notices, Notice{Text: err.Error()})
		return
	}
	known := map[string]*Record{}
	for _, r := range records {
		if r.Photo.SHA256 != "" && known[r.Photo.SHA256] == nil {
			known[r.Photo.SHA256] = r
		}
	}
	type key struct {
		phones.Phone
		day string
	}
	sums := map[key]*Copied{}
	for _, as := range slices.Sorted(maps.Keys(kept.Folders)) {
		folder := kept.Folders[as]
		for _, c := range folder.Files {
			if c.Kind != offload.Photo || c.File == "" {
				continue
			}
			k := key{phones.Phone{Folder: as, Model: c.Model}, c.Day}
			r := known[c.SHA256]
			if r != nil && r.When != nil {
				k = key{phones.Photo{File: r.Photo.File, Capture: r.Capture}.Of(), r.When.Day()}
			}
			sum := sums[k]
			if sum == nil {
				sum = &Copied{Phone: k.Phone, Day: k.day, Second: map[string]int{}}
				sums[k] = sum
			}
			sum.Photos++
			if info, err := os.Stat(filepath.Join(s.photos(), as, filepath.FromSlash(c.File))); r != nil || err == nil && info.Size() == c.Bytes {
				sum.Here++
			}
			for _, name := range c.Second {
				sum.Second[name]++
			}
		}
		if text := notCopied(as, folder); text != "" {
			s.Notices = append(s.Notices, Notice{Text: text})
		}
	}
	s.copied = nil
	for _, k := range slices.SortedFunc(maps.Keys(sums), func(a, b key) int { return cmp.Or(a.Phone.Compare(b.Phone), cmp.Compare(a.day, b.day)) }) {
		s.copied = append(s.copied, *sums[k])
	}
}

// notCopied is the sentence about what the last copying into a folder did not bring over; "": all of it was.
func notCopied(as string, f offload.Folder) string {
	switch n := len(f.Left); {
	case n == 0 && !f.Short:
		return ""
	case n == 0:
		return fmt.Sprintf("%s: the last copying ended early: do not wipe that phone; copy again", as)
	case n == 1:
		return fmt.Sprintf("%s: 1 file was not copied: %s (%s): do not wipe that phone; copy again", as, f.Left[0].Name, f.Left[0].Reason)
	default:
		return fmt.Sprintf("%s: %d files were not copied, the first %s (%s): do not wipe that phone; copy again", as, n, f.Left[0].Name, f.Left[0].Reason)
	}
}
