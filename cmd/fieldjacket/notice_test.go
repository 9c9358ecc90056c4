package main

import (
	"os"
	"os/exec"
	"strings"
	"testing"
)

// TestNoticeNamesWhatIsLinked: every module that goes into the programs stands
// in NOTICE, with its version, for that is what its licence asks for.
func TestNoticeNamesWhatIsLinked(t *testing.T) {
	notice, err := os.ReadFile("../../NOTICE")
	if err != nil {
		t.Fatal(err)
	}
	list := exec.Command("go", "list", "-deps", "-f", "{{with .Module}}{{if .Version}}{{.Path}} {{.Version}}{{end}}{{end}}", "../...")
	list.Stderr = os.Stderr
	out, err := list.Output()
	if err != nil {
		t.Fatal(err)
	}
	linked := 0
	for module := range strings.Lines(string(out)) {
		if module = strings.TrimSpace(module); module == "" {
			continue
		}
		linked++
		if !strings.Contains(string(notice), module) {
			t.Errorf("NOTICE does not name %s", module)
		}
	}
	if linked < 20 {
		t.Errorf("%d packages from other modules: this test looks in the wrong place", linked)
	}
}
