package words

import (
	"bytes"
	"errors"
	"fmt"
	"io/fs"
	"path/filepath"
	"slices"
	"strings"

	"golang.org/x/text/unicode/norm"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/register"
)

// File is the log's name in the season's folder.
const File = "words.log"

// maxBytes bounds the log; a season with a word for each of 5000 photos has half a megabyte.
const maxBytes = 32 << 20

// unfinished ends a line that a power cut left half written.
const unfinished = "# unfinished"

// opening is the log's first line.
const opening = "# what people said: time, initials, about, what, value, with tabs between; only added to, the later line counts\n"

// A Log is every word that could be read, in the order of the file. The zero Log has none.
//
// For each photo (set-up, jacket) and each thing said of it, name included ("end 1", "outline femur", "depth B3"), the last
// line of the file counts that is not undone, whether it was about the one photo or about a range with the photo in it;
// the times are for people and decide nothing, since clocks differ. A value left blank takes back what was said before it: it is
// as if nobody had said anything. Words of the log count more than photos.csv, which counts more than any sign in a
// photo or its name.
//
// A line that cannot be read costs that line and is a Problem. So is a last line without its line's end, which a power cut
// leaves: half of "jackets 14" is "jackets 1". [Append] closes it with "# unfinished", and it never counts.
type Log struct {
	Lines []Line
	text  []byte // as read
}

// Read reads the log of the season folder dir; without one it has no words. Each line that cannot be used is a problem; a log that is
// there and cannot be read is one that costs the file, see [register.Register.Unread].
func Read(dir string) (*Log, []register.Problem) {
	content, err := keep.Read(filepath.Join(dir, File), maxBytes)
	if errors.Is(err, fs.ErrNotExist) {
		return &Log{}, nil
	}
	if err == nil && len(content) > maxBytes {
		err = fmt.Errorf("larger than %d MB", maxBytes>>20)
	}
	if err != nil {
		return &Log{}, []register.Problem{{File: File, Allowed: "cannot be read: " + err.Error(), Lost: register.LostFile}}
	}
	return readLog(content)
}

func readLog(content []byte) (*Log, []register.Problem) {
	log := &Log{text: content}
	var problems []register.Problem
	fault := func(number int, line, allowed string) {
		problems = append(problems, register.Problem{File: File, Row: number, Value: strings.ToValidUTF8(line, "?"), Allowed: allowed, Lost: register.LostLine})
	}
	content = bytes.TrimPrefix(content, []byte("\xef\xbb\xbf"))
	for number := 1; len(content) > 0; number++ {
		raw, rest, ended := bytes.Cut(content, []byte("\n"))
		content = rest
		line := strings.TrimSuffix(string(raw), "\r")
		switch {
		case strings.TrimSpace(line) == "", strings.HasPrefix(line, "#"):
		case !ended, strings.HasSuffix(line, unfinished):
			fault(number, line, "was not finished: say it again")
		default:
			w, err := parse(line)
			if err != nil {
				fault(number, line, err.Error())
				continue
			}
			log.Lines = append(log.Lines, Line{Word: w, Number: number, Mark: markOf(line)})
		}
	}
	for _, l := range log.takeBack() {
		fault(l.Number, l.line(), fmt.Sprintf("takes back line %s, which is not before it: see the lines with fieldjacket say", l.About.Name))
	}
	return log, problems
}

// takeBack settles which lines are undone, from the last to the first, since an undo may be undone itself; it returns the
// undos that find no line before them.
func (l *Log) takeBack() (lost []Line) {
	for i := len(l.Lines) - 1; i >= 0; i-- {
		u := l.Lines[i]
		if u.What != Undo || u.Undone {
			continue
		}
		_, mark, _ := strings.Cut(u.About.Name, " ")
		found := false
		for j := range i {
			if l.Lines[j].Mark == mark {
				l.Lines[j].Undone, found = true, true
			}
		}
		if !found {
			lost = append(lost, u)
		}
	}
	slices.Reverse(lost)
	return lost
}

// Line returns the line of that number.
func (l *Log) Line(number int) (Line, bool) {
	i := slices.IndexFunc(l.Lines, func(x Line) bool { return x.Number == number })
	if i < 0 {
		return Line{}, false
	}
	return l.Lines[i], true
}

// samePath compares paths whose accents may be composed in two ways.
func samePath(a, b string) bool { return a == b || norm.NFC.String(a) == norm.NFC.String(b) }
