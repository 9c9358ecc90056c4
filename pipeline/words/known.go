package words

import (
	"fmt"
	"path/filepath"
	"strings"
	"time"
)

// Text is the log's file as it was read.
func (l *Log) Text() []byte { return l.text }

// Parse reads a log from its bytes, and passes over what is no word.
func Parse(content []byte) *Log {
	log, _ := readLog(content)
	return log
}

// Lacking gives the words of an earlier state of the log that l no longer has: none where it was only added to.
func (l *Log) Lacking(earlier *Log) (gone []Word) {
	have := map[string]bool{}
	for _, line := range l.Lines {
		have[line.line()] = true
	}
	for _, line := range earlier.Lines {
		if !have[line.line()] {
			gone = append(gone, line.Word)
		}
	}
	return gone
}

// String says the word without its time: "photo ann/IMG_0412.JPG, no_scale: yes (AB)".
func (w Word) String() string {
	return fmt.Sprintf("%s, %s: %s (%s)", w.About, strings.TrimSpace(string(w.What)+" "+w.Name), w.Value, w.By)
}

// GiveUp notes in the log of the season folder dir, as a remark, that a person goes on without so many words.
func GiveUp(dir string, at time.Time, gone int) error {
	unlock, err := lock(dir)
	if err != nil {
		return err
	}
	defer unlock()
	return add(filepath.Join(dir, File), func(int) string {
		return fmt.Sprintf("# %s: words that an earlier run had read and that were not here any more, given up with --words-restored: %d\n", at.Format(time.RFC3339), gone)
	})
}
