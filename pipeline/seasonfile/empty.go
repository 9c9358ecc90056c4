package seasonfile

// Empty is the season.toml of a new season, which explains itself.
const Empty = `# The season. Change what does not fit; a line that starts with # is not read.

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

# The quarry's own grid, for the map: metres east and north of a datum peg, heights above it. The sheets points and placements
# say where set-ups lie in it.
# [quarry]
# datum = "peg 1"          # the known point that lies at 0, 0, 0
# north = "true"           # the north that the grid was laid by: true, grid or magnetic
# date = "2026-02-11"      # of a magnetic north: the day it was laid
# declination_deg = -2.5   # where the datum's position is not given or the magnetic model does not cover the year
# convergence_deg = 0.4    # of grid north from true north, east positive; where the position is not given
# position = ""            # of the datum, decimal degrees, UTM or MGRS: confidential, it never stands on the map
# position_uncertainty_m = 5

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
# CD = { name = "", may_print = true, orcid = "0000-0002-1825-0097" }   # exports name the ORCID iD beside a name that may be printed

# Who owns what is collected, and whom a preparator may ask years later, as it stands on packets and labels. Nothing of it is printed
# unless may_print is true.
[contact]
owner = ""            # an institution or a person
ask = ""              # a name, a number, an address
may_print = false

# What exports say to a collections database and of pictures (fieldjacket export). What is left blank is left out, and told.
[collection]
institution_code = "" # as the museum's database has it
collection_code = ""
rights_holder = ""    # of the photos and plates
licence = ""          # under which they may be used: its address, such as https://creativecommons.org/licenses/by/4.0/

# What may be printed of positions outside the confidential locality record: "locality number" or "full". The paper that
# sheets are made for: "A4" or "Letter".
[print]
positions = "locality number"
paper = "A4"
`
