package record

import (
	"path/filepath"
	"slices"
	"strings"
	"testing"
)

// devices are the names that Windows keeps for its devices, whatever their capitals and what stands behind a dot (Microsoft
// Learn, "Naming Files, Paths, and Namespaces": naming conventions).
var devices = []string{"con", "prn", "aux", "nul", "com1", "com2", "com3", "com4", "com5", "com6", "com7", "com8", "com9",
	"lpt1", "lpt2", "lpt3", "lpt4", "lpt5", "lpt6", "lpt7", "lpt8", "lpt9"}

// TestNumbersInFileNames: numbers with slashes, spaces, umlauts and what no file name may hold give plain names of one part, no two
// the same on a disk that does not tell capitals apart, and none that Windows refuses or shortens.
func TestNumbersInFileNames(t *testing.T) {
	all := []string{"14", "7/07", "7-07", "7 07", "7_07", "7.07", `7\07`, "07", "7", "Ä1", "A1", "a1", "A1.", "A1 ", "Ö1", "ß3", "ss3", "Ss3", "..", ".", "-.14", ".-14", "-14", "14-", "14.",
		"unassigned", "Unassigned", "FF26:JK*14?", "14\t", "14\n", "骨1", "骨2", "x-con", "AUX", "Con.5", "nul.5 a", "com1-2", strings.Repeat("9", 300), strings.Repeat("9", 301)}
	all = append(all, devices...)
	seen := map[string]string{}
	for _, number := range all {
		name := FileNumber(number, all)
		if name == "" || strings.EqualFold(name, "unassigned") || name != filepath.Base(name) || !filepath.IsLocal(name) || strings.ContainsAny(name, `<>:"/\|?* `+"\t\n") || len(name) > 120 ||
			strings.HasPrefix(name, ".") || strings.HasPrefix(name, "-") || strings.HasSuffix(name, ".") {
			t.Errorf("%q gives the file name %q", number, name)
		}
		if first, _, _ := strings.Cut(strings.ToLower(name), "."); slices.Contains(devices, first) {
			t.Errorf("%q gives %q, which Windows keeps for a device", number, name)
		}
		for _, r := range name {
			if r > 126 {
				t.Errorf("%q gives the file name %q", number, name)
			}
		}
		if other, ok := seen[strings.ToLower(name)]; ok {
			t.Errorf("%q and %q both give the file name %q", number, other, name)
		}
		seen[strings.ToLower(name)] = number
	}
	for _, number := range []string{"23A", "a1", "com1-2", "x-con"} {
		if got := FileNumber(number, []string{number, "14", "a10"}); got != number {
			t.Errorf("%s, of which there is no other, becomes %q", number, got)
		}
	}
}
