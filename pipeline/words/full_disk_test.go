package words

import (
	"os"
	"path/filepath"
	"syscall"
	"testing"
)

// fullAfter makes the disk full for a while: so many bytes are written and no more.
func fullAfter(room int) (withRoom func()) {
	write = func(f *os.File, text string) (int, error) {
		if len(text) <= room {
			return f.WriteString(text)
		}
		n, _ := f.WriteString(text[:room])
		return n, syscall.ENOSPC
	}
	return func() { write = (*os.File).WriteString }
}

// TestOnAFullDiskAllWordsStandOrNone, wherever within six words the room ends; nothing half written is left, and with room again
// they stand as if it had always been there.
func TestOnAFullDiskAllWordsStandOrNone(t *testing.T) {
	var six []Word
	for _, file := range []string{"a", "b", "c", "d", "e", "f"} {
		six = append(six, say(Photo("rka/"+file+".JPG"), Jackets, "", "21; 22"))
	}
	for name, before := range map[string]string{
		"to a new log":                  "",
		"to a log":                      opening + "2026-02-11T18:42:05-03:00\tRKA\tjacket 23B\twaiver gridded\tundercut\n",
		"behind a line left unfinished": opening + "2026-02-11T18:42:05-03:00\tRKA\tjacket 23B\twaiver gri",
	} {
		t.Run(name, func(t *testing.T) {
			dir := t.TempDir()
			path := filepath.Join(dir, File)
			if before != "" {
				if err := os.WriteFile(path, []byte(before), 0o644); err != nil {
					t.Fatal(err)
				}
			}
			for room := 0; room < 600; room += 7 {
				withRoom := fullAfter(room)
				lines, err := Append(dir, six...)
				withRoom()
				got, _ := os.ReadFile(path)
				if err == nil {
					if room < 6*60 {
						t.Fatalf("six words found room in %d bytes", room)
					}
					break
				}
				if _, there := os.Stat(path); lines != nil || string(got) != before || before == "" && there == nil {
					t.Fatalf("room for %d bytes: %v, and the log is\n%s", room, err, got)
				}
			}
			log, problems := Read(dir)
			wanted := 0
			if name == "behind a line left unfinished" {
				wanted = 1 // the line that was there before
			}
			if len(problems) != wanted || len(log.Lines) < 6 {
				t.Errorf("with room again: %d words, %v", len(log.Lines), problems)
			}
		})
	}
}
