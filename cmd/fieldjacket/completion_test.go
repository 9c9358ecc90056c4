package main

import (
	"bytes"
	"context"
	"os"
	"os/exec"
	"path/filepath"
	"strings"
	"testing"
)

// TestBashCompletes asks bash itself what it would offer after what is typed.
func TestBashCompletes(t *testing.T) {
	bash, err := exec.LookPath("bash")
	if err != nil {
		t.Skip("no bash")
	}
	for _, c := range []struct{ typed, offers, not string }{
		{"fieldjacket ", "run", "card"},
		{"fieldjacket pr", "print", "run"},
		{"fieldjacket print ", "card", "run"},
		{"fieldjacket print card --n", "--number", "--name"},
		{"fieldjacket run season --js", "--json", "--html"},
		{"fieldjacket say season-2", "season-2026", "--json"},
	} {
		words := strings.Fields(c.typed)
		if strings.HasSuffix(c.typed, " ") {
			words = append(words, "")
		}
		script := completion(t, "bash") + "\nCOMP_WORDS=(" + quoted(words) + ")\nCOMP_CWORD=$((${#COMP_WORDS[@]} - 1))\n_fieldjacket\nprintf '%s\\n' \"${COMPREPLY[@]}\"\n"
		dir := t.TempDir()
		if err := os.Mkdir(filepath.Join(dir, "season-2026"), 0o755); err != nil {
			t.Fatal(err)
		}
		cmd := exec.Command(bash, "-c", script)
		cmd.Dir = dir
		out, err := cmd.CombinedOutput()
		if err != nil {
			t.Fatalf("%v\n%s", err, out)
		}
		offered := "\n" + string(out)
		if !strings.Contains(offered, "\n"+c.offers+"\n") || strings.Contains(offered, "\n"+c.not+"\n") {
			t.Errorf("%q: offered %q, want %s and not %s", c.typed, out, c.offers, c.not)
		}
	}
}

func quoted(words []string) string {
	var b strings.Builder
	for _, w := range words {
		b.WriteString("'" + w + "' ")
	}
	return b.String()
}

// TestCompletionsNameWhatThereIs: each script names commands and flags, none
// that is hidden; fish asks for both words of a command in two.
func TestCompletionsNameWhatThereIs(t *testing.T) {
	for shell, wants := range map[string][]string{
		"zsh":  {"#compdef fieldjacket", `" print card") at=`, "--squares"},
		"fish": {"-n '__fish_use_subcommand' -a run -d ", "-n '__fish_seen_subcommand_from print ; and __fish_seen_subcommand_from card' -l number -d "},
	} {
		script := completion(t, shell)
		for _, want := range wants {
			if !strings.Contains(script, want) {
				t.Errorf("%s: no %q", shell, want)
			}
		}
		if strings.Contains(script, "completion") {
			t.Errorf("%s offers the hidden command", shell)
		}
	}
}

func completion(t *testing.T, shell string) string {
	t.Helper()
	var out, said bytes.Buffer
	if code := run(context.Background(), []string{"completion", shell}, terminal{strings.NewReader(""), &out, &said}); code != exitDone {
		t.Fatalf("ended with %d: %s", code, said.String())
	}
	return out.String()
}
