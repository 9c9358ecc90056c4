package record

import (
	"os"
	"path/filepath"
)

// Endings of the files beside a record that hold lists too long for it: the
// marks found in its photo, and those found at the corners that a person put.
const (
	marksEnding     = ".marks.json"
	handMarksEnding = ".hand.marks.json"
)

// MarksFile holds the marks found in the photo of the record of a name. It is
// a slash path below paper/, as are the next.
func MarksFile(name string) string { return "records/" + name + marksEnding }

// HandMarksFile holds the marks found at the corners that a person put.
func HandMarksFile(name string) string { return "records/" + name + handMarksEnding }

// PreviewFile is the photo upright and reduced.
func PreviewFile(name string) string { return "previews/" + name + ".jpg" }

// SmallFile is a smaller picture still, for contact sheets and day pages.
func SmallFile(name string) string { return "previews/" + name + ".small.jpg" }

// Files are all files of the record of a name.
func Files(name string) []string {
	return []string{"records/" + name + ".json", MarksFile(name), HandMarksFile(name), DepthFile(name), PreviewFile(name), SmallFile(name)}
}

// Small is the path of a record's small picture below a season's paper folder, "" where there is none.
func Small(paper string, r *Record) string {
	path := filepath.Join(paper, filepath.FromSlash(SmallFile(r.Name())))
	if _, err := os.Stat(path); err != nil {
		return ""
	}
	return path
}
