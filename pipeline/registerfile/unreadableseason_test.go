package registerfile

import (
	"errors"
	"io/fs"
	"strings"
	"testing"

	"fieldjacket/pipeline/seasonfile"
)

func TestUnreadableSeason(t *testing.T) {
	for name, c := range map[string]struct{ text, want string }{
		"no TOML":    {"name = \n", "line 1, name"},
		"wrong type": {"name = \"x\"\n[[reference]]\nkind = \"grid\"\npitch_cm = \"ten\"\n", "line 4, reference.pitch_cm"},
	} {
		_, err := Read(season(t, map[string]string{seasonfile.File: c.text}))
		if err == nil || !strings.Contains(err.Error(), c.want) || !strings.Contains(err.Error(), seasonfile.File) {
			t.Errorf("%s: error %v, want %q and the file's name in it", name, err, c.want)
		}
	}
	if _, err := Read(t.TempDir()); !errors.Is(err, fs.ErrNotExist) {
		t.Errorf("empty folder: %v", err)
	}
}
