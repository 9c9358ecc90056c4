package paperwork

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"fieldjacket/calibrate/look"
	"fieldjacket/overlay"
	"fieldjacket/overlay/letters"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/figure"
	"fieldjacket/pipeline/register"
)

// portraits are the views that show the bone, best first.
var portraits = []register.View{register.ViewGridded, register.ViewBone, register.ViewEnds, register.ViewClose, register.ViewUnderside, register.ViewSetting}

// portraitOf is the plate of the bone for the first sheet, of an earlier season's packet where this one has none: one with a scale
// before one without, then one on which the ends are marked, then by its view. nil: there is none.
func portraitOf(p Packet) (*Plate, Packet) {
	seasons := p.seasons()
	slices.Reverse(seasons)
	for _, of := range seasons {
		var best *Plate
		most := -1
		for i, plate := range of.Plates {
			at := slices.Index(portraits, plate.View)
			if at < 0 || plate.Mirrored || plate.Relief {
				continue
			}
			worth := len(portraits) - at
			if plate.PxPerCm > 0 && plate.View != register.ViewUnderside && plate.View != register.ViewSetting {
				worth += 100
			}
			if plate.Chosen {
				worth += 50
			}
			if plate.Drawn != nil && len(plate.Drawn.ends()) > 0 {
				worth += 20
			}
			if worth > most {
				best, most = &of.Plates[i], worth
			}
		}
		if best != nil {
			return best, of
		}
	}
	return nil, p
}

// noPortrait says that there is no picture of the bone, or that nobody has said which of the photos is one.
func noPortrait(p Packet) string {
	without := map[string]bool{} // photos without a view
	for _, of := range p.seasons() {
		for _, plate := range of.Plates {
			if plate.View == "" {
				without[plate.Photo] = true
			}
		}
	}
	if len(without) == 0 {
		return "There is no picture of this bone: check the number on the package against the finds above."
	}
	return fmt.Sprintf("Nobody has said which photo shows this bone; %s of this package without a view may.", counted(len(without), "photo"))
}

// portrait sets the plate of the bone across the sheet, within a height: its words beside it or below, whichever shows the bone
// larger.
func portrait(s pages, p Packet, tall float64) error {
	plate, of := portraitOf(p)
	if plate == nil {
		c := s.cell(s.WidthMm())
		c.bold(noPortrait(p))
		s.place(c)
		return nil
	}
	const beside, gap = 52, 5
	side := s.cell(beside)
	below := s.cell(s.WidthMm())
	f, err := s.figure(*plate, plate.must(true), s.WidthMm()-beside-gap, tall)
	if err != nil {
		return err
	}
	lengths := p.Lengths()
	words := of.figureWords(s, below, *plate, lengths, f, true)
	wide, err := s.figure(*plate, plate.must(true), s.WidthMm(), tall-words)
	if err != nil {
		return err
	}
	if wide.N < f.N || wide.N == f.N && wide.AreaMm2() > 1.05*f.AreaMm2() {
		pictured := s.cell(s.WidthMm())
		pictured.Figure(wide)
		s.place(pictured)
		under := s.cell(s.WidthMm())
		of.figureWords(s, under, *plate, lengths, wide, true)
		s.place(under)
		return nil
	}
	pictured := s.cell(s.WidthMm() - beside - gap)
	pictured.Figure(f)
	of.figureWords(s, side, *plate, lengths, f, false)
	s.place(pictured, side)
	return nil
}

// must is the area that a figure of the plate has to show.
func (p Plate) must(bone bool) sheet.Area {
	switch {
	case p.Drawn == nil:
		return sheet.Area{}
	case bone || !p.Drawn.Strings:
		return p.Drawn.bone()
	}
	return p.Drawn.measured()
}

// figure is the plate's picture for a room on the sheet, at a round scale where it has one. Without a scale it is the photo as it was
// taken.
func (s pages) figure(p Plate, must sheet.Area, wide, tall float64) (sheet.Figure, error) {
	path := p.Path
	if p.PxPerCm == 0 && p.Preview != "" {
		path = p.Preview
	}
	jpeg, err := os.ReadFile(path)
	if err != nil {
		return sheet.Figure{}, fmt.Errorf("plate of %s: %w", p.Photo, err)
	}
	w, h, err := s.SizePx(jpeg)
	if err != nil {
		return sheet.Figure{}, fmt.Errorf("plate of %s: %w", p.Photo, err)
	}
	f := sheet.Figure{JPEG: jpeg, PxPerCm: p.PxPerCm}
	whole := sheet.Area{X1: float64(w), Y1: float64(h)}
	switch {
	case p.PxPerCm > 0 && p.Drawn != nil:
		for range 2 { // tags take room, and which are needed goes by the part that is shown
			roomX, roomY := s.FigureRoom(f.Tags, wide, tall)
			f.Part, f.N = sheet.Window(p.Drawn.Picture, must, p.PxPerCm, roomX, roomY)
			f.Tags = p.Drawn.tags(f.Part)
		}
	case p.PxPerCm > 0: // of an earlier season, which kept no more of it than its picture
		f.Part, f.N = sheet.Window(whole, whole, p.PxPerCm, wide, tall)
	default:
		f.Part, f.WideMm = whole, min(wide, tall*float64(w)/float64(h))
	}
	return f, nil
}

// figureWords sets what is said of a figure: stamp, lengths, scale with its bar, north, photo. wide: in two columns. It returns how
// tall that is.
func (p Packet) figureWords(s pages, c cell, plate Plate, lengths []figure.Length, f sheet.Figure, wide bool) float64 {
	left, right := c, c
	if wide {
		room := (s.WidthMm() - 5) * 0.58
		left, right = s.cell(room), s.cell(s.WidthMm()-5-room)
	}
	if plate.Stamp != "" {
		left.Stamp(letters.Spell(plate.Stamp))
	}
	for _, l := range lengths {
		left.bold(strings.Join(append([]string{lengthName(l) + ": " + l.Short()}, l.But...), "; "))
	}
	if f.PxPerCm > 0 {
		most := min(f.Part.X1-f.Part.X0, 2*(left.WideMm()-8)*f.N/10*f.PxPerCm) // the bar is half as long at most
		bar := overlay.RoundBar(f.PxPerCm, int(most))
		left.named(fmt.Sprintf("Printed 1:%g.", f.N), plate.Headline)
		if slices.ContainsFunc(lengths, func(l figure.Length) bool { return l.Below != "" }) {
			left.small("That depth is the photo's: it does not say how deep bone lies below the plaster.")
		}
		left.Bar(sheet.Bar{Text: bar.Text, Blocks: bar.Blocks, BlockCm: bar.BlockCm}, f.N)
	} else {
		left.text(or(plate.Headline))
	}
	if d := plate.Drawn; d != nil && f.PxPerCm > 0 {
		if d.North != nil {
			right.North(d.North.ClockwiseFromUpDeg, letters.Spell(d.North.Text), letters.Spell(d.North.Source))
		} else if d.NoNorth != "" {
			right.bold(d.NoNorth)
		}
		for _, up := range d.Ups {
			right.Arrow(up.ClockwiseFromUpDeg, letters.Spell(up.Text))
		}
	}
	right.small(p.whichPhoto(plate))
	if wide {
		c.Row(left.Cell, right.Cell)
	}
	return c.TallMm()
}

// lengthName is what a length is of: "24, proximal end to distal end".
func lengthName(l figure.Length) string {
	return strings.Join(nonBlank(l.Find, l.Outline, l.What), ", ")
}

// whichPhoto names the photo of a plate, with its caption.
func (p Packet) whichPhoto(plate Plate) string {
	view := string(plate.View)
	if view == "" {
		view = "no view"
	}
	text := fmt.Sprintf("%s, %s, %s", view, or(plate.Taken), plate.Photo)
	if p.From != "" {
		text = p.origin() + ": " + text
	}
	if plate.Caption != "" {
		text = plate.Caption + " (" + or(p.Season.PrintedName(plate.By)) + "); " + text
	}
	if plate.Proposed != "" {
		text += "; " + plate.Proposed + ", nobody has chosen one"
	}
	return text
}

// rowsOf are the rows of a plate's title block that nothing else on the packet says.
func rowsOf(plate Plate) (out []look.Row) {
	if plate.Drawn == nil {
		return nil
	}
	for _, r := range plate.Drawn.Rows {
		if !slices.Contains([]string{"formerly", "finds", "locality", "taken", "jacket assigned by", "caption", "words by", "photo"}, r.Name) &&
			!strings.HasPrefix(r.Name, "ends of ") && !strings.HasPrefix(r.Name, "lay of ") && !strings.HasPrefix(r.Name, "diary ") {
			out = append(out, r)
		}
	}
	return out
}
