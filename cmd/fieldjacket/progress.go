package main

import (
	"encoding/json"
	"fmt"
	"io"
	"os"

	"golang.org/x/term"

	"fieldjacket/pipeline/evidence"
	"fieldjacket/pipeline/record"
)

// progress shows a run on a terminal, and each photo as JSON where asked for.
type progress struct {
	to, out    io.Writer
	json, live bool
	done, of   int
}

func (p *progress) Started(photos int) { p.of = photos }

func (p *progress) Photo(file string) {
	p.done++
	if p.live {
		p.line(fmt.Sprintf("photo %d of %d  %s", p.done, p.of, file))
	}
}

// line writes over the terminal's last line.
func (p *progress) line(text string) {
	to := p.to
	if plain, ok := to.(plainWriter); ok {
		to = plain.to
	}
	fmt.Fprint(to, "\r\x1b[K", plainText(oneLine(text)))
}

func (p *progress) Settled(r *record.Record) {
	if p.json {
		_ = json.NewEncoder(p.out).Encode(photoLine(r))
	}
}

func (p *progress) Stage(name string) {
	if p.live {
		p.line(name)
	}
}

func (p *progress) end() {
	if p.live {
		p.line("")
	}
}

func isTerminal(w io.Writer) bool {
	if plain, ok := w.(plainWriter); ok {
		w = plain.to
	}
	f, ok := w.(*os.File)
	return ok && term.IsTerminal(int(f.Fd()))
}

// photoLine is one photo in --json.
func photoLine(r *record.Record) map[string]any {
	status, reason := "not scaled", r.Unread()
	plane, sighting := r.Plane()
	switch {
	case plane != nil:
		status = "scaled"
	case r.NotPhoto():
		status = "not a photo"
	case reason != "":
		status = "unreadable"
	case r.Aside() != "":
		status, reason = "set aside", r.Aside()
	}
	if why := evidence.Unscaled(r); status == "not scaled" && why != nil {
		reason = why.Reason
	}
	for _, n := range r.Notes {
		if n.Person && reason == "" {
			reason = n.Text
		}
	}
	line := map[string]any{"file": r.Photo.File, "status": status}
	if reason != "" {
		line["reason"] = reason
	}
	if plane != nil && sighting.Size != nil {
		line["size"] = sighting.Size.Known
		if by := sighting.Size.By; by != "" {
			line["size_by"] = by
		}
	}
	if len(r.DepthsBetween) > 0 {
		line["levels"] = r.DepthsBetween
	}
	if all := record.LengthsOf(r.Plates); len(all) > 0 {
		line["lengths"] = all
	}
	if len(r.Belongs.Jackets) > 0 {
		line["jackets"] = r.Belongs.Jackets
	}
	if r.Belongs.View != "" {
		line["view"] = r.Belongs.View
	}
	return line
}
