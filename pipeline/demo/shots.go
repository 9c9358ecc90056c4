package demo

import (
	"cmp"
	_ "embed"
	"fmt"
	"math"

	"fieldjacket/calibrate/scene"
	"fieldjacket/calibrate/scene/phonefile"
)

// A shot is one photo of the season.
type shot struct {
	file    string // below photos/
	local   string // phone's clock
	seed    uint64 // of the ground: shots of one place share it
	what    subject
	tilt    float64 // degrees from plumb
	heading float64
	far     float64 // from the lens to the ground, cm
	board   bool    // the checkerboard lies beside the bone
	strings bool    // the string grid stands over it
	high    float64 // how high they run over the ground, cm; 0: as the others do
	small   bool    // a smaller picture
	noFix   bool    // no position
	turned  bool    // held upright: EXIF orientation 6
	aheadH  int     // hours that the phone's clock was ahead
	like    string  // the shot whose picture it has: only its tags are its own
	card    int     // our card of that number lies beside the bone, its arrow to the compass's north
	ends    string  // the find whose two ends somebody said lie where the long bone's do; "": nobody
	placard string  // the placard of that jacket lies there, and nothing else
	kept    []byte  // the file itself, where it is of a kind that this program does not write
}

// A subject is what lies in the middle.
type subject int

const (
	femur subject = iota
	ribs
	backbone
	tooth
	plaster
	nothing
)

// heic is a photo rendered here like the others, 1024 px wide, made into a HEIC by libheif's own encoder with its tags.
//
//go:embed IMG_0052.HEIC
var heic []byte

// shots is the whole season, in the order of phone and number.
var shots = []shot{
	{file: "rka/jacket 21/setting/IMG_0412.JPG", local: "2026:02:11 09:02:10", seed: 21, what: femur, tilt: 38, heading: 20, far: 260},
	{file: "rka/jacket 21/setting/IMG_0413.JPG", local: "2026:02:11 09:02:31", seed: 21, what: femur, tilt: 30, heading: 200, far: 220},
	{file: "rka/jacket 21/bone/IMG_0414.JPG", local: "2026:02:11 11:40:05", seed: 21, what: femur, tilt: 8, heading: 90, far: 105},
	{file: "rka/jacket 21/gridded/IMG_0415.JPG", local: "2026:02:11 11:46:52", seed: 21, what: femur, tilt: 6, heading: 300, far: 100, strings: true},
	{file: "rka/jacket 21/gridded/IMG_0416.JPG", local: "2026:02:11 11:47:20", seed: 21, what: femur, tilt: 22, heading: 180, far: 95, strings: true},
	{file: "rka/jacket 21/close/IMG_0417.JPG", local: "2026:02:11 11:49:02", seed: 21, what: femur, tilt: 12, heading: 40, far: 45},
	{file: "rka/jacket 23A/setting/IMG_0418.JPG", local: "2026:02:11 14:10:44", seed: 23, what: backbone, tilt: 35, heading: 310, far: 250},
	{file: "rka/jacket 23A/bone/IMG_0419.JPG", local: "2026:02:11 16:21:19", seed: 23, what: backbone, tilt: 7, heading: 10, far: 100},
	{file: "rka/jacket 23A/bone/IMG_0420.JPG", local: "2026:02:11 16:22:03", seed: 23, what: backbone, tilt: 15, heading: 75, far: 90, turned: true},
	{file: "rka/IMG_0421.JPG", local: "2026:02:11 16:40:57", seed: 90, what: ribs, tilt: 28, heading: 250, far: 180},
	{file: "rka/IMG_0423.JPG", local: "2026:02:11 17:05:10", seed: 23, what: nothing, tilt: 15, heading: 30, far: 60, placard: "23A"},
	{file: "rka/IMG_0424.JPG", local: "2026:02:11 17:05:32", seed: 23, what: backbone, tilt: 25, heading: 150, far: 75},

	// One grid, laid anew and higher, from straight above, from a step aside and lower, and from the next side: they tell together
	// how deep the bone lies.
	{file: "rka/jacket 21/gridded/IMG_0425.JPG", local: "2026:02:11 17:40:05", seed: 21, what: femur, tilt: 3, heading: 300, far: 122, strings: true, high: 15, small: true, ends: "21"},
	{file: "rka/jacket 21/gridded/IMG_0426.JPG", local: "2026:02:11 17:40:31", seed: 21, what: femur, tilt: 23, heading: 300, far: 108, strings: true, high: 15, small: true},
	{file: "rka/jacket 21/gridded/IMG_0427.JPG", local: "2026:02:11 17:40:58", seed: 21, what: femur, tilt: 23, heading: 30, far: 108, strings: true, high: 15, small: true},

	{file: "tmo/IMG_0388.JPG", local: "2026:02:12 08:31:00", seed: 23, what: ribs, tilt: 36, heading: 130, far: 240},
	{file: "tmo/IMG_0389.JPG", local: "2026:02:12 10:02:41", seed: 23, what: ribs, tilt: 9, heading: 5, far: 95},
	{file: "tmo/IMG_0390.JPG", local: "2026:02:12 10:05:12", seed: 23, what: ribs, tilt: 18, heading: 160, far: 50},
	{file: "tmo/jacket 24/setting/IMG_0391.JPG", local: "2026:02:12 11:15:33", seed: 24, what: femur, tilt: 33, heading: 220, far: 230},
	{file: "tmo/jacket 24/bone/IMG_0392.JPG", local: "2026:02:12 13:44:09", seed: 24, what: femur, tilt: 5, heading: 45, far: 110},
	{file: "tmo/jacket 24/gridded/IMG_0393.JPG", local: "2026:02:12 13:58:30", seed: 24, what: femur, tilt: 10, heading: 270, far: 92, strings: true, card: 6, ends: "24"},
	{file: "tmo/jacket 24/gridded/IMG_0394.JPG", local: "2026:02:12 13:59:02", seed: 24, what: femur, tilt: 17, heading: 110, far: 98, strings: true, noFix: true, card: 6},
	{file: "tmo/jacket 24/jacketed/IMG_0395.JPG", local: "2026:02:12 17:20:16", seed: 24, what: plaster, tilt: 18, heading: 15, far: 105, strings: true, card: 6},
	{file: "tmo/jacket 24/underside/IMG_0396.JPG", local: "2026:02:13 09:05:48", seed: 25, what: femur, tilt: 14, heading: 75, far: 115},
	{file: "tmo/jacket 24/loading/IMG_0397.JPG", local: "2026:02:13 12:30:21", seed: 26, what: plaster, tilt: 40, heading: 330, far: 210},
	{file: "tmo/IMG_0398.JPG", local: "2026:02:13 14:11:11", seed: 27, what: tooth, tilt: 20, heading: 60, far: 60},
	{file: "tmo/IMG_0399.JPG", local: "2026:02:13 14:11:52", seed: 27, what: tooth, tilt: 10, heading: 200, far: 40},
	{file: "tmo/jacket 21/ends/IMG_0400.JPG", local: "2026:02:13 15:01:00", seed: 21, what: femur, tilt: 20, heading: 280, far: 75, card: 5},
	{file: "tmo/jacket 21/gridded/IMG_0401.JPG", local: "2026:02:13 15:03:37", seed: 21, what: femur, tilt: 12, heading: 135, far: 88, board: true},
	{file: "tmo/IMG_0402.JPG", local: "2026:02:13 18:00:29", seed: 91, what: plaster, tilt: 30, heading: 0, far: 300},

	// A third phone, an hour ahead and with numbers that were not copied over: one photo whose folder and name name different
	// jackets, and one in the folder of a number that was split.
	{file: "pla/jacket 24/close/IMG_0051.JPG", local: "2026:02:12 14:20:10", seed: 24, heading: 45, aheadH: 1, like: "tmo/jacket 24/bone/IMG_0392.JPG"},
	{file: "pla/jacket 24/close/IMG_0052.HEIC", local: "2026:02:12 14:21:30", seed: 24, heading: 45, aheadH: 1, kept: heic},
	{file: "pla/jacket 24/IMG_0055.JPG", local: "2026:02:12 18:05:00", seed: 24, heading: 15, aheadH: 1, like: "tmo/jacket 24/jacketed/IMG_0395.JPG"},
	{file: "pla/jacket 23A/IMG_0056 jacket 23B.JPG", local: "2026:02:12 18:30:40", seed: 23, heading: 10, aheadH: 1, like: "rka/jacket 23A/bone/IMG_0419.JPG"},
	{file: "pla/jacket 23/IMG_0057.JPG", local: "2026:02:12 18:31:12", seed: 23, heading: 75, aheadH: 1, like: "tmo/IMG_0389.JPG"},
}

// damaged is a file whose copying was cut short in its first bytes.
const damaged = "rka/jacket 23A/bone/IMG_0422.JPG"

// boardCm is how high the board's face lies over the ground's mean level,
// stringsCm how high the strings run, and axisCm how high the long bones' axes
// lie: the crest of their shafts comes to 1.3 cm below the board and 4.3 cm
// below the strings, which is what the set-ups of strings were taped to.
const (
	boardCm   = 6
	stringsCm = 9
	axisCm    = 2
	cardCm    = 5
	boneCm    = 4.3 // from the strings down to the crest, and to a card that lies as high beside it
	plasterCm = 7   // how high a jacket stands, its lid below the strings
)

// compassDeg is where the compass's north lies from the scene's, which is
// true.
const compassDeg = -10

// picture is the scene of a shot.
func (s shot) scene() scene.Scene {
	w, h := 2304, 1728
	if s.small {
		w, h = 1760, 1320
	}
	if s.turned {
		w, h = h, w
	}
	sc := scene.Scene{
		Seed:   s.seed,
		Ground: scene.Ground{Rock: rocks[s.seed%uint64(len(rocks))], RoughCm: 1.5, JointCm: 35, OpenCm: 1, PebblesPerM2: 30, ChipsPerM2: 40, Dust: 0.4},
		Light:  scene.Light{SunFromDeg: 320, SunHighDeg: 58},
		Camera: scene.Camera{WidthPx: w, HeightPx: h, Focal35Mm: 26.2, K1: 0.004, DistanceCm: s.far, TiltDeg: s.tilt, HeadingDeg: s.heading, RollDeg: 4},
	}
	switch s.what {
	case femur:
		sc.Bones = []scene.Bone{{Kind: scene.LongBone, ZCm: axisCm, TurnDeg: 25, LengthCm: 46, ThickCm: 6, Bend: 0.04, Weathering: 0.4}}
	case ribs:
		for i := range 3 {
			sc.Bones = append(sc.Bones, scene.Bone{Kind: scene.Rib, XCm: float64(i)*7 - 7, YCm: float64(i) * 3, ZCm: 1, TurnDeg: 70 + 5*float64(i), LengthCm: 34, ThickCm: 2, Bend: 0.2, Weathering: 0.5})
		}
	case backbone:
		for i := range 5 {
			sc.Bones = append(sc.Bones, scene.Bone{Kind: scene.Vertebra, XCm: float64(i)*8 - 16, YCm: float64(i % 2), ZCm: 1, TurnDeg: 10 * float64(i), LengthCm: 8, ThickCm: 6, Weathering: 0.4})
		}
	case tooth:
		sc.Bones = []scene.Bone{{Kind: scene.Tooth, ZCm: 0.5, TurnDeg: 200, LengthCm: 5, ThickCm: 2}}
	case plaster:
		sc.Lumps = []scene.Lump{{LengthCm: 60, WidthCm: 36, HighCm: plasterCm, TurnDeg: 25}}
	}
	if s.card != 0 {
		at := scene.Pose{XCm: -4, YCm: -16, ZCm: cardCm, TurnDeg: compassDeg}
		if s.strings { // in their corner
			sin, cos := math.Sincos(float64(s.seed) * math.Pi / 180)
			at.XCm, at.YCm, at.ZCm = -26*cos+22*sin, 26*sin+22*cos, stringsCm-boneCm
		}
		sc.Cards = []scene.Card{{Pose: at, Number: s.card, MarginCm: 1.5, ThickCm: 0.3}}
	}
	if s.placard != "" {
		sc.Cards = []scene.Card{{Pose: scene.Pose{ZCm: 2, TurnDeg: 12}, Number: 1, ThickCm: 0.1, Face: code(s.placard), FacePxPerCm: facePx / moduleCm}}
	}
	if s.board {
		sc.Checkers = []scene.Checker{{
			Pose:   scene.Pose{XCm: -6, YCm: -17, ZCm: boardCm, TurnDeg: float64(s.seed)},
			Across: 7, Down: 5, SquareCm: 2, MarginCm: 1, ThickCm: 0.5,
		}}
	}
	if s.strings {
		sc.Grids = []scene.Grid{{
			Pose: scene.Pose{ZCm: s.stringsCm(), TurnDeg: float64(s.seed)}, PitchCm: 10, Across: 7, Down: 6, OffMarksCm: 0.1,
			String: scene.String{ThickCm: 0.2, SagCm: 0.1, Knots: 0.3, Twist: 0.6},
			Timber: &scene.Timber{WideCm: 4, ThickCm: 2, GapCm: 0.3},
		}}
	}
	return sc
}

// stringsCm is how high its strings run over the ground's mean level.
func (s shot) stringsCm() float64 { return cmp.Or(s.high, stringsCm) }

// rocks are the colours of the invented beds.
var rocks = []scene.Colour{{0.42, 0.30, 0.22}, {0.36, 0.34, 0.30}, {0.46, 0.38, 0.28}}

// tags are what the phone wrote. The place is invented: open sea on a map.
func (s shot) tags() phonefile.Tags {
	t := phonefile.Tags{Make: "Anvil", Model: "Phone 3", Local: s.local, SubSec: "25", Offset: "-03:00", Focal35Mm: 26, Orientation: 1}
	if s.turned {
		t.Orientation = 6
	}
	if !s.noFix {
		n := float64(s.seed)
		t.Position = &phonefile.Fix{
			LatDeg: -47.5 - n*1e-5, LonDeg: -42.25 + n*2e-5, AltM: 512, ErrM: 6 + float64(s.seed%5),
			BearingDeg: s.heading, North: "T", Date: s.local[:10], Time: utc(s.local[11:], s.aheadH),
		}
	}
	return t
}

// utc is a clock of -03:00 that is some hours ahead read in UTC; no shot is taken after 21:00.
func utc(local string, aheadH int) string {
	var h int
	_, _ = fmt.Sscanf(local[:2], "%d", &h)
	return fmt.Sprintf("%02d%s", h+3-aheadH, local[2:])
}
