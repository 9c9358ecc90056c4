package registerfile

import (
	"fmt"
	"os"
	"path/filepath"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/table"
)

// sheetEndings are those of files that a spreadsheet program saves.
var sheetEndings = []string{".csv", ".xlsx", ".xls", ".xlsm", ".xlsb", ".ods", ".fods", ".tsv", ".numbers", ".gsheet"}

// warnFiles reports sheets that a spreadsheet program has open, since what was typed after the last save is not read, and sheets
// in the season's folder that nobody reads.
func (r reading) warnFiles(dir string) {
	entries, _ := os.ReadDir(dir) // a folder that cannot be listed has been reported where its files were read
	for _, e := range entries {
		name, lock := strings.CutPrefix(e.Name(), "~$")
		if !lock {
			if name, lock = strings.CutPrefix(e.Name(), ".~lock."); lock {
				name = strings.TrimSuffix(name, "#")
			}
		}
		if stem, text := strings.CutSuffix(strings.ToLower(name), ".txt"); text && !lock && isSheet(stem+".csv") {
			r.warn(register.Problem{File: name, Lost: register.LostNothing, Allowed: "is not read: call it " + stem + ".csv if it is the sheet, or move it out of the folder"})
			continue
		}
		switch {
		case !slices.Contains(sheetEndings, strings.ToLower(filepath.Ext(name))) || e.IsDir():
		case lock:
			r.warn(register.Problem{File: name, Lost: register.LostNothing,
				Allowed: fmt.Sprintf("is open in another program (%s is there): save and close it; what was typed since is not read", e.Name())})
		case !isSheet(name) && !strings.HasPrefix(name, "."):
			r.warn(register.Problem{File: name, Lost: register.LostNothing,
				Allowed: "is not read: a season's sheets are " + table.BookFile + ", or finds.csv, jackets.csv, setups.csv, localities.csv, diary.csv, and photos.csv; save it as that, or move it out of the folder"})
		}
	}
}

// isSheet reports whether a file of that name is read.
func isSheet(name string) bool {
	return strings.EqualFold(name, table.BookFile) || slices.ContainsFunc(table.Forms, func(f table.Form) bool { return strings.EqualFold(name, f.File) })
}
