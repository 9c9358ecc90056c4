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

// A Word is one thing that somebody said.
type Word struct {
	At    time.Time // with the offset of where it was said; for people only
	By    string    // initials
	About About
	What  What
	Name  string // of the end, outline, square, view ... that What takes; "" where it takes none
	Value string // as in the package comment; "" takes back what was said before
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
	AboutSetUp  = "setup"
	AboutLine   = "line"
)

// Photo is about one file, a slash path below photos/ as in Record.Photo.File.
func Photo(file string) About { return About{Kind: AboutPhoto, Name: file} }

// Photos is about a range or wildcard with its folder, as photos.csv has it.
func Photos(which string) (About, error) { return aboutOf(AboutPhotos, which) }

// Jacket is about a jacket of that number.
func Jacket(number string) About { return About{Kind: AboutJacket, Name: number} }

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
	case AboutPhoto, AboutJacket, AboutSetUp:
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
