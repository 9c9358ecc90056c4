package paperwork

import (
	"fmt"
	"slices"
	"strconv"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/overlay/sheet"
	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/register"
)

// treatmentWords are parts of the diary's kind column that mean something was put on the bone.
var treatmentWords = []string{"treat", "consolid", "adhes", "glue", "resin", "separat", "fill", "mould", "mold"}

func isTreatment(e register.Entry) bool {
	if e.Mix != "" || e.Coats != "" {
		return true
	}
	for _, word := range treatmentWords {
		if strings.Contains(strings.ToLower(e.Kind), word) {
			return true
		}
	}
	return false
}

// Treatments are what was put on a jacket's bone in every season that knew it, by day, a text each.
func Treatments(p Packet) (all []string) {
	for _, of := range p.seasons() {
		for _, e := range of.Diary {
			if isTreatment(e) {
				all = append(all, strings.TrimSpace(e.Date.String()+" "+treatmentText(of.Season, e)))
			}
		}
	}
	return all
}

// separates tells whether a line is on what keeps bone and plaster apart, or fills or covers, of which nobody asks what dissolves it.
func separates(e register.Entry) bool {
	kind := strings.ToLower(e.Kind)
	return e.Mix == "" && (strings.Contains(kind, "separat") || strings.Contains(kind, "fill") || strings.Contains(kind, "mould") || strings.Contains(kind, "mold"))
}

// treatments lists day by day what was put on the bone, as written, and what takes it off again.
func treatments(s pages, p Packet) error {
	seasons := p.seasons()
	if len(seasons) == 1 && !slices.ContainsFunc(p.Diary, isTreatment) {
		return nil // the first sheet says so
	}
	s.heading("Field treatments, day by day")
	for _, of := range seasons {
		t := sheet.Table{Heads: []string{"day", "where", "what", "soluble in", "by"}, Shares: []float64{1.2, 1.2, 2.7, 1.4, 1.25}}
		for _, e := range of.Diary {
			if !isTreatment(e) {
				continue
			}
			soluble := ""
			if !separates(e) {
				soluble = solubleIn(of.Season, e.Mix) + "; test first"
			}
			t.Rows = append(t.Rows, []string{strings.TrimSpace(e.Date.String() + " " + e.Time), e.Where, treatmentText(of.Season, e), soluble, of.Season.PrintedName(e.By)})
		}
		switch {
		case of.From != "":
			s.bold(of.origin() + ":")
		case len(seasons) > 1:
			s.bold("this season:")
		}
		if len(t.Rows) == 0 {
			s.text("The diary has nothing on adhesive, consolidant or separator for this package. That is no proof that there is none: test first.")
		} else {
			s.table(t)
		}
	}
	if len(untreated(p)) == 0 {
		s.text("Areas left untreated for samples: " + notRecorded + ". Samples for dating or molecules are taken before anything is put on (Koob, conservators' distribution list, 1995).")
	}
	return nil
}

// treatmentText is what was done, with the mix and the coats as written.
func treatmentText(season register.Season, e register.Entry) string {
	what := e.What
	if e.Mix != "" {
		what += "; mix: " + mixLine(season, e.Mix)
	}
	if e.Coats != "" {
		what += "; coats: " + e.Coats
	}
	return what
}

// inkWords are words for printed paper.
var inkWords = []string{"newspaper", "newsprint", "printed", "magazine", "phone book"}

// inked tells whether printed paper may lie on the bone.
func inked(p Packet) bool {
	for _, word := range inkWords {
		if mentions(p, word) {
			return true
		}
	}
	return false
}

// untreated gives the diary's lines on what was left as it was, and the jacket's samples.
func untreated(p Packet) (lines []string) {
	for _, of := range p.seasons() {
		lines = append(lines, of.untreated()...)
	}
	return lines
}

func (p Packet) untreated() (lines []string) {
	for _, e := range p.Diary {
		if text := strings.ToLower(e.What); strings.Contains(text, "untreated") || strings.Contains(text, "no glue") || strings.Contains(text, "left bare") {
			line := e.Date.String() + ": " + e.What
			if e.Where != "" {
				line += " (" + e.Where + ")"
			}
			lines = append(lines, line)
		}
	}
	if p.Jacket.Samples != "" && !slices.Contains(p.Jacket.FromEarlier, "samples") {
		lines = append(lines, "samples: "+p.Jacket.Samples)
	}
	if p.From != "" {
		for i := range lines {
			lines[i] = p.From + ", " + lines[i]
		}
	}
	return lines
}

// mixLine is a mix as prepared; what was not written is said to be missing.
func mixLine(season register.Season, name string) string {
	m, ok := season.Mix(name)
	if !ok {
		return name + " (what it is made of is " + notRecorded + ")"
	}
	strength := "strength " + notRecorded
	if m.Percent != nil {
		strength = strconv.FormatFloat(*m.Percent, 'f', -1, 64) + " %"
		if m.Basis != "" {
			strength += " " + m.Basis
		} else {
			strength += ", of mass or volume is " + notRecorded
		}
	}
	resin, solvent := m.Resin, m.Solvent
	if resin == "" {
		resin = "resin " + notRecorded
	}
	if solvent == "" {
		solvent = "solvent " + notRecorded
	}
	return fmt.Sprintf("%s: %s, %s, in %s", m.Name, resin, strength, solvent)
}

// solubleIn says what takes a mix off again, whatever it is; it is to be tested.
func solubleIn(season register.Season, name string) string {
	if m, ok := season.Mix(name); ok && m.RedissolveIn != "" {
		return m.RedissolveIn
	}
	return "not known"
}

// bySquares holds a length that was taped between squares against the pitch of its set-up, or else of the season's only grid;
// "" where it names no squares.
func bySquares(u register.SetUp, c register.TapeCheck, season register.Season) string {
	span, ok := evidence.SpanOf(c.From, c.To, c.LengthMm, u.Name)
	if !ok {
		return ""
	}
	var grids []calibrate.Reference
	for _, r := range season.References {
		if r.Kind == calibrate.KindGrid && (u.PitchCm == nil || evidence.SamePitch(*u.PitchCm, r.PitchCm)) {
			grids = append(grids, r.Reference)
		}
	}
	if len(grids) != 1 {
		return ""
	}
	return span.Hold(grids[0]).String()
}

// tapeChecks tells what taped lengths are on the plates, where their ends were pointed at, and lists those of the set-ups with
// room for what the plate gives.
func tapeChecks(s pages, p Packet) error {
	t := sheet.Table{Heads: []string{"set-up", "from", "to", "tape", "by the squares; on the plate (write it in)"}, Shares: []float64{1, 1, 1, 1, 2.4}}
	for _, u := range p.SetUps {
		for _, c := range u.TapeChecks {
			t.Rows = append(t.Rows, []string{u.Name, c.From, c.To, strconv.FormatFloat(c.LengthMm, 'f', -1, 64) + " mm", bySquares(u, c, p.Season)})
		}
	}
	said := false
	for _, plate := range p.Plates {
		said = said || len(plate.Tapes) > 0
	}
	if len(t.Rows) == 0 && !said {
		return nil
	}
	s.heading("Tape check")
	for _, plate := range p.Plates {
		for _, says := range plate.Tapes {
			s.text(says + " (plate of " + plate.Photo + ")")
		}
	}
	if len(t.Rows) > 0 {
		s.table(t)
	}
	return nil
}
