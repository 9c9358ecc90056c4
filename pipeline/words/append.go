package words

import (
	"bytes"
	"context"
	"errors"
	"fmt"
	"os"
	"path/filepath"
	"strings"
	"time"

	"github.com/gofrs/flock"
)

// ErrBusy says that another program has held the log for too long.
var ErrBusy = errors.New("another program is writing to words.log: try again")

// patience is how long Append waits for another writer, which needs some milliseconds.
const patience = 5 * time.Second

// Append adds words to the log of the season folder dir, all or none, and returns their lines. It makes the log when there is
// none, never changes a line, and has flushed it to the disk when it returns. Several programs may append: a lock
// below paper/ has them wait for each other. An error names the word that is wrong, or why nothing could be
// written; then nothing is.
//
// Build a [Word] and hand it to [Append], or to pipeline.Season.Say, which also checks that the photo, jacket or set-up
// exists:
//
//	w := words.Word{At: now, By: "RKA", About: words.Photo("rka/IMG_0421.JPG"), What: words.Jackets, Value: "21; 22"}
//	lines, err := words.Append(dir, w)             // lines[0].Number, lines[0].Mark
//	_, err = words.Append(dir, lines[0].Undo(now, "RKA"))
func Append(dir string, said ...Word) ([]Line, error) {
	for _, w := range said {
		if err := w.Check(); err != nil {
			return nil, err
		}
		if again, err := parse(w.line()); err != nil || again.line() != w.line() {
			return nil, fmt.Errorf("%q cannot be written as one line: %w", w.line(), err)
		}
	}
	if len(said) == 0 {
		return nil, nil
	}
	unlock, err := lock(dir)
	if err != nil {
		return nil, err
	}
	defer unlock()
	lines := make([]Line, len(said))
	err = add(filepath.Join(dir, File), func(number int) string {
		var text strings.Builder
		for i, w := range said {
			lines[i] = Line{Word: w, Number: number + i, Mark: markOf(w.line())}
			text.WriteString(w.line() + "\n")
		}
		return text.String()
	})
	if err != nil {
		return nil, err
	}
	return lines, nil
}

// closing is what has to come before new lines: the opening of a new log, the end of a line left half written.
func closing(before []byte, isNew bool) string {
	switch {
	case isNew || len(before) == 0:
		return opening
	case !bytes.HasSuffix(before, []byte("\n")):
		return " " + unfinished + "\n"
	}
	return ""
}

// lock keeps other writers of the log out. The lock's file lies below paper/, where all that the program owns lies.
func lock(dir string) (unlock func(), err error) {
	paper := filepath.Join(dir, "paper")
	if err := os.MkdirAll(paper, 0o755); err != nil {
		return nil, err
	}
	l := flock.New(filepath.Join(paper, ".words.lock"))
	ctx, cancel := context.WithTimeout(context.Background(), patience)
	defer cancel()
	held, err := l.TryLockContext(ctx, 20*time.Millisecond)
	if errors.Is(err, context.DeadlineExceeded) || err == nil && !held {
		return nil, ErrBusy
	}
	if err != nil {
		return nil, fmt.Errorf("%s: %w", filepath.Join(paper, ".words.lock"), err)
	}
	return func() { _ = l.Unlock() }, nil
}
