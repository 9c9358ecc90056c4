package paperwork

import (
	"encoding/csv"
	"fmt"
	"io"
)

// WriteFiles writes the list of all photos that belong to a jacket, those of earlier seasons behind, as CSV: each once, however many
// plates were made of it.
func WriteFiles(w io.Writer, p Packet) error {
	p = printable(p, p.Season)
	rows := [][]string{{"season", "photo", "taken", "sha256"}}
	seasons := p.seasons()
	for i := range seasons {
		of := seasons[len(seasons)-1-i]
		name := of.From
		if name == "" {
			name = of.Season.Name
		}
		for _, f := range of.Files {
			rows = append(rows, []string{name, f.Name, f.Taken, f.SHA256})
		}
	}
	out := csv.NewWriter(w)
	if err := out.WriteAll(rows); err != nil {
		return err
	}
	return out.Error()
}

// fileCount says in a line how many photos there are and where they are listed; "" where there is none.
func fileCount(p Packet) string {
	n := 0
	for _, of := range p.seasons() {
		n += len(of.Files)
	}
	if n == 0 {
		return ""
	}
	return fmt.Sprintf("%s of this package, with names and SHA-256 in the list beside this file, %s.", counted(n, "photo"), p.FileList)
}
