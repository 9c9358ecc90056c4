package locate

import (
	"errors"
	"fmt"
	"math"
	"regexp"
	"strconv"
	"strings"
	"unicode/utf8"
)

// Forms that a position can be typed in.
const (
	FormDegrees = "decimal degrees"
	FormMinutes = "degrees and minutes"
	FormSeconds = "degrees, minutes and seconds"
	FormUTM     = "UTM"
	FormMGRS    = "MGRS"
)

// A Typed is a position as somebody typed it, and what it says.
type Typed struct {
	Text string
	Form string
	// Place is where it lies; nil: it was typed on another datum than WGS84, and is not shifted.
	Place *Place
	// Datum is "WGS84", or what was typed for it; "" is not recorded, and Place then holds if WGS84 was meant, which is what
	// receivers and phones give unless they are set otherwise.
	Datum string
	// SizeM is how far the last typed digit reaches on the ground: 1 m for whole metres, 100 m for an MGRS square of 3 digits.
	// For MGRS, Place is the middle of that square.
	SizeM float64
}

// maxTyped is more than any position takes, in bytes.
const maxTyped = 120

var errForms = errors.New("want latitude and longitude such as 38.95 S 32.06 W or 38°57'00\"S 32°03'36\"W, UTM with its zone such as " +
	"25 south 581454 5688351, or MGRS such as 25HES8145488351")

// Parse reads a position: decimal degrees, degrees and minutes, degrees, minutes and seconds, UTM or MGRS. Latitude comes
// first, unless letters say otherwise (common practice, and ISO 6709). The error says what is wrong or ambiguous about it;
// nothing is guessed. datum is as typed beside it, and may be blank.
func Parse(text, datum string) (Typed, error) {
	t := Typed{Text: text, Datum: strings.TrimSpace(datum)}
	if len(text) > maxTyped || !utf8.ValidString(text) {
		return Typed{}, fmt.Errorf("position of %d bytes: %w", len(text), errForms)
	}
	ours := IsWGS84(t.Datum)
	if ours {
		t.Datum = "WGS84"
	}
	at, err := t.read(tidy(text))
	if err != nil {
		return Typed{}, fmt.Errorf("position %q: %w", text, err)
	}
	if ours || t.Datum == "" {
		t.Place = &at
	}
	return t, nil
}

var (
	datumSigns = regexp.MustCompile(`[\s_:.-]+`)
	mgrsForm   = regexp.MustCompile(`^[0-9]{1,2}[A-Z][A-Z]{2}[0-9]*$`)
	mgrsTyped  = regexp.MustCompile(`^(?:MGRS )?([0-9]{1,2}) ?([A-Z]) ?([A-Z]{2})(?: ?([0-9]+)(?: ([0-9]+))?)?$`)
	polar      = regexp.MustCompile(`^(?:MGRS )?(?:[ABYZ] ?[A-Z]{2} ?[0-9]|[ABYZNS] ?[0-9]{7} [0-9]{7}$)`) // NGA.SIG.0012, UPS
	exponent   = regexp.MustCompile(`[0-9.][Ee][+-]?[0-9]`)
)

// IsWGS84 reports whether a datum as typed, or as a photo names it, is WGS84.
func IsWGS84(datum string) bool {
	switch datumSigns.ReplaceAllString(strings.ToUpper(datum), "") {
	case "WGS84", "WGS1984", "EPSG4326", "WORLDGEODETICSYSTEM1984":
		return true
	}
	return false
}

// signs makes one sign of the many that mean the same.
var signs = strings.NewReplacer("−", "-", "–", "-", "º", "°", "˚", "°", "′", "'", "’", "'", "´", "'", "‘", "'", "ʹ", "'", "″", `"`, "”", `"`, "“", `"`,
	"\t", " ", "\u00a0", " ", "\u2009", " ", "\u202f", " ")

// tidy also makes one sign of two for minutes, and one blank of several.
func tidy(text string) string {
	text = strings.ReplaceAll(signs.Replace(text), "''", `"`)
	return strings.Join(strings.Fields(text), " ")
}

func (t *Typed) read(text string) (Place, error) {
	upper := strings.ToUpper(text)
	if polar.MatchString(upper) {
		return Place{}, errors.New("a polar grid (UPS) is not read: give latitude and longitude")
	}
	if m := mgrsTyped.FindStringSubmatch(upper); m != nil {
		if m[5] != "" && len(m[4]) != len(m[5]) {
			return Place{}, fmt.Errorf("%d digits for east and %d for north: want as many for both", len(m[4]), len(m[5]))
		}
		t.Form = FormMGRS
		at, size, err := parseMGRS(m[1] + m[2] + m[3] + m[4] + m[5])
		t.SizeM = size
		return at, err
	}
	if mgrsForm.MatchString(strings.ReplaceAll(upper, " ", "")) {
		return Place{}, errors.New("the digits of MGRS in more than two groups: want one group, or one for east and one for north")
	}
	words, err := split(upper)
	if err != nil {
		return Place{}, err
	}
	for _, w := range words {
		if w.kind == number && w.value >= 1000 {
			t.Form = FormUTM
			return t.readUTM(words)
		}
	}
	if exponent.MatchString(upper) {
		return Place{}, errors.New("an E right between two numbers may be east or an exponent: want a blank after it")
	}
	return t.readDegrees(words)
}

// Kinds of words.
const (
	number = iota
	letter // N, S, E, W, and band letters in UTM
	sign
	unit  // °, ', "
	comma // , or ;
)

// A word is one piece of a typed position.
type word struct {
	kind     int
	text     string // what it means
	typed    string // in capitals
	value    float64
	decimals int
}

var (
	wordForm     = regexp.MustCompile(`^(?:[0-9]+(?:[.][0-9]+)?|[A-Z]+[.:]?|[°'",;+-])`)
	onlyComma    = regexp.MustCompile(`^,[0-9]+$`) // behind a first number: 38,95
	decimalComma = regexp.MustCompile(`^([+-]?[0-9]{1,3}),([0-9]+)( ?[NSEW])?(?: ?; ?|, | )([+-]?[0-9]{1,3}),([0-9]+)( ?[NSEW])?$`)
)

// plain are the words that mean what a letter or sign does; "" ones say nothing.
var plain = map[string]string{
	"NORTH": "N", "SOUTH": "S", "EAST": "E", "WEST": "W", "DEG": "°", "DEGREES": "°", "D": "°", "MIN": "'", "MINUTES": "'", "SEC": `"`, "SECONDS": `"`,
	"LAT": "", "LATITUDE": "", "LON": "", "LONG": "", "LONGITUDE": "", "AND": "", "UTM": "", "ZONE": "", "ME": "E", "MN": "N",
	"EASTING": "E", "NORTHING": "N",
}

// split cuts a text in capitals into its words.
func split(text string) (words []word, err error) {
	if decimalComma.MatchString(text) && !strings.Contains(text, ".") {
		text = decimalComma.ReplaceAllString(text, "$1.$2$3 ; $4.$5$6")
	}
	for {
		text = strings.TrimLeft(text, " ")
		if text == "" {
			return words, nil
		}
		w := wordForm.FindString(text)
		if w == "" {
			_, size := utf8.DecodeRuneInString(text)
			return nil, fmt.Errorf("%q is not understood: %w", text[:size], errForms)
		}
		text = text[len(w):]
		next := word{text: w, typed: strings.TrimRight(w, ".:")}
		switch c := w[0]; {
		case c >= '0' && c <= '9':
			if len(words) == 0 && onlyComma.MatchString(text) {
				return nil, fmt.Errorf("%q: whether the comma is a decimal one or stands between two numbers cannot be told: want decimal points", w+text)
			}
			next.value, _ = strconv.ParseFloat(w, 64)
			if i := strings.IndexByte(w, '.'); i >= 0 {
				next.decimals = len(w) - i - 1
			}
		case c >= 'A' && c <= 'Z':
			as, ok := plain[next.typed]
			if !ok {
				as = next.typed
			}
			next.text = as
			switch {
			case next.text == "":
				continue
			case next.text == "O":
				return nil, errors.New("the letter O is west in some languages and east in others: want W or E")
			case !ok && len(next.text) > 1:
				return nil, fmt.Errorf("%q is not understood: %w", next.typed, errForms)
			}
			next.kind = letter
			if strings.Contains("°'\"", next.text) {
				next.kind = unit
			}
		case c == '+' || c == '-':
			next.kind = sign
		case c == ',' || c == ';':
			next.kind = comma
		default:
			next.kind = unit
		}
		words = append(words, next)
	}
}

// reach is how far one unit of the last decimal of a latitude goes on the ground.
func reach(unitDeg float64, decimals int) float64 {
	const degreeM = 111_320
	return degreeM * unitDeg / math.Pow10(decimals)
}
