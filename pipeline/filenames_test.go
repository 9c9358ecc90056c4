package pipeline

import (
	"path/filepath"
	"strings"
	"testing"
)

// TestNumbersInFileNames: numbers with slashes, spaces, umlauts and what no file name may hold give plain names of one part, no two the same.
func TestNumbersInFileNames(t *testing.T) {
	seen := map[string]string{}
	for _, number := range []string{"14", "7/07", "7-07", "7 07", "7_07", "7.07", `7\07`, "07", "7", "Ä1", "A1", "Ö1", "ß3", "ss3", "..", ".", "-14", "14-", "unassigned",
		"FF26:JK*14?", "14\t", "14\n", "骨1", "骨2", strings.Repeat("9", 300), strings.Repeat("9", 301)} {
		name := fileNumber(number)
		if name == "" || name == "unassigned" || name != filepath.Base(name) || !filepath.IsLocal(name) || strings.ContainsAny(name, `<>:"/\|?* `+"\t\n") || len(name) > 120 || strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-") {
			t.Errorf("%q gives the file name %q", number, name)
		}
		for _, r := range name {
			if r > 126 {
				t.Errorf("%q gives the file name %q", number, name)
			}
		}
		if other, ok := seen[name]; ok {
			t.Errorf("%q and %q both give the file name %q", number, other, name)
		}
		seen[name] = number
	}
	if got := fileNumber("23A"); got != "23A" {
		t.Errorf("a plain number becomes %q", got)
	}
}
