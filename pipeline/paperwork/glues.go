package paperwork

import (
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// glues names on the first sheet every adhesive, consolidant and separator once, with what dissolves it.
func glues(c cell, p Packet) {
	c.title("ADHESIVES, CONSOLIDANTS, SEPARATOR")
	lines := 0
	for _, of := range slices.Backward(p.seasons()) {
		for _, text := range treatedWith(of.Season, of.Diary) {
			if of.From != "" {
				text = of.From + ": " + text
			}
			c.item(text)
			lines++
		}
	}
	if lines == 0 {
		c.text("The diary has none. That is no proof that there is none: test first.")
	} else {
		c.text("Test every solvent first.")
	}
	if p.Jacket.Separator != "" {
		c.named("Separator", p.Jacket.Separator)
	} else if p.Jacket.Plastered() {
		c.named("Separator", notRecorded+": plaster may lie on the bone")
	}
	if inked(p) {
		c.bold("SEPARATOR WITH INK: lift it dry (see cautions).")
	}
}

// treatedWith is each thing that was put on the bone, once, with where it went and what dissolves it, in the diary's order.
func treatedWith(season register.Season, diary []register.Entry) (lines []string) {
	places, solvents, order := map[string][]string{}, map[string]string{}, []string{}
	for _, e := range diary {
		if !isTreatment(e) {
			continue
		}
		name := e.What
		if e.Mix != "" {
			name = mixLine(season, e.Mix)
		}
		if kind := strings.TrimSpace(e.Kind); kind != "" && !strings.Contains(strings.ToLower(name), strings.ToLower(kind)) {
			name = kind + ": " + name
		}
		if !separates(e) {
			solvents[name] = "Soluble in: " + solubleIn(season, e.Mix)
		}
		if _, seen := places[name]; !seen {
			places[name], order = nil, append(order, name)
		}
		where := e.Where
		if where == "" && e.Mix != "" {
			where = e.What
		}
		if where != "" && !slices.Contains(places[name], where) {
			places[name] = append(places[name], where)
		}
	}
	for _, name := range order {
		text := name
		if where := places[name]; where != nil {
			text += ". Put on: " + strings.Join(where, "; ")
		}
		lines = append(lines, strings.Join(nonBlank(text, solvents[name]), ". "))
	}
	return lines
}

// untreatedAreas names what was left as it was for samples.
func untreatedAreas(c cell, p Packet) {
	lines := untreated(p)
	if len(lines) == 0 {
		return
	}
	c.title("LEFT UNTREATED FOR SAMPLES: keep it so")
	for _, line := range lines {
		c.item(line)
	}
}
