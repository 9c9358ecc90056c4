package paperwork

import (
	"fmt"

	"fieldjacket/overlay/sheet"
)

// lacking says what pictures there are, which are missing and which a person did without.
func lacking(s pages, p Packet) error {
	s.heading("Pictures: there, missing or waived")
	lacks := p.Audit.Lacks()
	switch {
	case p.Audit.Stage == "":
		s.bold("The stage is " + notRecorded + ", so that only what is due for every find was asked for.")
	case len(lacks) == 0:
		s.text("Nothing that is due at this stage is missing.")
	}
	t := sheet.Table{Heads: []string{"view", "due from", "state", "remark"}, Shares: []float64{1, 1, 1.2, 3.4}}
	for _, v := range p.Audit.Views {
		remark := v.Text
		if remark == string(v.State) {
			remark = ""
		}
		if _, own := p.Jacket.Waiver(v.View); own && v.Waiver != nil {
			remark = fmt.Sprintf("waived: %s (%s)", or(v.Waiver.Reason), or(p.Season.PrintedName(v.Waiver.By)))
		}
		state := string(v.State)
		if v.Lacks() {
			state = "LACKING: " + state
		}
		t.Rows = append(t.Rows, []string{string(v.View), string(v.DueFrom), state, remark})
	}
	if len(t.Rows) > 0 {
		s.table(t)
	}
	return nil
}

// diary prints every line on this package.
func diary(s pages, p Packet) error {
	s.heading("Diary")
	if len(p.Diary) == 0 {
		s.text("The diary has no line on this package.")
		return nil
	}
	t := sheet.Table{Heads: []string{"day", "what", "stage", "by"}, Shares: []float64{1.2, 4.1, 1, 1.1}}
	for _, e := range p.Diary {
		day := e.Date.String()
		if e.Time != "" {
			day += " " + e.Time
		}
		what := e.What
		for _, o := range other(e.Other) {
			what += "; " + o[0] + ": " + o[1]
		}
		t.Rows = append(t.Rows, []string{day, what, string(e.Stage), p.Season.PrintedName(e.By)})
	}
	s.table(t)
	return nil
}

// custody leaves room for whoever receives, opens and returns the package.
func custody(s pages, p Packet) error {
	s.Need(120)
	s.heading("Received, opened, returned")
	lines := func(text string, n int) {
		s.text(text)
		s.Pencil(n)
	}
	lines("received on, by; condition of the plaster and of the labels:", 2)
	lines("opened on, by, from which side:", 1)
	lines("what was found against the plates (ends, sizes, what the plate did not show):", 3)
	lines("lab treatments (what, where, re-dissolves in), samples taken:", 3)
	lines("returned or passed on, on, to, by; papers and plates with it:", 1)
	return nil
}

// files lists the photos that belong to the jacket, small and last: each once,
// however many plates were made of it.
func files(s pages, p Packet) error {
	if len(p.Files) == 0 {
		return nil
	}
	s.heading("Files")
	t := sheet.Table{Heads: []string{"photo", "taken", "SHA-256 of the photo"}, Shares: []float64{2.2, 1.6, 3.4}, Small: true}
	for _, f := range p.Files {
		t.Rows = append(t.Rows, []string{f.Name, or(f.Taken), or(f.SHA256)})
	}
	s.table(t)
	return nil
}
