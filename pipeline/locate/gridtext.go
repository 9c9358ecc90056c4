package locate

import (
	"regexp"
	"slices"
)

// Pieces of the forms in which people write easting and northing, on any grid.
const (
	// axis is what stands before or behind one of the two (English, German, Dutch, Spanish, French, Portuguese, Italian, Russian;
	// common practice, no source).
	axis = `(?:easting|northing|east|north|rechtswert|hochwert|rechts|hoch|ostwert|nordwert|ost|nord|oost|noord|este|norte|est|leste|ouest|sud|sur|west|south|` +
		`utm[ _]?[en]|rw|hw|m?[enxyrhsow]|восток|север|х|у)`
	gap    = `[\s\x{a0}\x{2009}\x{202f}]`
	before = axis + gap + `*[.:=]*` + gap + `*`
	behind = gap + `*(?:m` + gap + `*)?` + axis
	apart  = gap + `*(?:m` + gap + `*)?(?:[,;/|+&]` + gap + `*)?(?:(?:and|und|et|y|e)` + gap + `+)?`

	comma6, comma7 = `[0-9]{3}[.,'’][0-9]{3}`, `[0-9]{1,2}(?:[.,'’][0-9]{3}){2}`
	blank6, blank7 = `[0-9]{3}` + gap + `[0-9]{3}`, `[0-9]{1,2}(?:` + gap + `[0-9]{3}){2}`
	decimals       = `(?:[.,][0-9]+)?`
	// metres has five digits or more; the six of comma6 may be a measurement in thousandths as well.
	metres = `(?:` + comma7 + `|` + blank7 + `|` + blank6 + `|[0-9]{5,8})` + decimals
	either = `(?:` + metres + `|` + comma6 + decimals + `)`
	// dashed is one angle as 38-07-24 or 38:07.4.
	dashed = `[0-9]{1,3}[-:‐‑–][0-9]{1,2}(?:[-:‐‑–][0-9]{1,2}` + decimals + `|[.,][0-9]+)["″”]?`
)

// gridInText are easting and northing with what each is called or with their thousands set apart, one of them alone where its
// whole name stands before it, and angles with dashes.
var gridInText = alone(
	`(?:eastings?|northings?|rechtswert|hochwert|ostwert|nordwert)`+gap+`*(?:[.:=]|is|ist)?`+gap+`*`+either,
	before+metres+apart+before+either,
	before+either+apart+before+metres,
	metres+behind+apart+either+behind,
	either+behind+apart+metres+behind,
	comma6+decimals+behind+`?`+apart+comma7+decimals,
	comma7+decimals+behind+`?`+apart+comma6+decimals,
	blank6+gap+`*m?`+gap+`*[,;/|]`+gap+`*`+blank7,
	blank7+gap+`*m?`+gap+`*[,;/|]`+gap+`*`+blank6,
	dashed+gap+`*[NSEWO]`+apart+dashed+gap+`*[NSEWO]`,
	`[NSEWO]`+gap+`*`+dashed+apart+`[NSEWO]`+gap+`*`+dashed,
)

// Names of MGRS squares. Whether such a square exists is not asked: one with a wrong letter still tells the place.
const (
	zoneBand = `[0-9]{1,2}` + gap + `?[C-HJ-NP-X]`
	letters2 = gap + `?[A-HJ-NP-Z][A-HJ-NP-V]` + gap + `?`
	five     = `[0-9]{5}` + gap + `?[0-9]{5}`
	four     = `[0-9]{4}` + gap + `?[0-9]{4}`
	three    = `[0-9]{3}` + gap + `?[0-9]{3}`
	two      = `[0-9]{2}` + gap + `?[0-9]{2}`
)

// squaresInText have two digits or more for each number, 1 km. With fewer letters, digits or capitals they are told from "4 m at
// 1400", from numbers of a museum and from dates by what stands together.
var squaresInText = append(alone(
	zoneBand+letters2+`(?:`+five+`|`+four+`)`,
	`[0-9]{1,2}[C-HJ-NP-X]`+letters2+three,
	`[0-9]{1,2}[C-HJ-NP-X][A-HJ-NP-Z][A-HJ-NP-V]`+gap+`?`+two,
	`(?:[A-HJ-MP-Z][A-HJ-NP-V]|N[A-HJ-NPQS-V])(?:`+gap+`?[0-9]{5}`+gap+`[0-9]{5}|[0-9]{10})`,
	`(?:mgrs|usng|grid|square|planquadrat|quadrat|gitter)[\s:.]*`+letters2+`(?:`+five+`|`+four+`|`+three+`)`,
), cased(
	zoneBand+letters2+`(?:`+three+`|`+two+`)`,
	`[A-HJ-NP-Z][A-HJ-NP-V]`+gap+`?(?:[03-9][0-9]{3}|1[0-8][0-9]{2}|2[1-9][0-9]{2})`+gap+`[0-9]{4}`, // no year
	`[A-HJ-NP-Z][A-HJ-NP-V]`+gap+`[0-9]{10}`,
)...)

// alone compiles forms, in capitals or not, that neither a letter nor a digit touches.
func alone(forms ...string) (out []*regexp.Regexp) {
	for i, form := range forms {
		forms[i] = `(?i:` + form + `)`
	}
	return cased(forms...)
}

func cased(forms ...string) (out []*regexp.Regexp) {
	for _, form := range forms {
		out = append(out, regexp.MustCompile(`(?:^|[^\p{L}\p{N}])(`+form+`)(?:$|[^\p{L}\p{N}])`))
	}
	return out
}

// gridSpans gives where easting and northing, angles with dashes and squares stand in a text; several may share the blank
// between them.
func gridSpans(text string) (spans [][2]int) {
	for _, form := range slices.Concat(gridInText, squaresInText) {
		for from := 0; ; {
			at := form.FindStringSubmatchIndex(text[from:])
			if at == nil {
				break
			}
			spans = append(spans, [2]int{from + at[2], from + at[3]})
			from += at[3]
		}
	}
	return spans
}
