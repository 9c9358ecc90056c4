package paperwork

import (
	"fmt"
	"os"
	"slices"
	"strings"

	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/register"
)

// codeMm is the side of the code that says the jacket's number, beside the
// picture: a photo of the sheet then gives its jacket, as a placard does.
const codeMm = 30

// front is the first sheet: what is in it, and a picture of this bone, so that a packet laid beside the wrong jacket is
// seen to be wrong.
func front(s pages, p Packet) error {
	j := p.Jacket
	inside := make([]string, 0, len(p.Finds))
	for _, n := range j.Finds {
		inside = append(inside, findLine(p, n))
	}
	if len(inside) == 0 {
		inside = []string{"what is inside is " + notRecorded}
	}
	for _, line := range inside {
		s.large(line)
	}
	if j.Piece != nil {
		s.bold("piece " + piece(j) + sisters(j))
	} else if len(j.SisterJackets) > 0 {
		s.bold("sister jackets: " + strings.Join(j.SisterJackets, ", "))
	}
	if len(j.Formerly) > 0 {
		s.bold(formerly(j.Formerly))
	}
	if p.Before != nil {
		s.bold("carried over " + p.origins() + ": its history stands behind the diary")
		if j.Row == 0 {
			s.text("This season has no row of it: what is printed of the package is as it was then.")
		} else if len(j.FromEarlier) > 0 {
			s.text("Left blank this season and printed as it was then: " + strings.Join(j.FromEarlier, ", ") + ".")
		}
	}
	contradicted(s, p)
	path, says := portrait(p)
	code := coded(j.Number)
	if path == "" {
		s.text(noPortrait(p) + ": check the number on the package against the finds above.")
		s.Gap(2)
		if code != "" {
			s.Need(codeMm)
			s.Code(code, codeMm)
			s.Gap(codeMm)
		}
		return nil
	}
	jpeg, err := os.ReadFile(path)
	if err != nil {
		return fmt.Errorf("picture of the bone: %w", err)
	}
	const wide, tall = 150, 78
	s.Need(tall + 12)
	if code != "" {
		s.Code(code, codeMm)
	}
	s.Picture(sheet.Picture{JPEG: jpeg, MostTallMm: tall, MostWideMm: wide, Caption: says})
	return nil
}

// mostContradicted is how many contradictions the first sheet has room for.
const mostContradicted = 4

// contradicted names what the jacket's own photos, tapes and sheets say against each other: no size of it is to be relied on
// before that is settled.
func contradicted(s pages, p Packet) {
	for i, c := range p.Audit.Contradicted {
		if i == mostContradicted {
			s.bold(fmt.Sprintf("and %d more contradictions, on the plates", len(p.Audit.Contradicted)-i))
			break
		}
		s.bold("CONTRADICTED: " + c.Reason + " (" + c.File + ")")
	}
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
		return "There is no picture of this bone"
	}
	return fmt.Sprintf("Nobody has said which photo shows this bone; %s of this package without a view may, and stand with the plates", counted(len(without), "photo"))
}

// piece is "2 of 3", "" for what was not divided.
func piece(j register.Jacket) string {
	if j.Piece == nil {
		return ""
	}
	return fmt.Sprintf("%d of %d", j.Piece.N, j.Piece.Of)
}

// formerly is "formerly 14, 14a", "" where there are no earlier numbers.
func formerly(numbers []string) string {
	if len(numbers) == 0 {
		return ""
	}
	return "formerly " + strings.Join(numbers, ", ")
}

func sisters(j register.Jacket) string {
	if len(j.SisterJackets) == 0 {
		return ""
	}
	return "; the others: " + strings.Join(j.SisterJackets, ", ")
}

// findLine is a find in one line.
func findLine(p Packet, number string) string {
	i := slices.IndexFunc(p.Finds, func(f register.Find) bool { return f.FieldNumber == number })
	if i < 0 {
		return number + ": not in the finds sheet"
	}
	f := p.Finds[i]
	parts := []string{f.FieldNumber + ": " + or(f.What)}
	for _, more := range []string{f.Side, f.Element} {
		if more != "" && !strings.Contains(strings.ToLower(f.What), strings.ToLower(more)) {
			parts = append(parts, more)
		}
	}
	if f.MuseumNumber != "" {
		parts = append(parts, "museum number "+f.MuseumNumber)
	}
	return strings.Join(parts, ", ")
}

// portraits are the views that show the bone, best first.
var portraits = []register.View{register.ViewBone, register.ViewGridded, register.ViewClose, register.ViewUnderside, register.ViewSetting}

// portrait is the picture of the bone for the first sheet, untouched where there is one; of an earlier season's where this
// one has none.
func portrait(p Packet) (path, says string) {
	seasons := p.seasons()
	slices.Reverse(seasons)
	for _, of := range seasons {
		for _, view := range portraits {
			for _, plate := range of.Plates {
				if plate.View != view {
					continue
				}
				says = fmt.Sprintf("%s, %s, photo %s", view, or(plate.Taken), plate.Photo)
				if of.From != "" {
					says = of.origin() + ": " + says
				}
				if plate.Preview != "" {
					return plate.Preview, says
				}
				return plate.Path, says
			}
		}
	}
	return "", ""
}
