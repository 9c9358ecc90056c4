package words

import (
	"fmt"
	"maps"
	"slices"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/register"
)

// A Annotation is a value with the line that counts for it.
type Annotation[T any] struct {
	Value T
	Line  Line
}

// String names the line: "words.log line 12 (RKA)".
func (t Annotation[T]) String() string {
	return fmt.Sprintf("%s line %d (%s)", File, t.Line.Number, t.Line.By)
}

// A NoScaleWord says whether a photo is to be drawn without scale, and why.
type NoScaleWord struct {
	Yes    bool
	Reason string
}

// An EndPoint is where one end of a find lies in a photo.
type EndPoint struct {
	End  string // "1" or "2"
	Find string // "" where nobody said which
	At   calibrate.Point
}

// A Released says whether a photo may be shown all the same.
type Released struct {
	Of  string // ReleasePeople or ReleaseSetting
	Yes bool
}

// A DepthWord is how far the bone lies below the reference.
type DepthWord struct {
	Square  string // "": everywhere
	DepthCm float64
}

// An OriginWord is where the outer corner of square A1 lies, and a place towards which the letters run; nil: not said.
type OriginWord struct {
	Corner    calibrate.Point
	LettersTo *calibrate.Point
}

// PhotoAnnotations are what people say of one photo by the lines of the log that count. nil and empty: nobody said anything.
type PhotoAnnotations struct {
	Jackets   *Annotation[[]string]      // no numbers: it shows no jacket
	View      *Annotation[register.View] // "": no view
	SetUp     *Annotation[string]        // "": none
	Caption   *Annotation[string]
	Chosen    *Annotation[bool]
	LeaveOut  *Annotation[bool]
	NoScale   *Annotation[NoScaleWord]
	Releases  []Annotation[Released] // in the order of their names
	Reference *Annotation[ManualReference]
	North     *Annotation[NorthArrow]
	Origin    *Annotation[OriginWord]
	Ups       map[string]Annotation[Arrow] // by FieldTop, WayUp, Carry
	Ends      []Annotation[EndPoint]       // in the order of their names
	Outlines  []Annotation[Outline]        // in the order of their names
	Depths    []Annotation[DepthWord]      // in the order of their squares
	Tapes     []Annotation[Taped]          // in the order of their places
}

// Empty reports whether nobody said anything of the photo.
func (s PhotoAnnotations) Empty() bool {
	return s.Jackets == nil && s.View == nil && s.SetUp == nil && s.Caption == nil && s.Chosen == nil && s.LeaveOut == nil && s.NoScale == nil &&
		s.Reference == nil && s.North == nil && s.Origin == nil && len(s.Releases)+len(s.Ups)+len(s.Ends)+len(s.Outlines)+len(s.Depths)+len(s.Tapes) == 0
}

// SetUpAnnotations are what people say of one set-up.
type SetUpAnnotations struct {
	Depths []Annotation[DepthWord]
	Tapes  []Annotation[Taped]
}

// key is one thing that is said of something.
type key struct {
	what What
	name string
}

// counting returns the lines that count of those about something, by what they say.
func (l *Log) counting(about func(About) bool) map[key]Line {
	out := map[key]Line{}
	if l == nil {
		return out
	}
	for _, line := range l.Lines {
		if line.Undone || line.What == Undo || !about(line.About) {
			continue
		}
		k := key{line.What, line.Name}
		if out[k] = line; strings.TrimSpace(line.Value) == "" {
			delete(out, k)
		}
	}
	return out
}

// Photo returns what the log says of the photo at a slash path below photos/.
func (l *Log) Photo(file string) PhotoAnnotations {
	said := l.counting(func(a About) bool { return a.Covers(file) })
	return PhotoAnnotations{
		Jackets:  one(said, Jackets, parseJackets),
		View:     one(said, View, parseView),
		SetUp:    one(said, InSetUp, parseSetUp),
		Caption:  one(said, Caption, parseCaption),
		Chosen:   one(said, Chosen, parseYes),
		LeaveOut: one(said, LeaveOut, parseYes),
		NoScale:  one(said, NoScale, parseNoScale),
		Releases: all(said, Release, func(name, value string) (Released, error) {
			yes, err := parseYes(value)
			return Released{name, yes}, err
		}),
		Reference: one(said, Reference, ParseManualReference),
		North:     one(said, North, ParseNorth),
		Origin:    one(said, Origin, parseOrigin),
		Ups:       ups(said),
		Ends: all(said, End, func(name, value string) (EndPoint, error) {
			end, find, _ := strings.Cut(name, " ")
			p, err := parsePoints(value, 1, 1)
			if err != nil {
				return EndPoint{}, err
			}
			return EndPoint{end, find, p[0]}, nil
		}),
		Outlines: all(said, Outlined, func(name, value string) (Outline, error) {
			o, err := ParseOutline(value)
			o.Name = name
			return o, err
		}),
		Depths: depths(said),
		Tapes:  tapes(said),
	}
}

// SetUp returns what the log says of a set-up.
func (l *Log) SetUp(name string) SetUpAnnotations {
	said := l.counting(func(a About) bool { return a.Kind == AboutSetUp && a.Name == name })
	return SetUpAnnotations{Depths: depths(said), Tapes: tapes(said)}
}

// Waivers returns the views of a jacket that people waived, in the order of [register.Views].
func (l *Log) Waivers(jacket string) []Annotation[register.Waiver] {
	said := l.counting(func(a About) bool { return a.Kind == AboutJacket && a.Name == jacket })
	var out []Annotation[register.Waiver]
	for _, v := range register.Views {
		if line, ok := said[key{Waiver, string(v)}]; ok {
			out = append(out, Annotation[register.Waiver]{register.Waiver{View: v, Reason: strings.TrimSpace(line.Value), By: line.By}, line})
		}
	}
	return out
}

// MuseumNumber returns the number that a museum gave a find; nil: nobody said any.
func (l *Log) MuseumNumber(find string) *Annotation[string] {
	return one(l.counting(func(a About) bool { return a.Kind == AboutFind && a.Name == find }), Museum, parseCaption)
}

func ups(said map[key]Line) map[string]Annotation[Arrow] {
	var out map[string]Annotation[Arrow]
	for _, name := range []string{FieldTop, WayUp, CarryUp} {
		if line, ok := said[key{Up, name}]; ok {
			if a, err := parseArrow(line.Value); err == nil {
				if out == nil {
					out = map[string]Annotation[Arrow]{}
				}
				out[name] = Annotation[Arrow]{a, line}
			}
		}
	}
	return out
}

func depths(said map[key]Line) []Annotation[DepthWord] {
	return all(said, Depth, func(name, value string) (DepthWord, error) {
		cm, err := parseDepth(value)
		return DepthWord{name, cm}, err
	})
}

func tapes(said map[key]Line) []Annotation[Taped] {
	return all(said, Tape, func(name, value string) (Taped, error) {
		t, err := ParseTaped(value)
		t.From, t.To, _ = strings.Cut(name, " to ")
		return t, err
	})
}

// one returns the value of the only thing of its kind.
func one[T any](said map[key]Line, what What, read func(string) (T, error)) *Annotation[T] {
	line, ok := said[key{what, ""}]
	if !ok {
		return nil
	}
	v, err := read(line.Value)
	if err != nil {
		return nil // the line was checked when it was read: this does not happen
	}
	return &Annotation[T]{v, line}
}

// all returns the values of the things of one kind in the order of their names.
func all[T any](said map[key]Line, what What, read func(name, value string) (T, error)) []Annotation[T] {
	var out []Annotation[T]
	for _, k := range slices.SortedFunc(maps.Keys(said), func(a, b key) int { return strings.Compare(a.name, b.name) }) {
		if k.what != what {
			continue
		}
		if v, err := read(k.name, said[k].Value); err == nil {
			out = append(out, Annotation[T]{v, said[k]})
		}
	}
	return out
}

// PointsAt are the places in the upright photo that a word points at, in px; none
// of a word about something else, or whose value cannot be read. The corners of
// a reference or a frame are not among them, they may lie outside the picture.
func (w Word) PointsAt() []calibrate.Point {
	switch w.What {
	case End:
		at, _ := parsePoints(w.Value, 1, 1)
		return at
	case North:
		if n, err := ParseNorth(w.Value); err == nil {
			return []calibrate.Point{n.Tail, n.Head}
		}
	case Up:
		if a, err := parseArrow(w.Value); err == nil {
			return []calibrate.Point{a.Tail, a.Head}
		}
	case Outlined:
		o, _ := ParseOutline(w.Value)
		return o.Points
	case Tape:
		t, _ := ParseTaped(w.Value)
		return t.At
	}
	return nil
}

// WithoutScale says who wants the photo drawn without scale, and why; "" where
// nobody does.
func (s PhotoAnnotations) WithoutScale() string {
	w := s.NoScale
	if w == nil || !w.Value.Yes {
		return ""
	}
	if w.Value.Reason != "" {
		return w.Value.Reason + ", " + w.Line.By
	}
	return w.Line.By + " wants none"
}
