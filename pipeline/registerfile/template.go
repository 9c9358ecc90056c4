package registerfile

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fieldjacket/pipeline/keep"
	"fieldjacket/pipeline/seasonfile"
	"fieldjacket/pipeline/table"
)

// ErrSeasonThere says that a folder holds a season already.
var ErrSeasonThere = errors.New("holds a season already: want a new or an empty folder")

// Template makes dir an empty season folder: a season.toml that explains itself, the workbook with its heads, or with csv the same
// sheets as CSV files, the folders for photos and tracks, and a page on how to use them. Nothing that is there already is
// written over.
func Template(dir string, csv bool) error {
	names := []string{seasonfile.File, howToFile}
	for _, f := range table.Forms {
		names = append(names, f.File)
	}
	for _, name := range append(names, table.BookFile) {
		if _, err := os.Lstat(filepath.Join(dir, name)); !errors.Is(err, fs.ErrNotExist) {
			if err != nil {
				return err
			}
			return fmt.Errorf("%s: %s is there: %w", dir, name, ErrSeasonThere)
		}
	}
	for _, folder := range []string{"photos", "tracks"} {
		if err := os.MkdirAll(filepath.Join(dir, folder), 0o755); err != nil {
			return err
		}
	}
	if !csv {
		if err := keep.Write(filepath.Join(dir, table.BookFile), 0o644, func(w io.Writer) error { return table.WriteBook(w, nil) }); err != nil {
			return err
		}
	}
	for _, f := range table.Forms {
		if !csv && f.InBook() {
			continue
		}
		if err := write(dir, f.File, strings.Join(f.Heads, ",")+"\n"); err != nil {
			return err
		}
	}
	if err := write(dir, howToFile, howTo); err != nil {
		return err
	}
	return write(dir, seasonfile.File, seasonfile.New()) // last: a folder is a season when this file is there
}

func write(dir, name, text string) error {
	return keep.Write(filepath.Join(dir, name), 0o644, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}

const howToFile = "HOWTO.txt"

// emptySeason is the season.toml of a new season. It gives no time zone, since nothing is known of the place.
// howTo is the page in a new season's folder.
const howTo = `A season folder

season.toml      the season, what you carry for scale, who is who. Read it through once.
register.xlsx    the register, seven sheets; its sheet "how to" says what goes into each column. Or the same sheets as CSV files
                 (finds.csv and so on: fieldjacket new --csv), never both.
  finds          one row per find. Fill in at least field_number, date, what, by.
  jackets        one row per jacket, vial, bag ... At least jacket. Leave the sheet without rows if every find
                 has a jacket of its own with the same number.
  setups         one row for each time a grid was laid. Optional.
  localities     one row per locality. Positions, landowners and permits are kept out of what is sent to a lab.
  diary          one row per thing done. At least date, numbers, what, by. Write the stage that was reached.
  points         known points of the quarry's own grid, metres from a datum peg. Optional, for the map.
  placements     where each set-up lies in it: one row for each corner, tape or shared edge that was measured. Optional.
photos.csv       your word on photos where names of folders do not say enough. Optional.
photos/          copies of the phones' photos, one folder per person. Nothing is ever written there.
tracks/          tracks of a handheld receiver.
earlier/         jackets brought over from an earlier season with their history: fieldjacket bring. Keep it with the season.

Only what is named above has to be filled in. Leave a cell blank when you do not know: it is printed as "not recorded".
Dates are written 2026-02-11. Several numbers in one cell are separated by semicolons: 12; 13. Save CSV files as CSV UTF-8.
Columns may stand in any order, and you may add your own: they are printed under "other".
Numbers of finds and jackets are any text. Write a number in the same way everywhere: 7 and 07 are two numbers.
A set-up's edge_bearing_deg is that of its edge from the origin corner the way the letters run; letters_run is clockwise or
anticlockwise round the grid as seen from above. For a quarry's own grid, origin_corner is its metres, such as 102E 205N, and
letters_run north, east, south or west.
A view that cannot be photographed is waived in the jackets sheet: gridded: rain, AB.

Which jacket a photo belongs to
A folder named with the jacket's number, or with the word jacket before it, says so: photos/ann/14, photos/ann/jacket 14.
A folder with a bare number is read as a jacket's number, so do not name folders by the day of the month.
So does such a word in a file's name: jacket 14 gridded.jpg. The camera's own running number never counts.
Folder or file names may also say the view: setting, bone, gridded, jacketed, underside.
In photos.csv, write the folder too where two phones have photos of the same name: ann/IMG_0412, ann/IMG_0412-0431.
`
