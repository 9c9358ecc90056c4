package words

import (
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"strconv"
	"strings"
	"time"
	"unicode"
	"unicode/utf8"

	"fieldjacket/pipeline/register"
)

// A Word is one thing that somebody said: a line of words.log.
//
// Five fields with a tab between them; a line that begins with # is a remark:
//
//	2026-02-11T18:42:05-03:00	RKA	photo rka/IMG_0421.JPG	jackets	21; 22
//
// the time with its offset; the initials of who says so; what it is about; what is said; the value. In every field
// \t, \n, \r and \\ stand for a tab, a line's end and a backslash. A word is about one of
//
//	photo rka/IMG_0421.JPG      exactly that file below photos/, with its ending
//	photos rka/IMG_0430-0436    a range or wildcard as in photos.csv; the folder must be said, photos/IMG_04* for photos/ itself
//	jacket 23B
//	find 21
//	setup S1
//	line 12 3fa81c2e            an earlier line and its mark, see undo
//
// and says one of these (numbers of jackets, set-ups and finds are texts, never parsed). Points are x,y in pixels of the
// upright photo, x right, y down, (0, 0) the centre of the top-left pixel, several separated by blanks; lengths carry
// their unit, 8cm or 412mm.
//
//	about photos
//	jackets         21; 22, or none: it shows no jacket
//	view            gridded, or none: no view
//	setup           S1, or none
//	caption         any text
//	chosen          yes or no
//	leave_out       yes or no
//	no_scale        yes, or yes: why; no
//	release people  yes: whoever can be told in it agrees that it is shown, see package consent; also release setting; no
//	reference       checker 7x5/2cm at POINT POINT POINT POINT, see [ManualReference]; bar 10cm/1cm at POINT POINT; also checker 7x5/2cm tolerance 1mm picked 2px at ...
//	end 1, end 2    POINT; with the find where a photo shows several: end 1 21
//	north           POINT POINT magnetic: from tail to head; magnetic, true or grid
//	origin          POINT, where the outer corner of square A1 lies; or POINT POINT: and a place towards which the letters run
//	up field top    POINT POINT, from tail to head; also up way up (of the beds), up carry (this side up)
//	outline NAME    bone at POINT POINT POINT ..., or bone level 8cm at ...: that far below the reference; also block
//	about photos or a set-up
//	depth           8cm, from the reference down to the bone; depth B3: in square B3
//	tape A1 to F6   707mm from the middle of one square to that of the other, or in a photo 412mm at POINT POINT
//	about a jacket
//	waiver gridded  the reason; the initials are those of the line
//	about a find
//	museum_number   NM 2026/1234, as the museum gave it
//	about a line
//	undo            nothing: that line counts as never written. Undoing an undo brings its line back
type Word struct {
	At    time.Time // with the offset of where it was said; for people only
	By    string    // initials
	About About
	What  What
	Name  string // of the end, outline, square, view ... that What takes; "" where it takes none
	Value string // in the form that What takes; "" takes back what was said before
}

// A Line is a word as it stands in the log.
type Line struct {
	Word
	Number int    // of the line in the file, from 1
	Mark   string // eight hex digits of the line's hash, by which undo finds it
	Undone bool
}

// Undo is the word that takes l back.
func (l Line) Undo(at time.Time, by string) Word {
	return Word{At: at, By: by, About: About{Kind: AboutLine, Name: fmt.Sprintf("%d %s", l.Number, l.Mark)}, What: Undo}
}

// An About says what a word is about. Make it with [Photo], [Photos], [Jacket] or [SetUp].
type About struct {
	Kind  string         // one of the Abouts
	Name  string         // as in the log
	Which register.Which // of AboutPhotos
}

// What a word can be about.
const (
	AboutPhoto  = "photo"
	AboutPhotos = "photos"
	AboutJacket = "jacket"
	AboutFind   = "find"
	AboutSetUp  = "setup"
	AboutLine   = "line"
)

// Photo is about one file, a slash path below photos/ as in Record.Photo.File.
func Photo(file string) About { return About{Kind: AboutPhoto, Name: file} }

// Photos is about a range or wildcard with its folder, as photos.csv has it.
func Photos(which string) (About, error) { return aboutOf(AboutPhotos, which) }

// Jacket is about a jacket of that number.
func Jacket(number string) About { return About{Kind: AboutJacket, Name: number} }

// Find is about a find of that field number.
func Find(number string) About { return About{Kind: AboutFind, Name: number} }

// SetUp is about a set-up of that name.
func SetUp(name string) About { return About{Kind: AboutSetUp, Name: name} }

// ParseAbout reads what a word is about, "photo rka/IMG_0421.JPG".
func ParseAbout(text string) (About, error) {
	kind, name, _ := strings.Cut(text, " ")
	return aboutOf(kind, name)
}

func aboutOf(kind, name string) (About, error) {
	a := About{Kind: kind, Name: strings.TrimSpace(name)}
	if a.Name == "" {
		return a, fmt.Errorf("about %q: want photo, photos, jacket, setup or line with a name behind it, in one pair of quotes, such as 'jacket 14'", strings.TrimSpace(kind+" "+name))
	}
	switch kind {
	case AboutPhoto, AboutJacket, AboutFind, AboutSetUp:
		return a, nil
	case AboutLine:
		number, mark, _ := strings.Cut(a.Name, " ")
		if n, err := strconv.Atoi(number); err != nil || n < 1 || len(mark) != markDigits {
			return a, fmt.Errorf("line %q: want a line's number and its mark, such as 12 3fa81c2e", a.Name)
		}
		return a, nil
	case AboutPhotos:
		var err error
		if a.Which, err = register.ParseWhich(a.Name); err != nil {
			return a, err
		}
		if !a.Which.HasFolder {
			return a, fmt.Errorf("photos %q: want the folder too, such as rka/%s, or photos/%s for photos/ itself", a.Name, a.Name, a.Name)
		}
		return a, nil
	}
	return a, fmt.Errorf("about %q: want photo, photos, jacket, setup or line and then a name, such as 'photo ana/IMG_0412'", strings.TrimSpace(kind+" "+name))
}

// String writes it as in the log.
func (a About) String() string { return a.Kind + " " + a.Name }

// Covers reports whether the photo at a slash path below photos/ is meant.
func (a About) Covers(file string) bool {
	return a.Kind == AboutPhoto && samePath(a.Name, file) || a.Kind == AboutPhotos && a.Which.Covers(file)
}

const (
	markDigits = 8
	fields     = 5
	maxInField = 20000 // characters; an outline of a thousand points has 12000
)

// markOf is a line's mark.
func markOf(line string) string {
	sum := sha256.Sum256([]byte(line))
	return hex.EncodeToString(sum[:])[:markDigits]
}

var (
	escape   = strings.NewReplacer(`\`, `\\`, "\t", `\t`, "\n", `\n`, "\r", `\r`)
	unescape = strings.NewReplacer(`\\`, `\`, `\t`, "\t", `\n`, "\n", `\r`, "\r")
)

// line writes the word as it stands in the log, without the line's end.
func (w Word) line() string {
	what := strings.TrimSpace(string(w.What) + " " + w.Name)
	parts := []string{w.At.Format(time.RFC3339), w.By, w.About.String(), what, w.Value}
	for i, p := range parts {
		parts[i] = escape.Replace(p)
	}
	return strings.Join(parts, "\t")
}

// parse reads a line of the log, whatever its value is worth.
func parse(line string) (Word, error) {
	if !utf8.ValidString(line) {
		return Word{}, errors.New("is not UTF-8 text")
	}
	parts := strings.Split(line, "\t")
	if len(parts) == fields-1 {
		parts = append(parts, "") // an editor that takes blanks off line ends
	}
	if len(parts) != fields {
		return Word{}, fmt.Errorf("has %d fields between tabs: want %d: time, initials, about, what, value", len(parts), fields)
	}
	for i, p := range parts {
		if len(p) > maxInField {
			return Word{}, fmt.Errorf("field %d has %d bytes: want at most %d", i+1, len(p), maxInField)
		}
		parts[i] = unescape.Replace(p)
	}
	at, err := time.Parse(time.RFC3339, parts[0])
	if err != nil {
		return Word{}, fmt.Errorf("time %q: want it as 2026-02-11T18:42:05-03:00", parts[0])
	}
	w := Word{At: at, By: parts[1], Value: parts[4]}
	if w.About, err = ParseAbout(parts[2]); err != nil {
		return Word{}, err
	}
	if w.What, w.Name, err = ParseWhat(parts[3]); err != nil {
		return Word{}, err
	}
	return w, w.Check()
}

// Check tells what is wrong with a word by itself.
func (w Word) Check() error {
	if strings.TrimSpace(w.By) == "" || len([]rune(w.By)) > 40 || strings.ContainsFunc(w.By, unicode.IsControl) {
		return fmt.Errorf("by %q: want the initials of who says so", w.By)
	}
	for _, text := range []string{w.About.Name, w.Name, w.Value} {
		if !utf8.ValidString(text) {
			return fmt.Errorf("%q is not UTF-8 text", text)
		}
		if len(escape.Replace(text)) > maxInField {
			return fmt.Errorf("a text of %d bytes: want at most %d", len(text), maxInField)
		}
	}
	if strings.HasSuffix(w.Value, unfinished) {
		return fmt.Errorf("value %q: %s ends a line that a power cut left half written", w.Value, unfinished)
	}
	if _, err := aboutOf(w.About.Kind, w.About.Name); err != nil {
		return err
	}
	rule, ok := rules[w.What]
	if !ok {
		return fmt.Errorf("what %q: want one of %s", w.What, listed(order))
	}
	return rule.check(w)
}
