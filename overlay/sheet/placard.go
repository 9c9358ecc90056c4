package sheet

import (
	"errors"
	"fmt"
	"io"

	"fieldjacket/calibrate/placard"
	"fieldjacket/overlay/letters"
)

// A PlacardSize is how large a placard is: the whole sheet, half of it, or a
// label of 74 x 105 mm (ISO 216 A7).
type PlacardSize string

const (
	PlacardLabel PlacardSize = "label"
	PlacardHalf  PlacardSize = "half"
	PlacardFull  PlacardSize = "full"
)

// placardShare is how much of a placard's length its two codes take with the
// white round them: modules of 3 mm on a whole sheet for a number of 24
// letters, and a number that is read from some metres.
const placardShare = 0.75

// on is the size in mm on a paper.
func (p PlacardSize) on(paper Paper) (wideMm, tallMm float64, err error) {
	switch p {
	case PlacardLabel:
		return 74, 105, nil
	case PlacardHalf:
		return paper.HeightMm / 2, paper.WidthMm, nil
	case PlacardFull:
		return paper.WidthMm, paper.HeightMm, nil
	}
	return 0, 0, fmt.Errorf("size %q: want label, half or full", string(p))
}

// WritePlacards writes the placards of jackets, a sheet each: the number in
// large letters between two codes that say it, so that a clod of mud on one
// leaves the other. A placard tells no scale.
func WritePlacards(w io.Writer, paper Paper, size PlacardSize, jackets []string) error {
	if len(jackets) == 0 {
		return errors.New("no jacket named")
	}
	if paper == (Paper{}) {
		paper = A4
	}
	wide, tall, err := size.on(paper)
	if err != nil {
		return err
	}
	s := &Sheets{Options: Options{Paper: paper, Made: cardsMade}, loaded: map[string]bool{}}
	s.pdf = newPDF(paper, cardsMade, "placards")
	for _, jacket := range jackets {
		modules, err := placard.Draw(jacket)
		if err != nil {
			return err
		}
		s.pdf.AddPage()
		x, y := (paper.WidthMm-wide)/2, 0.0
		if size != PlacardFull {
			y = CardTopMm
			s.cutMarks(x, y, wide, tall)
		}
		s.placard(jacket, modules, x, y, wide, tall)
	}
	return s.finish(w, "placards")
}

// placard draws one placard with its corner at (x, y).
func (s *Sheets) placard(jacket string, modules [][]bool, x, y, wide, tall float64) {
	count := float64(len(modules) + 2*placard.QuietModules)
	module := min(wide, tall*placardShare/2) / count
	quiet, side := placard.QuietModules*module, float64(len(modules))*module
	middle := x + wide/2
	s.code(modules, middle-side/2, y+quiet, module)
	s.code(modules, middle-side/2, y+tall-quiet-side, module)

	top, room := y+2*quiet+side, tall-4*quiet-2*side // of the white between the codes
	small := min(8, room/7)
	s.centred("jacket", middle, top+small, small, letters.Regular)
	em := s.fit(jacket, (room-3*small)*1.25, wide-2*quiet, letters.Bold) // capitals are 0.73 em tall
	s.centred(jacket, middle, top+room/2+0.365*em, em, letters.Bold)
	s.centred("photograph this first, then the jacket", middle, top+room-0.3*small, min(small, (wide-2*quiet)/18), letters.Regular)
}

// Code draws the code of a jacket's number at the right margin, sideMm wide and tall with its white, from here down. What comes
// next stands beside it.
func (s *Sheets) Code(jacket string, sideMm float64) {
	s.codeOf(jacket, s.Paper.WidthMm-rightMm-sideMm, s.y, sideMm)
}

// codeOf draws the code of a jacket's number, side mm wide and tall with the
// white round it, its corner at (x, y).
func (s *Sheets) codeOf(jacket string, x, y, side float64) {
	modules, err := placard.Draw(jacket)
	if err != nil {
		s.fail(err)
		return
	}
	module := side / float64(len(modules)+2*placard.QuietModules)
	s.code(modules, x+placard.QuietModules*module, y+placard.QuietModules*module, module)
}

// code draws the dark modules of a code, in rows and again in columns, so that
// no hairline shows between them.
func (s *Sheets) code(modules [][]bool, x, y, module float64) {
	s.pdf.SetFillColor(0, 0, 0)
	n := len(modules)
	for i := range n {
		for _, run := range runs(n, func(j int) bool { return modules[i][j] }) {
			s.pdf.Rect(x+float64(run[0])*module, y+float64(i)*module, float64(run[1]-run[0])*module, module, "F")
		}
		for _, run := range runs(n, func(j int) bool { return modules[j][i] }) {
			s.pdf.Rect(x+float64(i)*module, y+float64(run[0])*module, module, float64(run[1]-run[0])*module, "F")
		}
	}
}

// runs gives where dark is true without a break: first, and first after.
func runs(n int, dark func(int) bool) (out [][2]int) {
	for j := 0; j < n; j++ {
		first := j
		for j < n && dark(j) {
			j++
		}
		if j > first {
			out = append(out, [2]int{first, j})
		}
	}
	return out
}
