package register

import (
	"fmt"
	"strings"
)

// What a [Problem] costs.
const (
	LostFile    = "this file"
	LostRow     = "this row"
	LostCell    = "this cell"
	LostKey     = "this key"  // of season.toml
	LostLine    = "this line" // of words.log
	LostNothing = "nothing"   // a warning

	LostReference = "this reference" // of season.toml
)

// A Problem is one fault of season.toml or of a sheet, in words for the person who filled it in.
type Problem struct {
	File    string // in the season folder: "jackets.csv"
	Row     int    // as a spreadsheet shows it, the head is row 1; of season.toml the line; 0: the file as a whole
	Column  string // the column's head, or the key of season.toml; "": the row as a whole
	Value   string // as found; "": blank or missing
	Allowed string // what is wrong and what is allowed: "want one of found, exposed, ..."
	Lost    string // what it costs: one of the texts above, or "this mix" and the like
}

// maxShown is how many characters of a faulty value a message shows.
const maxShown = 60

// Error gives the whole sentence: `jackets.csv row 5, stage "mappd": want one of found, exposed, ...; this cell is not used`.
func (p Problem) Error() string {
	var b strings.Builder
	b.WriteString(p.File)
	if p.Row > 0 {
		word := "row"
		if strings.HasSuffix(p.File, ".toml") || strings.HasSuffix(p.File, ".log") {
			word = "line"
		}
		fmt.Fprintf(&b, " %s %d", word, p.Row)
	}
	if p.Column != "" {
		b.WriteString(", " + p.Column)
	}
	if p.Value != "" {
		shown := []rune(p.Value)
		if len(shown) > maxShown {
			shown = append(shown[:maxShown:maxShown], '…')
		}
		fmt.Fprintf(&b, " %q", string(shown))
	}
	b.WriteString(": " + p.Allowed)
	if p.Lost != "" && p.Lost != LostNothing {
		b.WriteString("; " + p.Lost + " is not used")
	}
	return b.String()
}
