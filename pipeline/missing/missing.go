package missing

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// ErrLess says that a season holds less than the last run knew, and that nothing was done: what is away for an hour (a card, a
// disk, a file that is being copied) must not take finished paper and people's words with it.
var ErrLess = errors.New("nothing was done, since the last run knew more than is here")

// How season.toml and its references stand in sheetsKnown.
const (
	seasonKnown    = "season.toml"
	referenceKnown = "[[reference]] "
)

// What the last run knew, below paper/records: words.log as it was, and what the register was made of, one a line.
const (
	wordsKnown  = "words.known"
	sheetsKnown = "sheets.known"
)

// A Season is what is here now.
type Season struct {
	Dir    folder.Dir
	Sheets *register.Register
	Words  *words.Log
}

// Accepted is what a person said is gone for good.
type Accepted struct {
	PhotosGone     bool // photos, and jackets that were carried over
	WordsRestored  bool // words of words.log
	ReferencesGone bool // references that season.toml named
}

// AsMuch fails with [ErrLess] where the season holds less than the last run knew and nobody has said that it is gone for good.
// Otherwise it keeps what this run knows.
func (s Season) AsMuch(files []string, earlier record.All, o Accepted) error {
	less, gone, err := s.Less(files, earlier, o)
	if err != nil {
		return err
	}
	if len(less) > 0 {
		return fmt.Errorf("%s\n%w", strings.Join(less, "\n"), ErrLess)
	}
	if len(gone) > 0 {
		now := time.Now()
		if zone := s.Sheets.Season.Zone; zone != nil {
			now = now.In(zone)
		}
		if err := words.GiveUp(string(s.Dir), now, len(gone)); err != nil {
			return err
		}
	}
	return errors.Join(s.keepKnown(wordsKnown, s.Words.Text()), s.keepKnown(sheetsKnown, linesOf(s.madeOf())))
}

// A part is one thing that the register is made of.
type part struct {
	kind partKind
	name string
}

type partKind int

// The kinds of parts.
const (
	sheetPart     partKind = iota
	seasonPart             // season.toml
	referencePart          // a reference in it
	carriedPart            // a jacket that was carried over
)

// madeOf is what the register is made of: sheets; season.toml and each reference in it; and jackets that were carried over.
func (s Season) madeOf() (parts []part) {
	for _, name := range s.Sheets.Sheets {
		parts = append(parts, part{sheetPart, name})
	}
	if !s.Sheets.Season.Blank() {
		parts = append(parts, part{seasonPart, seasonKnown})
	}
	for _, r := range s.Sheets.Season.References {
		parts = append(parts, part{referencePart, r.Reference.String()})
	}
	for _, j := range s.Sheets.Jackets {
		if j.Carried != nil {
			parts = append(parts, part{carriedPart, j.Carried.String()})
		}
	}
	return parts
}

// linesOf are parts as sheetsKnown keeps them.
func linesOf(parts []part) []byte {
	lines := make([]string, len(parts))
	for i, p := range parts {
		if lines[i] = p.name; p.kind == referencePart {
			lines[i] = referenceKnown + p.name
		}
	}
	return []byte(strings.Join(lines, "\n"))
}

// partsOf reads them: a reference stands behind its mark, and of the others only jackets that were carried over hold a blank.
func partsOf(known []byte) (parts []part) {
	for line := range strings.SplitSeq(string(known), "\n") {
		name, isReference := strings.CutPrefix(line, referenceKnown)
		switch {
		case line == "":
		case isReference:
			parts = append(parts, part{referencePart, name})
		case line == seasonKnown:
			parts = append(parts, part{seasonPart, line})
		case strings.Contains(line, " "):
			parts = append(parts, part{carriedPart, line})
		default:
			parts = append(parts, part{sheetPart, line})
		}
	}
	return parts
}

// Less says what the last run knew that is no longer here, with what to do, and gives the words among it.
func (s Season) Less(files []string, earlier record.All, o Accepted) (less []string, gone []words.Word, err error) {
	known, err := s.known(sheetsKnown)
	if err != nil {
		return nil, nil, err
	}
	parts := s.madeOf()
	var references []string
	for _, p := range partsOf(known) {
		switch {
		case p.kind == referencePart:
			references = append(references, p.name)
		case slices.Contains(parts, p):
		case p.kind == seasonPart:
			less = append(less, fmt.Sprintf("%s is there and says nothing any more, neither a name nor a reference: put an earlier copy of it back", filepath.Join(string(s.Dir), p.name)))
		case p.kind == sheetPart:
			less = append(less, fmt.Sprintf("the sheet of %s is not here or empty: put it back; one that is no longer wanted stays with its head row only", p.name))
		case !o.PhotosGone:
			less = append(less, fmt.Sprintf("%s, which was carried over, is not below %s/earlier: put its folder back, or bring it again; if it is gone for good: fieldjacket run %s --photos-gone", p.name, s.Dir, s.Dir))
		}
	}
	if gone := s.referencesGone(references); len(gone) > 0 && !o.ReferencesGone && !s.Sheets.Season.Blank() {
		less = append(less, s.referencesText(gone))
	}
	if away := lossesOf(photosOf(earlier, files)); away.far() && !o.PhotosGone {
		less = append(less, s.lossesText(away))
	}
	gone, err = s.WordsGone()
	if err == nil && len(gone) > 0 && !o.WordsRestored {
		less = append(less, s.TellGone(gone))
	}
	return less, gone, err
}

// WordsGone are the words that the last run knew and words.log no longer has.
func (s Season) WordsGone() ([]words.Word, error) {
	known, err := s.known(wordsKnown)
	return s.Words.Lacking(words.Parse(known)), err
}

// TellGone says which words are gone, the first of them by name.
func (s Season) TellGone(gone []words.Word) string {
	are := "are"
	if len(gone) == 1 {
		are = "is"
	}
	return fmt.Sprintf("%s has become shorter: of the words that the last run had read %d %s gone, such as %q: put the whole log back (the last run's copy of it is %s); if they are gone for good: fieldjacket run %s --words-restored",
		words.File, len(gone), are, gone[0], s.Dir.Paper("records", wordsKnown), s.Dir)
}

// mostEmptied is how many folders a message names.
const mostEmptied = 5

func (s Season) lossesText(a losses) string {
	var text strings.Builder
	fmt.Fprintf(&text, "%s: %d of the %d photos that the last run knew are not here", s.Dir.Photos(), a.lost, a.known)
	if n := len(a.emptied); n > 0 {
		text.WriteString(", and none is left in " + strings.Join(a.emptied[:min(n, mostEmptied)], ", "))
		if n > mostEmptied {
			fmt.Fprintf(&text, " and %d more folders", n-mostEmptied)
		}
	}
	fmt.Fprintf(&text, "; is a card or disk not connected? If they are gone for good: fieldjacket run %s --photos-gone takes their plates away", s.Dir)
	return text.String()
}

// photosOf gives the files that the runs before took for photos, and those of files that none of them took for something else.
func photosOf(e record.All, files []string) (known, now []string) {
	other := map[string]bool{}
	for file, r := range e.ByFile() {
		if other[file] = r.NotPhoto(); !other[file] {
			known = append(known, file)
		}
	}
	return known, slices.DeleteFunc(slices.Clone(files), func(file string) bool { return other[file] })
}

// known reads what the last run knew; nil: no run has kept it.
func (s Season) known(name string) ([]byte, error) {
	content, err := keep.Read(s.Dir.Paper("records", name), mostKnown)
	if errors.Is(err, fs.ErrNotExist) {
		return nil, nil
	}
	return content, err
}

// mostKnown bounds what is kept: words.log may have half as much.
const mostKnown = 64 << 20

func (s Season) keepKnown(name string, content []byte) error {
	if before, err := s.known(name); err != nil || bytes.Equal(before, content) {
		return err
	}
	return keep.Bytes(s.Dir.Paper("records", name), 0o600, content)
}
