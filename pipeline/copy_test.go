package pipeline

import (
	"context"
	"os"
	"path/filepath"
	"testing"

	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/offload"
)

// closing takes the right to read a folder away when the copying begins.
type closing struct{ folder string }

func (c closing) Started(int)  { _ = os.Chmod(c.folder, 0) }
func (c closing) Photo(string) {}

// TestWhatWasVerifiedIsKeptThoughItCannotBeToldOf: a folder of the phone's owner that cannot be read loses no proof of what was
// copied beside it. The superuser reads everything.
func TestWhatWasVerifiedIsKeptThoughItCannotBeToldOf(t *testing.T) {
	if os.Geteuid() == 0 {
		t.Skip("the superuser reads everything")
	}
	dir, phone := newSeason(t), t.TempDir()
	put(t, phone, "DCIM/IMG_0001.JPG", "a photo")
	put(t, dir, "photos/tk/jacket 14/note.txt", "x")
	closed := filepath.Join(dir, "photos/tk/jacket 14")
	defer os.Chmod(closed, 0o755)
	if _, _, err := offload.CopyInto(context.Background(), folder.Dir(dir), opened(t, dir).Register.Season, offload.Into{From: phone, As: "tk"}, closing{closed}); err == nil {
		t.Error("a folder that cannot be read is told of")
	}
	kept, err := offload.ReadKept(dir)
	if err != nil || len(kept.Folders["tk"].Files) != 1 {
		t.Errorf("kept %+v, %v", kept, err)
	}
}
