// Package words keeps words.log, what people said about photos, jackets and set-ups: plain text in the season's folder, one
// line a word, only ever appended to.
//
// The functions you want are [Read], which gives a [Log] and every fault of it, and [Append], which adds words. What they
// come to is asked of the log: [Log.Photo], [Log.SetUp], [Log.Waivers].
//
// # A line
//
// Five fields with a tab between them; a line that begins with # is a remark:
//
//	2026-02-11T18:42:05-03:00	RKA	photo rka/IMG_0421.JPG	jackets	21; 22
//
// the time with its offset; the initials of who says so; what it is about; what is said; the value. In every field
// \t, \n, \r and \\ stand for a tab, a line's end and a backslash. A word is about one of
//
//	photo rka/IMG_0421.JPG      exactly that file below photos/, with its ending
//	photos rka/IMG_0430-0436    a range or wildcard as in photos.csv; the folder must be said, photos/IMG_04* for photos/ itself
//	jacket 23B
//	setup S1
//	line 12 3fa81c2e            an earlier line and its mark, see undo
//
// and says one of these (numbers of jackets, set-ups and finds are texts, never parsed). Points are x,y in pixels of the
// upright photo, x right, y down, (0, 0) the centre of the top-left pixel, several separated by blanks; lengths carry
// their unit, 8cm or 412mm.
//
//	about photos
//	jackets         21; 22, or none: it shows no jacket
//	view            gridded, or none: no view
//	setup           S1, or none
//	caption         any text
//	chosen          yes or no
//	leave_out       yes or no
//	no_scale        yes, or yes: why; no
//	reference       checker 7x5/2cm at POINT POINT POINT POINT, see [ManualReference]; bar 10cm/1cm at POINT POINT; also checker 7x5/2cm tolerance 1mm picked 2px at ...
//	end 1, end 2    POINT; with the find where a photo shows several: end 1 21
//	north           POINT POINT magnetic: from tail to head; magnetic, true or grid
//	origin          POINT, where the outer corner of square A1 lies; or POINT POINT: and a place towards which the letters run
//	up field top    POINT POINT, from tail to head; also up way up (of the beds), up carry (this side up)
//	outline NAME    bone at POINT POINT POINT ..., or bone level 8cm at ...: that far below the reference; also block
//	about photos or a set-up
//	depth           8cm, from the reference down to the bone; depth B3: in square B3
//	tape A1 to F6   707mm from the middle of one square to that of the other, or in a photo 412mm at POINT POINT
//	about a jacket
//	waiver gridded  the reason; the initials are those of the line
//	about a line
//	undo            nothing: that line counts as never written. Undoing an undo brings its line back
//
// # How to say something, and which word counts
//
// Build a [Word] and hand it to [Append], or to pipeline.Season.Say, which also checks that the photo, jacket or set-up
// exists:
//
//	w := words.Word{At: now, By: "RKA", About: words.Photo("rka/IMG_0421.JPG"), What: words.Jackets, Value: "21; 22"}
//	lines, err := words.Append(dir, w)             // lines[0].Number, lines[0].Mark
//	_, err = words.Append(dir, lines[0].Undo(now, "RKA"))
//
// For each photo (set-up, jacket) and each thing said of it, name included ("end 1", "outline femur", "depth B3"), the last
// line of the file counts that is not undone, whether it was about the one photo or about a range with the photo in it;
// the times are for people and decide nothing, since clocks differ. A value left blank takes back what was said before it: it is
// as if nobody had said anything. Words of the log count more than photos.csv, which counts more than any sign in a
// photo or its name.
//
// A line that cannot be read costs that line and is a Problem. So is a last line without its line's end, which a power cut
// leaves: half of "jackets 14" is "jackets 1". [Append] closes it with "# unfinished", and it never counts.
package words
