package withhold

import (
	"regexp"
	"strings"
	"unicode"

	"golang.org/x/text/unicode/norm"

	"fieldjacket/pipeline/register"
)

// secrets are expressions, one for each thing that is held back.
type secrets []string

// ofPlaces takes what the register says of where things lie, whose the land is and how one gets there.
func (s *secrets) ofPlaces(r *register.Register) {
	locality := func(l register.Locality) {
		for _, text := range []string{l.Name, l.Landowner, l.Permit, l.Access} {
			s.phrase(text)
		}
		s.position(l.Position)
		for _, o := range l.Other {
			s.long(o.Text)
		}
	}
	find := func(f register.Find) {
		s.position(f.Position)
		for i, o := range f.Other {
			if held(f.Other, i) {
				s.long(o.Text)
			}
		}
	}
	for _, l := range r.Localities {
		locality(l)
	}
	for _, f := range r.Finds {
		find(f)
	}
	for _, j := range r.Jackets {
		for c := j.Carried; c != nil; c = c.Before {
			for _, l := range c.Localities {
				locality(l)
			}
			for _, f := range c.Finds {
				find(f)
			}
		}
	}
}

// leastSigns is how many letters and digits a text has at least that is looked for within others, and leastInside where it may
// stand within a word.
const (
	leastSigns  = 3
	leastInside = 5
)

// phrase takes a text, in whatever case, its words parted by anything or nothing, as in names of files.
func (s *secrets) phrase(text string) {
	var words []string
	signs := 0
	for _, word := range strings.FieldsFunc(norm.NFC.String(text), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsDigit(c) && !unicode.IsMark(c) }) {
		words = append(words, regexp.QuoteMeta(word))
		signs += len([]rune(word))
	}
	if signs < leastSigns {
		return
	}
	expression := strings.Join(words, `[^\pL\pN]{0,3}`)
	if signs < leastInside {
		expression = `\b` + expression + `\b`
	}
	*s = append(*s, `(?i:`+expression+`)`)
}

// long takes the text of a cell of a column of the crew's own, where it is no common word or small number.
func (s *secrets) long(text string) {
	if strings.ContainsFunc(text, unicode.IsDigit) && digits(text) < leastDigits && !strings.Contains(strings.TrimSpace(text), " ") {
		return
	}
	if len([]rune(strings.TrimSpace(text))) >= leastInside {
		s.phrase(text)
	}
}

// name takes a person's name, and each part of it as a word of its own.
func (s *secrets) name(name string) {
	s.phrase(name)
	for _, part := range strings.FieldsFunc(norm.NFC.String(name), func(c rune) bool { return !unicode.IsLetter(c) && !unicode.IsMark(c) }) {
		if len([]rune(part)) >= leastSigns {
			*s = append(*s, `\b`+regexp.QuoteMeta(part)+`\b`)
		}
	}
}

var numberInPosition = regexp.MustCompile(`[0-9]+(?:[.,][0-9]+)?`)

// leastDecimals is how many decimals of a degree, about 100 m, tell a place.
const leastDecimals = 3

// position takes a position as typed, and its numbers each alone: of degrees also with fewer decimals, down to about 100 m.
func (s *secrets) position(p register.Position) {
	s.phrase(p.Typed)
	for _, number := range numberInPosition.FindAllString(p.Typed, -1) {
		whole, decimals, _ := strings.Cut(strings.Replace(number, ",", ".", 1), ".")
		switch {
		case len(decimals) >= leastDecimals:
			*s = append(*s, `\b`+whole+`[.,]`+decimals[:leastDecimals]+`[0-9]*`)
		case len(whole) >= leastDigits:
			*s = append(*s, whole)
		}
	}
	if at, err := p.Read(); err == nil && at.Place != nil {
		for _, text := range []string{at.Place.String(), at.Place.MGRS(5)} { // the forms that the locality's record prints
			for _, number := range numberInPosition.FindAllString(text, -1) {
				if whole, decimals, _ := strings.Cut(number, "."); len(decimals) >= leastDecimals {
					*s = append(*s, `\b`+whole+`\.`+decimals[:leastDecimals]+`[0-9]*`)
				}
			}
			s.long(text)
		}
		if u, ok := at.Place.UTM(); ok {
			for _, number := range numberInPosition.FindAllString(u.String(), -1) {
				if len(number) >= leastDigits {
					*s = append(*s, number)
				}
			}
		}
	}
}
