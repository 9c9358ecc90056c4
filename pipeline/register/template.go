package register

import (
	"errors"
	"fmt"
	"io"
	"io/fs"
	"os"
	"path/filepath"
	"strings"

	"fieldjacket/pipeline/keep"
)

// ErrSeasonThere says that a folder holds a season already.
var ErrSeasonThere = errors.New("holds a season already: want a new or an empty folder")

// Template makes dir an empty season folder: a season.toml that explains itself, the workbook with its heads, or with csv the same
// sheets as CSV files, the folders for photos and tracks, and a page on how to use them. Nothing that is there already is
// written over.
func Template(dir string, csv bool) error {
	names := []string{seasonFile, howToFile}
	for _, f := range forms {
		names = append(names, f.file)
	}
	for _, name := range append(names, bookFile) {
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
		if err := keep.Write(filepath.Join(dir, bookFile), 0o644, func(w io.Writer) error { return WriteBook(w, nil) }); err != nil {
			return err
		}
	}
	for _, f := range forms {
		if !csv && f.inBook() {
			continue
		}
		if err := write(dir, f.file, strings.Join(f.heads, ",")+"\n"); err != nil {
			return err
		}
	}
	if err := write(dir, howToFile, howTo); err != nil {
		return err
	}
	return write(dir, seasonFile, emptySeason) // last: a folder is a season when this file is there
}

func write(dir, name, text string) error {
	return keep.Write(filepath.Join(dir, name), 0o644, func(w io.Writer) error {
		_, err := io.WriteString(w, text)
		return err
	})
}

const howToFile = "HOWTO.txt"

// emptySeason is the season.toml of a new season. It gives no time zone, since nothing is known of the place.
const emptySeason = `# The season. Change what does not fit; a line that starts with # is not read.

name = "New season"

# The zone of the crew's clocks: a fixed offset such as "-03:00", or a zone's name in the IANA list where clocks change meanwhile.
# It is used for photos that do not carry their own offset; without it such photos have a clock time only.
# time_zone = "-03:00"

# A photographed card or placard gives its jacket to the photos after it by the same phone, for so many minutes at most;
# 0: not at all.
# carry_minutes = 15
# A pause between two photos that is longer than this ends it (0 to 180). A longer one settles more photos; where a card
# was forgotten it also gives more of them to the wrong jacket.
# carry_pause_s = 30

# Folders below photos whose photos are counted and not plated: a series for a model, a drone's run.
# count_only = ["ann/model", "drone"]

# Magnetic declination in degrees, east positive, west negative. Only for years before 2025 and from 2030 on, which the
# magnetic model in this program does not cover.
# declination_deg = -2.5

# A phone whose clock was wrong: its folder below photos/, its model where two phones share the folder, and by how many
# seconds it was ahead (below zero: behind). The page of each day tells what to write here.
# [[clock]]
# folder = "ann"
# ahead_s = 300

# What you carry that has a known size. Measure yours and write the true sizes here; delete what you do not carry.
# Each may have tolerance_mm: how far each of its marks may be off its place. Defaults: a grid 3 mm, the others
# 0.2 % of their length.

[[reference]]
name = "string grid"
kind = "grid"
pitch_cm = 10
# squares = "10x10"
# diagonals_cm = [141.4, 141.4]   # both diagonals of the frame, taped once: shows whether it is square
# tiles = true       # its frame carries the four tiles of fieldjacket print tiles, which name the squares
# tiles_in_cm = 3.6  # where those tiles are not pushed into the corners: from the outermost strings to the middle of each
#                    # tile, the same both ways; below zero where they lie outside the strings

[[reference]]
name = "scale bar"
kind = "bar"
length_cm = 10
block_cm = 1

[[reference]]
name = "board"
kind = "checker"
squares = "7x5"      # squares across and down, either way round
square_cm = 2        # as measured on your finished print: the length over many squares, divided by their number

[[reference]]
name = "card 1"
kind = "card"
card = 1             # fieldjacket print card --number 1
# jacket = "14"      # if this card stands for one jacket: photos with it in the picture are that jacket's
# arrow = "magnetic" # if it is always laid by compass: the north its arrow points to, magnetic, true or grid;
#                    # or "end_1" or "end_2", if it is always laid towards that end of the fossil
# origin = "letters" # if it is always laid at the origin corner of the frame, its arrow along the edge that the letters
#                    # run along; "numbers": along the other edge; "corner": along neither, letters_run tells
# check_line_mm = 100.0   # the line on it, as measured on your finished card; without it 3 % is allowed for

# From which stage each view of a jacket is required. Stages: found, exposed, mapped, jacketed, flipped, capped, lifted,
# loaded, received, opened. Views: setting, bone, gridded, jacketed, underside, close, ends, joint, section, loading,
# received, opened.
[views]
found = ["setting"]
exposed = ["bone"]
mapped = ["gridded"]
jacketed = ["jacketed"]
flipped = ["underside"]

# Glues, consolidants and separators as you prepared them; the diary calls them by name.
# [[mix]]
# name = "bottle A"
# resin = ""               # what is in it
# percent = 10
# basis = "w/v"            # percent of what: w/v, w/w, v/v
# solvent = ""
# soluble_in = ""          # leave out what you do not know

# The crew: initials as in the "by" columns, and whether the full name may be printed.
[people]
# AB = { name = "", may_print = false }

# What may be printed of positions outside the confidential locality record: "locality number" or "full". The paper that
# sheets are made for: "A4" or "Letter".
[print]
positions = "locality number"
paper = "A4"
`

// howTo is the page in a new season's folder.
const howTo = `A season folder

season.toml      the season, what you carry for scale, who is who. Read it through once.
register.xlsx    the register, five sheets; its sheet "how to" says what goes into each column. Or the same sheets as CSV files
                 (finds.csv and so on: fieldjacket new --csv), never both.
  finds          one row per find. Fill in at least field_number, date, what, by.
  jackets        one row per jacket, vial, bag ... At least jacket. Leave the sheet without rows if every find
                 has a jacket of its own with the same number.
  setups         one row for each time a grid was laid. Optional.
  localities     one row per locality. Positions, landowners and permits are kept out of what is sent to a lab.
  diary          one row per thing done. At least date, numbers, what, by. Write the stage that was reached.
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
