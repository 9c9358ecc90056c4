package locate

import (
	"regexp"
	"slices"
	"strings"
	"unicode"
)

// Sizes up to which what reads as a position tells a place: one of whole degrees, or a square of 100 km, tells none. In running
// text, where two numbers may be anything, a position has to be finer than in a cell of its own.
const (
	textSizeM = 2_500
	cellSizeM = 20_000
)

const (
	grouped = `[0-9]{1,3}(?:['’\x{a0}\x{2009}\x{202f}][0-9]{3}){1,2}` // 2'600'000
	between = `\s*(?:m\b)?\s*[EN]?\s*[,;/|]?\s*(?:[A-Z]{1,2}[:=]?\s*)?`
	degrees = `[+−–-]?[0-9]{1,3}[.,][0-9]{3,}`
)

// inText are positions that [Parse] refuses as doubtful or does not know, and which are positions all the same.
var inText = []*regexp.Regexp{
	// Plus codes, whole and short (Open Location Code specification, Google, "Format", "Short codes"); those with one pair of
	// digits only before the sign are sums as often.
	regexp.MustCompile(`(?i)\b(?:[2-9CFGHJMPQRVWX]{2}){2,4}\+(?:[2-9CFGHJMPQRVWX]{2,8})?`),
	regexp.MustCompile(`(?i)\b(?:[2-9CFGHJMPQRVWX]{2}){1,3}(?:00){1,3}\+`),
	// Easting and northing of any grid, in metres, of six or seven digits, or with the zone before the first.
	regexp.MustCompile(`(?i)(?:\b[0-9]{1,2}\s?[A-Z]?\s+(?:(?:north|south)\s+)?)?\b[ENXYRHOW]?(?:[0-9]{6,7}|[0-9]{8})(?:[.,][0-9]+)?` + between + `[0-9]{7}(?:[.,][0-9]+)?m?[EN]?\b`),
	regexp.MustCompile(`(?i)(?:\b[0-9]{1,2}\s?[A-Z]?\s+(?:(?:north|south)\s+)?)?\b[ENXYRHOW]?[0-9]{6,7}(?:[.,][0-9]+)?` + between + `[0-9]{6,7}(?:[.,][0-9]+)?m?[EN]?\b`),
	regexp.MustCompile(`(?i)\b` + grouped + between + grouped + `\b`),
	// Two numbers of degrees with three decimals or more, also within an address of the web.
	regexp.MustCompile(`(?i)` + degrees + `[°º˚]?\s*[NSEWO]?\s*(?:[,;/|]|%2c)?\s*(?:lon[a-z]*|lng)?[.:=]?\s*` + degrees),
	// One angle in degrees and minutes with its side of the globe; N 45°30' E is a bearing.
	regexp.MustCompile(`(?:^|[^0-9NS\s]|[^NS]\s)([0-9]{1,3}\s*[°º˚]\s*[0-9]{1,2}(?:[.,][0-9]+)?\s*['′’´]\s*(?:[0-9]{1,2}(?:[.,][0-9]+)?\s*(?:["″”]|''|′′))?\s*[NSEWO]\b)`),
	regexp.MustCompile(`\b[NSEWO]\s*[0-9]{1,3}\s*[°º˚]\s*[0-9]{1,2}[.,][0-9]{2,}\s*['′’´]`),
	// Township and range of the public land survey of the United States (common practice, no source).
	regexp.MustCompile(`(?i)\bT\.?\s*[0-9]{1,3}\s*[NS]\.?\s*,?\s*R\.?\s*[0-9]{1,3}\s*[EW]\b`),
	// Three words that stand for a square.
	regexp.MustCompile(`/{3}\p{L}+\.\p{L}+\.\p{L}+`),
}

// inCell are further ones that hold where nothing else stands in the cell.
var inCell = []*regexp.Regexp{
	regexp.MustCompile(`(?i)^[^0-9]*[0-9]{5,8}(?:[.,][0-9]+)?` + between + `[0-9]{5,8}(?:[.,][0-9]+)?\s*m?$`),
	regexp.MustCompile(`(?i)^[A-Z]{2}\s?(?:[0-9]{3}\s?[0-9]{3}|[0-9]{4}\s?[0-9]{4}|[0-9]{5}\s?[0-9]{5})$`), // a square's letters and digits
	regexp.MustCompile(`(?i)^[NSEWO+−-]?\s*[0-9]{1,3}[.,][0-9]{4,}\s*[°º˚]?\s*[NSEWO]?$`),                  // one of two columns
	regexp.MustCompile(`(?i)^[NSEWO]?\s*[0-9]{1,3}\s*[°º˚:]\s*[0-9]{1,2}\s*['′’´:]\s*[0-9.,]*\s*(?:["″”]|'')?\s*[NSEWO]?$`),
	regexp.MustCompile(`(?i)^(?:[NSEWO]\s*` + dashed + `|` + dashed + `\s*[NSEWO])$`),
	regexp.MustCompile(`^(?:[0-9]{1,3} [0-9]{1,2} [0-9]{1,2}(?:[.,][0-9]+)?[\s,;/]*){2}$`), // degrees, minutes and seconds without a side
	regexp.MustCompile(`(?i)^[0-9]{1,3}(?:[ .][0-9]{3}){1,2}\s*[,;/]\s*[0-9]{1,3}(?:[ .][0-9]{3}){1,2}$`),
}

// IsPosition reports whether a cell holds what may be a position, alone or among other words: whatever [Parse] reads, also
// positions that it refuses as doubtful, plus codes, and easting and northing on any grid.
func IsPosition(cell string) bool {
	cell = strings.TrimSpace(cell)
	if at, err := Parse(cell, ""); err == nil && at.SizeM <= cellSizeM {
		return true
	}
	return slices.ContainsFunc(inCell, func(r *regexp.Regexp) bool { return r.MatchString(cell) }) || len(InText(cell)) > 0
}

// InText gives where positions stand in running text, as bytes from and to, in their order and without overlap. Two bare numbers
// count only with three decimals each, or with six digits and more: measurements stand in such a text too.
func InText(text string) (spans [][2]int) {
	if !strings.ContainsAny(text, "0123456789+/") {
		return nil
	}
	for _, form := range inText {
		for _, at := range form.FindAllStringSubmatchIndex(text, -1) {
			spans = append(spans, [2]int(at[len(at)-2:])) // the group, or else the whole
		}
	}
	spans = append(append(spans, gridSpans(text)...), parsed(text)...)
	slices.SortFunc(spans, func(a, b [2]int) int { return a[0] - b[0] })
	var out [][2]int
	for _, s := range spans {
		if n := len(out); n > 0 && s[0] <= out[n-1][1] {
			out[n-1][1] = max(out[n-1][1], s[1])
			continue
		}
		out = append(out, s)
	}
	return out
}

// mostWords is how many words, parted by blanks, a typed position has at most: N 31 ° 07 ' 24 " W 68 ° 39 ' 15 " and what is about it.
const mostWords = 16

// parsed gives the longest runs of words that Parse reads as a position other than the name of a square, see squaresInText.
func parsed(text string) (spans [][2]int) {
	words := wordsOf(text)
	for i := 0; i < len(words); i++ {
		if !mayBegin(text[words[i][0]:words[i][1]]) {
			continue
		}
		for j := min(len(words), i+mostWords) - 1; j >= i; j-- {
			from, to := words[i][0], words[j][1]
			if at, err := Parse(text[from:to], ""); err == nil && at.SizeM <= textSizeM && at.Form != FormMGRS && (at.Form != FormDegrees || sided(text[from:to])) {
				spans = append(spans, [2]int{from, to})
				i = j
				break
			}
		}
	}
	return spans
}

// wordsOf gives the words of a text, without the brackets and stops about them.
func wordsOf(text string) (words [][2]int) {
	const about = "()[]{}<>.,;:!?=@&\"'“”„*"
	for from := 0; from < len(text); {
		size := strings.IndexFunc(text[from:], func(c rune) bool { return unicode.IsSpace(c) || strings.ContainsRune("()[]{}=@&<>", c) })
		if size < 0 {
			size = len(text) - from
		}
		word := text[from : from+size]
		start := from + len(word) - len(strings.TrimLeft(word, about))
		// A sign for minutes or seconds at the end belongs to the number.
		end := from + len(strings.TrimRight(word, strings.NewReplacer(`"`, "", "'", "", "”", "").Replace(about)))
		if start < end {
			words = append(words, [2]int{start, end})
		}
		from += max(size, 1)
	}
	return words
}

var begins = regexp.MustCompile(`(?i)^(?:[+−–-]?[0-9]|[NSEWO]$|[NSEWO][0-9]|lat|lon|utm|mgrs|zone)`)

func mayBegin(word string) bool { return begins.MatchString(word) }

// sided reports whether letters or signs of degrees stand with the numbers.
func sided(text string) bool { return strings.ContainsAny(strings.ToUpper(text), "NSEWO°º˚") }
