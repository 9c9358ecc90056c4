package words

import (
	"fmt"
	"slices"
	"strings"
	"unicode"

	"fieldjacket/pipeline/register"
)

// What is what a word says something of.
type What string

// The things that can be said, see [Word].
const (
	Jackets   What = "jackets"
	View      What = "view"
	InSetUp   What = "setup"
	Caption   What = "caption"
	Chosen    What = "chosen"
	LeaveOut  What = "leave_out"
	NoScale   What = "no_scale"
	Release   What = "release"
	Reference What = "reference"
	End       What = "end"
	North     What = "north"
	Origin    What = "origin"
	Up        What = "up"
	Outlined  What = "outline"
	Depth     What = "depth"
	Tape      What = "tape"
	Waiver    What = "waiver"
	Museum    What = "museum_number"
	Undo      What = "undo"
)

// None as a value of jackets, view and setup says that there is none, which is not the same as saying nothing.
const None = "none"

// The three ups.
const (
	FieldTop = "field top"
	WayUp    = "way up" // of the beds
	CarryUp  = "carry"  // this side up
)

// A rule says what a word of one kind may be about, which names it takes, and what its value must be.
type rule struct {
	about []string
	name  func(name string) error  // nil: takes none
	value func(value string) error // of a value that is not blank
}

var onPhotos = []string{AboutPhoto, AboutPhotos}

// order is that of [Word]'s comment.
var order = []What{Jackets, View, InSetUp, Caption, Chosen, LeaveOut, NoScale, Release, Reference, End, North, Origin, Up, Outlined,
	Depth, Tape, Waiver, Museum, Undo}

var rules = map[What]rule{
	Jackets:   {about: onPhotos, value: func(v string) error { return got(parseJackets(v)) }},
	View:      {about: onPhotos, value: func(v string) error { return got(parseView(v)) }},
	InSetUp:   {about: onPhotos, value: anything},
	Caption:   {about: onPhotos, value: anything},
	Chosen:    {about: onPhotos, value: func(v string) error { return got(parseYes(v)) }},
	LeaveOut:  {about: onPhotos, value: func(v string) error { return got(parseYes(v)) }},
	NoScale:   {about: onPhotos, value: func(v string) error { return got(parseNoScale(v)) }},
	Release:   {about: onPhotos, name: releaseName, value: func(v string) error { return got(parseYes(v)) }},
	Reference: {about: []string{AboutPhoto}, value: func(v string) error { return got(ParseManualReference(v)) }},
	End:       {about: []string{AboutPhoto}, name: endName, value: func(v string) error { return got(parsePoints(v, 1, 1)) }},
	North:     {about: []string{AboutPhoto}, value: func(v string) error { return got(ParseNorth(v)) }},
	Origin:    {about: []string{AboutPhoto}, value: func(v string) error { return got(parsePoints(v, 1, 2)) }},
	Up:        {about: []string{AboutPhoto}, name: upName, value: func(v string) error { return got(parseArrow(v)) }},
	Outlined:  {about: []string{AboutPhoto}, name: anyName, value: func(v string) error { return got(ParseOutline(v)) }},
	Depth:     {about: []string{AboutPhoto, AboutPhotos, AboutSetUp}, name: squareName, value: func(v string) error { return got(parseDepth(v)) }},
	Tape:      {about: []string{AboutPhoto, AboutSetUp}, name: tapeName, value: func(v string) error { return got(ParseTaped(v)) }},
	Waiver:    {about: []string{AboutJacket}, name: viewName, value: anything},
	Museum:    {about: []string{AboutFind}, value: museumNumber},
	Undo:      {about: []string{AboutLine}, value: func(v string) error { return fmt.Errorf("value %q: undo takes none", v) }},
}

func got[T any](_ T, err error) error { return err }

func anything(string) error { return nil }

func listed[Word ~string](words []Word) string {
	var out []string
	for _, w := range words {
		out = append(out, string(w))
	}
	return strings.Join(out, ", ")
}

// ParseWhat reads what is said, "outline femur", and the name in it.
func ParseWhat(text string) (what What, name string, err error) {
	verb, name, _ := strings.Cut(strings.TrimSpace(text), " ")
	what, name = What(verb), strings.TrimSpace(name)
	if what == End {
		name = endNow(name)
	}
	if _, ok := rules[what]; !ok {
		return what, name, fmt.Errorf("what %q: want one of %s", verb, listed(order))
	}
	return what, name, nil
}

func (r rule) check(w Word) error {
	if !slices.Contains(r.about, w.About.Kind) {
		return fmt.Errorf("%s about a %s: want it about %s", w.What, w.About.Kind, strings.Join(r.about, " or "))
	}
	if r.name == nil {
		if w.Name != "" {
			return fmt.Errorf("%s %q: %s takes no name", w.What, w.Name, w.What)
		}
	} else if err := r.name(w.Name); err != nil {
		return fmt.Errorf("%s %q: %w", w.What, w.Name, err)
	}
	if strings.TrimSpace(w.Value) == "" {
		return nil
	}
	if err := r.value(w.Value); err != nil {
		return fmt.Errorf("%s: %w", w.What, err)
	}
	return nil
}

func anyName(name string) error {
	if name == "" {
		return fmt.Errorf("want a name, such as outline femur")
	}
	return nil
}

func endName(name string) error {
	if end, _, _ := strings.Cut(name, " "); end != "1" && end != "2" {
		return fmt.Errorf("want 1 or 2, and the find behind it where a photo shows several: end 1 21")
	}
	return nil
}

// endNow is an end's name as it is now, of one that earlier versions called a or b.
func endNow(name string) string {
	end, find, _ := strings.Cut(name, " ")
	switch end {
	case "a":
		end = "1"
	case "b":
		end = "2"
	}
	return strings.TrimSpace(end + " " + find)
}

// What a photo is released for.
const (
	ReleasePeople  = "people"  // who can be told in it
	ReleaseSetting = "setting" // the surroundings that it shows
)

func releaseName(name string) error {
	if name != ReleasePeople && name != ReleaseSetting {
		return fmt.Errorf("want %s or %s, such as release people", ReleasePeople, ReleaseSetting)
	}
	return nil
}

// mostMuseumNumber is how long a museum's number may be, in characters.
const mostMuseumNumber = 100

func museumNumber(value string) error {
	if n := len([]rune(value)); n > mostMuseumNumber || strings.ContainsFunc(value, unicode.IsControl) {
		return fmt.Errorf("%q: want the museum's number in one line, at most %d characters", value, mostMuseumNumber)
	}
	return nil
}

func upName(name string) error {
	if name != FieldTop && name != WayUp && name != CarryUp {
		return fmt.Errorf("want %s, %s or %s", FieldTop, WayUp, CarryUp)
	}
	return nil
}

func squareName(name string) error {
	if strings.ContainsAny(name, " ;,") {
		return fmt.Errorf("want one square, such as depth B3, or none for the whole")
	}
	return nil
}

func tapeName(name string) error {
	if from, to, ok := strings.Cut(name, " to "); !ok || from == "" || to == "" {
		return fmt.Errorf("want both places, such as tape A1 to F6")
	}
	return nil
}

func viewName(name string) error {
	if !register.View(name).Known() {
		return fmt.Errorf("want a view, such as waiver gridded")
	}
	return nil
}
