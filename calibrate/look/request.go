package look

import "fieldjacket/calibrate"

// Protocol is raised whenever a field changes its meaning. Parent and child
// refuse to work together when theirs differ.
const Protocol = 8

// A Request asks one thing of a child. Exactly one of the pointers is set.
type Request struct {
	Hello  *HelloRequest  `json:"hello,omitempty"`
	Look   *LookRequest   `json:"look,omitempty"`
	Refine *RefineRequest `json:"refine,omitempty"`
	Draw   *DrawRequest   `json:"draw,omitempty"`
	Depth  *DepthRequest  `json:"depth,omitempty"`
}

// A Reply answers one request, in order. Either Error is set, or the pointer
// that the request named.
type Reply struct {
	Error  string       `json:"error,omitempty"` // lower case, without the photo's name
	Cause  Cause        `json:"cause,omitempty"` // of an error that is not the picture's own
	Hello  *HelloReply  `json:"hello,omitempty"`
	Look   *LookReply   `json:"look,omitempty"`
	Refine *RefineReply `json:"refine,omitempty"`
	Draw   *DrawReply   `json:"draw,omitempty"`
	Depth  *DepthReply  `json:"depth,omitempty"`
}

// A Cause is what an error lies in when not in what the picture shows.
type Cause string

const (
	CauseUnopened  Cause = "unopened"  // the photo's file: gone, or not to be opened
	CauseUnwritten Cause = "unwritten" // the place that was to be written to: a full disk
	CauseDamaged   Cause = "damaged"   // a part of the picture: a copy saved anew would hide it
)

// HelloRequest opens the talk.
type HelloRequest struct {
	Protocol int `json:"protocol"`
}

// HelloReply names the child.
type HelloReply struct {
	Protocol int    `json:"protocol"`
	OpenCV   string `json:"opencv"` // version of the library that is loaded

	// Files are those that have to be replaced before the child can be of
	// another version: the program and OpenCV's libraries as the system loaded
	// them. None: the system does not tell.
	Files []string `json:"files,omitempty"`

	// Libraries are those linked into the program, each with its version: "libheif 1.15.1-1".
	// None: it loads the system's.
	Libraries []string `json:"libraries,omitempty"`
}

// A Source is a photo to decode. A child keeps the last one decoded, and a
// request for the same Source does not decode again.
type Source struct {
	Path        string  `json:"path"`
	SHA256      string  `json:"sha256,omitempty"`      // of the file as it was read: another picture under the same name is decoded anew
	Format      string  `json:"format"`                // container by content, as intake names it: "jpeg", "heic", "png", "tiff", "webp"
	Orientation int     `json:"orientation"`           // EXIF 1 to 8; a child takes it from here alone
	WidthPx     int     `json:"width_px"`              // upright size as intake declared it; another decoded size is an error
	HeightPx    int     `json:"height_px"`             //
	MaxPixels   int64   `json:"max_pixels"`            // refuse to decode more
	Focal35Mm   float64 `json:"focal_35_mm,omitempty"` // 0: not known
}

// LookRequest asks for every reference of a list and for the codes in a photo.
type LookRequest struct {
	Source     Source                `json:"source"`
	References []calibrate.Reference `json:"references"`
	Placards   bool                  `json:"placards,omitempty"`   // look for codes of placards too
	Preview    string                `json:"preview,omitempty"`    // file to write a small upright JPEG to; empty: none
	Small      string                `json:"small,omitempty"`      // file to write a still smaller one to, where there is a preview; empty: none
	Seed       uint64                `json:"seed"`                 // for searches that draw at random; from the photo's hash
	Considered bool                  `json:"considered,omitempty"` // tell what was considered where a reference is refused
}

// LookReply is what a photo holds.
type LookReply struct {
	WidthPx  int     `json:"width_px"` // of the upright picture
	HeightPx int     `json:"height_px"`
	Found    []Found `json:"found"` // one per reference asked for, in order
	Codes    []Code  `json:"codes,omitempty"`
	Content  Content `json:"content"`
}

// Found is what was seen of one reference: its marks, or why there are none.
type Found struct {
	Marks   []calibrate.Mark   `json:"marks,omitempty"`
	Counted string             `json:"counted,omitempty"` // what was counted, in words: "6 x 4 inner corners"
	Refused *calibrate.Refusal `json:"refused,omitempty"`

	// Tiles are those at the corners of a grid's frame, where it carries them.
	Tiles []calibrate.Tile `json:"tiles,omitempty"`

	// Miscounted: a person said how many squares or cells there are, and the
	// picture shows another number at the same place.
	Miscounted bool `json:"miscounted,omitempty"`

	// Considered is what was looked at before the refusal, where it was asked
	// for: lines, and outlines of patches, in px of the upright photo.
	Considered [][]calibrate.Point `json:"considered,omitempty"`
}

// A Code is one of our cards or placards in a photo: its number, or the text
// that its code carries, and where it lies.
type Code struct {
	Card int    `json:"card,omitempty"` // number of the card; 0: none was read
	Text string `json:"text,omitempty"` // prefix and jacket's number, see package placard; empty: none was read

	// Mirrored: a card or tile was read as in a mirror, so that the photo is turned
	// left to right; nothing else is known of it.
	Mirrored bool `json:"mirrored,omitempty"`

	// Corners are those of a card's field of squares, clockwise from where its
	// columns and rows begin (the upper left one as it lies with its arrow up
	// the page), or of the code.
	Corners [4]calibrate.Point `json:"corners"`
}

// RefineRequest asks for a reference's exact marks where a person has put its
// four corners, see [calibrate.FitCorners], or the two ends of a bar.
type RefineRequest struct {
	Source    Source              `json:"source"`
	Reference calibrate.Reference `json:"reference"`
	Corners   []calibrate.Point   `json:"corners"`
	PickPx    float64             `json:"pick_px"` // standard uncertainty of each of their coordinates

	// Ready asks for nothing but that the photo be held decoded, and what is
	// the same wherever the corners lie be done.
	Ready bool `json:"ready,omitempty"`
}

// RefineReply gives them.
type RefineReply struct {
	Found Found `json:"found"`
}

// DrawRequest asks for one plate: rectify, draw what [Plate] says, write. With
// an [Overlay] it asks for that instead. Bare asks for the plate's picture
// alone, without margins and words.
type DrawRequest struct {
	Source  Source   `json:"source"`
	Plate   Plate    `json:"plate"`
	Under   *Source  `json:"under,omitempty"` // the photo of the plate's earlier picture
	Overlay *Overlay `json:"overlay,omitempty"`
	Bare    bool     `json:"bare,omitempty"`
	Out     string   `json:"out"`              // file to write; the parent renames it
	Format  string   `json:"format,omitempty"` // "png", "tif"; empty: JPEG
}

// DrawReply says what was written.
type DrawReply struct {
	WidthPx  int `json:"width_px"`
	HeightPx int `json:"height_px"`
}
