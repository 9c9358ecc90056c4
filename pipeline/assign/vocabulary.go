package assign

import (
	"regexp"
	"slices"
	"strings"

	"fieldjacket/pipeline/register"
)

// A vocabulary is the numbers that a name may hold.
type vocabulary struct {
	reg     *register.Register
	jackets map[string][]string // lower case -> numbers as typed
	finds   map[string][]string
	once    map[string][]string // numbers that are no longer in use and lead to a jacket
	parts   map[string][]string // numbers that no sheet has, and the jackets that they were divided into: K-02 -> K-02A, K-02B
	looks   map[string][]string // what jackets' numbers look like, see register.Look
	words   int                 // most groups that any number is made of
}

func vocabularyOf(reg *register.Register) *vocabulary {
	v := &vocabulary{reg: reg, jackets: map[string][]string{}, finds: map[string][]string{}, once: map[string][]string{}, parts: map[string][]string{}, looks: map[string][]string{}, words: 1}
	add := func(to map[string][]string, number string) {
		key := strings.ToLower(number)
		to[key] = append(to[key], number)
		v.words = max(v.words, len(groups(number)))
	}
	for _, j := range reg.Jackets {
		add(v.jackets, j.Number)
		look := register.Look(j.Number)
		v.looks[look] = append(v.looks[look], j.Number)
	}
	var earlier []string
	for _, j := range reg.Jackets {
		earlier = append(earlier, j.Formerly...)
	}
	for _, f := range reg.Finds {
		add(v.finds, f.FieldNumber)
		earlier = append(earlier, f.Formerly...)
	}
	for _, n := range earlier {
		if v.once[strings.ToLower(n)] == nil && len(reg.NowOf(n)) > 0 {
			add(v.once, n)
		}
	}
	v.divided()
	return v
}

// divided finds the numbers that several jackets have with a letter of their own behind it and that neither jacket nor find has.
func (v *vocabulary) divided() {
	whole := map[string]string{}
	for _, j := range v.reg.Jackets {
		if m := partForm.FindStringSubmatch(j.Number); m != nil {
			key := strings.ToLower(m[1])
			v.parts[key] = append(v.parts[key], j.Number)
			whole[key] = m[1]
		}
	}
	for key, of := range v.parts {
		if len(of) < 2 || v.jackets[key] != nil || v.finds[key] != nil || v.once[key] != nil {
			delete(v.parts, key)
			continue
		}
		v.words = max(v.words, len(groups(whole[key])))
	}
}

var partForm = regexp.MustCompile(`^(.*[0-9])[ ._-]?[A-Za-z]$`)

// known returns the number, as typed in the register, that text is: exactly, or but for upper and lower case if no other
// number is so like it.
func known(numbers map[string][]string, text string) (string, bool) {
	same := numbers[strings.ToLower(text)]
	if slices.Contains(same, text) {
		return text, true
	}
	if len(same) == 1 {
		return same[0], true
	}
	return "", false
}

// longest returns the longest number that begins at group i of a name, and the place behind its last group.
func (v *vocabulary) longest(numbers map[string][]string, name string, gs []group, i int) (number string, next int, ok bool) {
	for to := min(len(gs), i+v.words); to > i; to-- {
		if number, ok := known(numbers, name[gs[i].from:gs[to-1].to]); ok {
			return number, to, true
		}
	}
	return "", i, false
}

// longestPart is the same of numbers that were divided.
func (v *vocabulary) longestPart(name string, gs []group, i int) (number string, next int, ok bool) {
	for to := min(len(gs), i+v.words); to > i; to-- {
		if number := name[gs[i].from:gs[to-1].to]; v.parts[strings.ToLower(number)] != nil {
			return number, to, true
		}
	}
	return "", i, false
}

// twins returns the jackets whose numbers are easily taken for text but are not text.
func (v *vocabulary) twins(text string) []string {
	var out []string
	for _, number := range v.looks[register.Look(text)] {
		if number != text {
			out = append(out, number)
		}
	}
	return out
}

// meant returns the jackets that a number which the register does not have may mean: those it has become, and its twins.
func (v *vocabulary) meant(number string) []string {
	out := append(v.reg.NowOf(number), v.parts[strings.ToLower(number)]...)
	for _, twin := range v.twins(number) {
		if !slices.Contains(out, twin) {
			out = append(out, twin)
		}
	}
	return out
}

// missing says what is the matter with a jacket's number that the register does not have.
func (v *vocabulary) missing(number string) string {
	if now := v.reg.NowOf(number); len(now) > 0 {
		return "which is now " + strings.Join(now, " and ")
	}
	if of := v.parts[strings.ToLower(number)]; of != nil {
		return "which the register has only as " + strings.Join(of, " and ")
	}
	return "which the register does not have"
}

// unglued returns the number behind a glued jacket word (J14, jacket14), or "".
func unglued(text string) string {
	lower := strings.ToLower(text)
	for _, word := range gluedWords {
		if rest, ok := strings.CutPrefix(lower, word); ok && rest != "" && rest[0] >= '0' && rest[0] <= '9' {
			return text[len(word):]
		}
	}
	return ""
}

// holders returns the numbers of the jackets that hold a find.
func (v *vocabulary) holders(find string) []string {
	var out []string
	for _, j := range v.reg.JacketsOf(find) {
		out = append(out, j.Number)
	}
	return out
}
