package main

import (
	"os"
	"path/filepath"
	"strings"
)

// desktopArgs are the arguments for a program that was started from the
// desktop, where nobody could type any: the page of the one season that lies
// beside the program in dir. Else they are nil, and words say what to do.
func desktopArgs(dir string) (args []string, words string) {
	var seasons []string
	entries, _ := os.ReadDir(dir) // what cannot be read holds none
	for _, e := range entries {
		if at, err := os.Stat(filepath.Join(dir, e.Name(), "season.toml")); err == nil && at.Mode().IsRegular() {
			seasons = append(seasons, e.Name())
		}
	}
	const prompt = "\n\nTo type commands, open this folder in the file manager, type cmd into its address line, press Enter, and type\n\n    fieldjacket --help"
	switch len(seasons) {
	case 0:
		return nil, "fieldjacket works on a season's folder, and none lies beside the program.\n\nMake one beside it, or move yours here, and double-click again: its page opens in the browser." +
			prompt + "\n    fieldjacket demo demo\n    fieldjacket new season-2026"
	case 1:
		return []string{"review", "--open", filepath.Join(dir, seasons[0])}, ""
	}
	var lines strings.Builder
	for _, season := range seasons {
		lines.WriteString("\n    fieldjacket review --open \"" + season + `"`)
	}
	return nil, "Several seasons lie beside the program: which one?" + prompt + lines.String()
}
