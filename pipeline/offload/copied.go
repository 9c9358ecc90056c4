package offload

import (
	"cmp"
	"fmt"
	"maps"
	"os"
	"path/filepath"
	"slices"

	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
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
		lines = append(lines, fmt.Sprintf("second drive %s: %s verified", name, n))
	}
	if len(c.Second) == 0 {
		lines = append(lines, "no second copy")
	}
	return lines
}

// ByPhone sums up the days.
func ByPhone(days []Copied) (sums []Copied) {
	for _, c := range days {
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

// Tally reads what was copied off the phones, by phone and day, and tells of what was not. Records know better who took a
// photo and when: their clocks have been set right.
func Tally(season string, records []*record.Record) (copied []Copied, notices []string) {
	kept, err := ReadKept(season)
	if err != nil {
		return nil, []string{err.Error()}
	}
	known := map[string]*record.Record{}
	for _, r := range records {
		if r.Photo.SHA256 != "" && known[r.Photo.SHA256] == nil {
			known[r.Photo.SHA256] = r
		}
	}
	for _, as := range slices.Sorted(maps.Keys(kept.Folders)) {
		folder := kept.Folders[as]
		for _, c := range folder.Files {
			if c.Kind == Photo && c.File != "" {
				copied = addTo(copied, c, standsAs(season, as, c, known[c.SHA256]))
			}
		}
		if text := notCopied(as, folder); text != "" {
			notices = append(notices, text)
		}
	}
	slices.SortFunc(copied, func(a, b Copied) int { return cmp.Or(a.Phone.Compare(b.Phone), cmp.Compare(a.Day, b.Day)) })
	return copied, notices
}

// standsAs is who took a photo that was copied, when, and whether it is still here: under its name, or under another as its
// record knows it.
func standsAs(season, as string, c KeptCopy, r *record.Record) Copied {
	one := Copied{Phone: phones.Phone{Folder: as, Model: c.Model}, Day: c.Day, Photos: 1}
	info, err := os.Stat(filepath.Join(season, "photos", as, filepath.FromSlash(c.File)))
	if r != nil || err == nil && info.Size() == c.Bytes {
		one.Here = 1
	}
	if r != nil && r.When != nil {
		one.Phone, one.Day = phones.Photo{File: r.Photo.File, Capture: r.Capture}.Of(), r.When.Day()
	}
	return one
}

// addTo counts one photo with those of its phone and day.
func addTo(sums []Copied, c KeptCopy, one Copied) []Copied {
	i := slices.IndexFunc(sums, func(sum Copied) bool { return sum.Phone == one.Phone && sum.Day == one.Day })
	if i < 0 {
		i = len(sums)
		sums = append(sums, Copied{Phone: one.Phone, Day: one.Day, Second: map[string]int{}})
	}
	sums[i].Photos++
	sums[i].Here += one.Here
	for _, name := range c.Second {
		sums[i].Second[name]++
	}
	return sums
}

// notCopied is the sentence about what the last copying into a folder did not bring over; "": all of it was.
func notCopied(as string, f Folder) string {
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
