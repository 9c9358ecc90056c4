package sheet

import (
	"bytes"
	"crypto/sha256"
	"encoding/hex"
	"errors"
	"fmt"
	"math"

	"codeberg.org/go-pdf/fpdf"
)

// A Picture is a JPEG to be placed.
type Picture struct {
	JPEG    []byte
	PxPerCm float64 // of the thing shown, by its scale bar; 0: no scale

	// MostWideMm and MostTallMm bound it on paper; 0: the sheet's width, and an empty page less 12 mm for a heading and
	// the ratio.
	MostWideMm, MostTallMm float64
	Caption                string // below it, before the ratio
}

// ratios are the n of 1:n in which a scaled picture is printed if one of them is large enough.
var ratios = []float64{1, 2, 5, 10, 20, 50, 100}

// enough is how much of the room a picture at a round ratio has to fill; one that would be smaller is printed as large as
// it fits, at a ratio that is not round.
const enough = 0.75

// Ratio is the n of 1:n at which a picture of w x h px is printed within room mm, no larger than life: a round one if that
// fills enough of the room. It is 0 without a scale.
func Ratio(w, h int, pxPerCm, wideMm, tallMm float64) float64 {
	if !(pxPerCm > 0) || w < 1 || h < 1 {
		return 0
	}
	lifeWide, lifeTall := float64(w)/pxPerCm*10, float64(h)/pxPerCm*10
	fit := max(lifeWide/wideMm, lifeTall/tallMm)
	for _, n := range ratios {
		if n >= fit*(1-1e-9) {
			if n == 1 || fit/n >= enough {
				return n
			}
			break
		}
	}
	return math.Ceil(fit*100) / 100
}

// Picture places a picture, at its true scale if it has one, and prints the ratio below.
func (s *Sheets) Picture(p Picture) {
	name, w, h, err := s.registered(p.JPEG)
	if err != nil {
		s.fail(err)
		return
	}
	wide, tall := p.MostWideMm, p.MostTallMm
	if wide <= 0 || wide > s.WidthMm() {
		wide = s.WidthMm()
	}
	if most := s.PageMm() - 12; tall <= 0 || tall > most {
		tall = most
	}
	n := Ratio(w, h, p.PxPerCm, wide, tall)
	perPx, says := min(wide/float64(w), tall/float64(h)), "not to scale"
	if n > 0 {
		perPx, says = 10/p.PxPerCm/n, ratioText(n)
	}
	s.Need(perPx*float64(h) + 10)
	s.image(name, leftMm, s.y, perPx*float64(w), perPx*float64(h))
	s.rect(leftMm, s.y, perPx*float64(w), perPx*float64(h), 0.15)
	s.Gap(perPx*float64(h) + 1.5)
	if p.Caption != "" {
		p.Caption += "; "
	}
	s.Text(p.Caption + says)
}

func ratioText(n float64) string {
	if n == 1 {
		return "printed 1:1, life size at the level that its scale bar holds for"
	}
	return fmt.Sprintf("printed 1:%g, 10 mm here are %.4g mm at the level that its scale bar holds for", n, 10*n)
}

// registered checks a JPEG and hands it to the PDF once.
func (s *Sheets) registered(jpeg []byte) (name string, w, h int, err error) {
	if err := plain(jpeg); err != nil {
		return "", 0, 0, err
	}
	sum := sha256.Sum256(jpeg)
	name = hex.EncodeToString(sum[:])
	info := s.pdf.GetImageInfo(name)
	if info == nil {
		info = s.pdf.RegisterImageOptionsReader(name, fpdf.ImageOptions{ImageType: "JPG"}, bytes.NewReader(jpeg))
		if err := s.pdf.Error(); err != nil {
			return "", 0, 0, err
		}
		if !(info.Width() > 0) || !(info.Height() > 0) {
			return "", 0, 0, errors.New("the JPEG has no size")
		}
		if err := settle(info, s.pictures); err != nil {
			return "", 0, 0, err
		}
		s.pictures++
	}
	// The library counts a picture's pixels as points of 1/72 inch; in mm that is 25.4/72 each.
	px := func(mm float64) int { return int(math.Round(mm * pointsPerMm)) }
	return name, px(info.Width()), px(info.Height()), nil
}
