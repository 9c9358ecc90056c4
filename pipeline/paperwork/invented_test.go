package paperwork

import (
	"bytes"
	"image"
	"image/color"
	"image/jpeg"
	"math"
	"os"
	"path/filepath"
	"sync"
	"testing"
	"time"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/pipeline/audit"
	"fieldjacket/pipeline/register"
)

// The season, people and finds here are invented.

func number(v float64) *float64 { return &v }

var made = time.Date(2026, 3, 14, 0, 0, 0, 0, time.UTC)

func inventedSeason() register.Season {
	return register.Season{
		Name: "Quiet Gully 2026",
		Mixes: []register.Mix{
			{Name: "bottle A", Resin: "acrylic copolymer", Percent: number(10), Basis: "w/v", Solvent: "acetone", RedissolveIn: "acetone"},
			{Name: "tube 3", Resin: "cyanoacrylate", RedissolveIn: "not readily"},
		},
		People: []register.Person{{Initials: "TK", Name: "Tilda Kray", MayPrint: false}, {Initials: "MO", Name: "Mo Ostrander", MayPrint: true}},
	}
}

func inventedFind() register.Find {
	return register.Find{
		FieldNumber: "VC 07/26", Date: register.Date{Year: 2026, Month: 3, Day: 9}, What: "rib, nearly whole", By: "MO", Context: "in situ",
		Locality: "L-4", Horizon: "upper red sandstone", HeightInSectionM: number(12.5), EndA: "proximal", EndB: "distal",
		AxisBearingAToBDeg: number(118), BearingNorth: register.NorthTrue, Condition: "cracked across in the middle",
		Position: register.Position{Typed: "-31.123456, -32.654321", Datum: "WGS 84", Source: "handheld receiver", UncertaintyM: number(4)},
		Other:    []register.Other{{Head: "weather", Text: "wind from the west"}, {Head: "GPS point", Text: "-31.12345 -32.65432"}},
	}
}

func photo(w, h int) image.Image {
	img := image.NewRGBA(image.Rect(0, 0, w, h))
	for y := range h {
		for x := range w {
			v := 150 + 30*math.Sin(float64(x)/17)*math.Cos(float64(y)/23)
			if dx, dy := float64(x-w/2)/float64(w/3), float64(y-h/2)/float64(h/9); dx*dx+dy*dy < 1 {
				v = 215 // the bone
			}
			img.SetRGBA(x, y, color.RGBA{R: uint8(v), G: uint8(v * 0.9), B: uint8(v * 0.75), A: 255})
		}
	}
	return img
}

func encoded(img image.Image) []byte {
	var b bytes.Buffer
	if err := jpeg.Encode(&b, img, &jpeg.Options{Quality: 88}); err != nil {
		panic(err) // of a picture that a test made
	}
	return b.Bytes()
}

func save(t testing.TB, dir, name string, content []byte) string {
	t.Helper()
	path := filepath.Join(dir, name)
	if err := os.WriteFile(path, content, 0o644); err != nil {
		t.Fatal(err)
	}
	return path
}

// The pictures of the invented packet, made once for all tests.
var (
	previewJPEG  = sync.OnceValue(func() []byte { return encoded(photo(1000, 750)) })
	scaledJPEG   = sync.OnceValue(func() []byte { return drawn(true) })
	unscaledJPEG = sync.OnceValue(func() []byte { return drawn(false) })
)

// figured is what a plate of an invented photo shows.
func figured(scaled bool) look.Plate {
	p := look.Plate{
		Picture: look.Picture{WidthPx: 1200, HeightPx: 900, PrintDPI: 203.2}, Number: "VC 07/26-B", Heading: "gridded, 12 March 2026",
		Headline: "NO SCALE: no reference was found", Stamp: "NO SCALE", NoNorth: "NO BEARING: nothing in the picture tells it",
		Rows: []look.Row{{Name: "reference", Text: "checker 7x5/2cm"}, {Name: "locality", Text: "no. L-4"}, {Name: "taken", Text: "2026-03-12 14:02:11 -03:00"}, {Name: "photo", Text: "tk/IMG_0412.JPG, 5f3a09c1"}},
	}
	if scaled {
		bar := overlay.RoundBar(16, 1200)
		p.Picture.PxPerCm, p.Bar, p.Stamp = 16, &bar, ""
		p.Headline = "100 mm on this scale bar = 100.0 ± 1.4 mm at the level of the board only"
		p.Outline, p.OutlineText = [][2]float64{{300, 200}, {800, 220}, {790, 600}, {290, 590}}, "line: the measured area; outside it lengths are less sure"
		p.Labels = []look.Label{{XPx: 330, YPx: 440, Side: "left", Text: "A proximal"}, {XPx: 870, YPx: 470, Side: "right", Text: "B distal"}}
		p.North, p.NoNorth = &look.North{ClockwiseFromUpDeg: 30, Text: "TRUE NORTH", Source: "arrow set by MO"}, ""
	}
	return p
}

// drawn is a plate as the vision program makes it.
func drawn(scaled bool) []byte {
	p := figured(scaled)
	l := overlay.Arrange(p)
	canvas := image.NewRGBA(image.Rectangle{Max: l.Size})
	shot := photo(1200, 900)
	for y := range 900 {
		for x := range 1200 {
			canvas.Set(l.Picture.Min.X+x, l.Picture.Min.Y+y, shot.At(x, y))
		}
	}
	if err := overlay.Draw(canvas, p); err != nil {
		panic(err)
	}
	return encoded(canvas)
}

func inventedPacket(t testing.TB) Packet {
	dir := t.TempDir()
	preview := save(t, dir, "preview.jpg", previewJPEG())
	day := func(d int) register.Date { return register.Date{Year: 2026, Month: 3, Day: d} }
	return Packet{
		Made: made, Season: inventedSeason(),
		Jacket: register.Jacket{
			Number: "VC 07/26-B", Finds: []string{"VC 07/26", "VC 11/26"}, Kind: register.PlasterJacket, Piece: &register.Piece{N: 2, Of: 2},
			SisterJackets: []string{"VC 07/26-A"}, Formerly: []string{"14"}, LengthCm: number(82), WidthCm: number(40), Rock: "sandstone, crumbly",
			Separator: "two layers of wet tissue, then foil", JacketKind: "plaster and burlap", Layers: "4", Splints: "two steel rods along the long sides",
			BoneCoverMm: number(15), Waivers: []register.Waiver{{View: register.ViewUnderside, Reason: "flipped in the dark", By: "TK"}},
		},
		Finds:  []register.Find{inventedFind()},
		SetUps: []register.SetUp{{Name: "2", Jackets: []string{"VC 07/26-B"}, TapeChecks: []register.TapeCheck{{From: "proximal end", To: "crack", LengthMm: 412}}}},
		Diary: []register.Entry{
			{Date: day(9), Numbers: []string{"VC 07/26"}, What: "found by the broken end that weathers out", By: "MO", Stage: register.Found},
			{Date: day(11), Time: "10:20", Numbers: []string{"VC 07/26-B"}, What: "consolidated the crack", By: "TK", Kind: "consolidant", Mix: "bottle A", Where: "C4", Coats: "2"},
			{Date: day(11), Time: "16:00", Numbers: []string{"VC 07/26-B"}, What: "glued two splinters", By: "TK", Mix: "Tube 3", Where: "distal end"},
			{Date: day(12), Numbers: []string{"VC 07/26-B"}, What: "filled the hollow under the neck with expanding foam 🦴", By: "MO", Mix: "can", Stage: register.Covered},
		},
		Audit: audit.Jacket{
			Number: "VC 07/26-B", Stage: register.Flipped, StageFrom: "jackets sheet", Cover: audit.CoverDone, Standing: audit.Closed,
			Views: []audit.ViewState{
				{View: register.ViewSetting, DueFrom: register.Found, Due: true, State: audit.Missing, Text: "missing; may be among 6 unsorted photos"},
				{View: register.ViewGridded, DueFrom: register.Mapped, Due: true, State: audit.There, Text: "there"},
				{View: register.ViewUnderside, DueFrom: register.Flipped, Due: true, State: audit.Waived, Text: "waived", Waiver: &register.Waiver{View: register.ViewUnderside, Reason: "flipped in the dark", By: "TK"}},
			},
		},
		Plates: []Plate{
			{Path: save(t, dir, "a.jpg", scaledJPEG()), View: register.ViewGridded, Taken: "2026-03-12 14:02:11 -03:00", PxPerCm: 16, Photo: "tk/IMG_0412.JPG", Preview: preview, Headline: figured(true).Headline, Drawn: DrawnOf(figured(true), true)},
			{Path: save(t, dir, "b.jpg", unscaledJPEG()), View: register.ViewClose, Stamp: "NO SCALE", Photo: "mo/IMG_0007.JPG", Preview: preview, Caption: "the crack", By: "MO"},
		},
		Files: []File{
			{Name: "tk/IMG_0412.JPG", Taken: "2026-03-12 14:02:11 -03:00", SHA256: "5f3a09c1aa00bb11cc22dd33ee44ff5566778899aabbccddeeff001122334455"},
			{Name: "mo/IMG_0007.JPG", SHA256: "00aa09c1aa00bb11cc22dd33ee44ff5566778899aabbccddeeff001122334455"},
		},
	}
}

func inventedLocality() register.Locality {
	return register.Locality{
		Number: "L-4", Name: "Low red cliff", Position: register.Position{Typed: "-31.1230, -32.6540", Datum: "WGS 84"},
		Formation: "invented beds", Landowner: "P. Invented", Permit: "P-77", PermitUntil: register.Date{Year: 2026, Month: 12, Day: 31}, Access: "from the ford, on foot",
	}
}

func inventedDay(t testing.TB) Day {
	p := inventedPacket(t)
	ready := audit.Jacket{Number: "VC 12", Finds: []string{"VC 12"}, Stage: register.Mapped, Cover: audit.CoverYes, CoverReason: "all that is due is there", Standing: audit.Ready, Views: []audit.ViewState{
		{View: register.ViewSetting, DueFrom: register.Found, Due: true, State: audit.There, Text: "there"},
		{View: register.ViewGridded, DueFrom: register.Mapped, Due: true, State: audit.There, Text: "there"},
	}}
	not := audit.Jacket{Number: "VC <13>", Finds: []string{"VC 13"}, Stage: register.Mapped, Cover: audit.CoverNo, CoverReason: "gridded is not scaled", Standing: audit.CanBeFixed, Fixes: []audit.Fix{{View: register.ViewGridded, What: "not scaled", Photo: "tk/IMG_0413.JPG", Why: "board: 12 of 24 corners found, need 15", Do: "retake IMG_0413, the whole board in the picture, from straight above"}}, Views: []audit.ViewState{
		{View: register.ViewSetting, DueFrom: register.Found, Due: true, State: audit.There, Text: "there"},
		{View: register.ViewGridded, DueFrom: register.Mapped, Due: true, State: audit.NotScaled, Text: "gridded, but not scaled: retake squarer, whole board or grid in frame"},
	}}
	vial := audit.Jacket{Number: "V 3", Kind: register.Vial, Standing: audit.Unplaster, Cover: audit.CoverNoPoint, CoverReason: "a vial needs no plaster jacket"}
	return Day{
		Season: p.Season, Date: register.Date{Year: 2026, Month: 3, Day: 12}, Photos: 31, Diary: p.Diary[3:],
		Report: audit.Report{
			Jackets:    []audit.Jacket{p.Audit, not, ready, vial},
			Unsorted:   []audit.Loose{{File: "mo/IMG_0099.JPG", Reason: "nothing names a jacket", Suggested: []string{"VC 12"}}, {File: "mo/jacket 12/VC 13.JPG", Reason: "folder says VC 12, name says VC <13>"}},
			Conflicts:  []audit.Loose{{File: "mo/jacket 12/VC 13.JPG", Reason: "folder says VC 12, name says VC <13>"}},
			Unreadable: []audit.Loose{{File: "tk/IMG_0500.JPG", Reason: "cut short"}},
		},
		Refused:  []Refused{{File: "tk/IMG_0413.JPG", Reason: "board: 12 of 24 corners found, need 15", Retake: "whole board in the picture, from straight above"}},
		Problems: []string{"finds.csv row 7, date \"12-3\": want a day as 2026-02-11"},
	}
}
