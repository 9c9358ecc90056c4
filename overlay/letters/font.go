package letters

import (
	"fmt"
	"sync"

	"github.com/go-fonts/dejavu/dejavusans"
	"github.com/go-fonts/dejavu/dejavusansbold"
	"golang.org/x/image/font"
	"golang.org/x/image/font/gofont/gobold"
	"golang.org/x/image/font/gofont/goregular"
	"golang.org/x/image/font/sfnt"
	"golang.org/x/image/math/fixed"
)

// A Weight is regular or bold.
type Weight int

// The weights.
const (
	Regular Weight = iota
	Bold
)

// A Font is one of the fonts. It may be used by several goroutines.
type Font struct {
	Name   string // "go", "gobold", "dejavu", "dejavubold"
	TTF    []byte // the whole font file
	Parsed *sfnt.Font

	widths sync.Map // rune to its advance in em, or to lacks; looked up once, since a plate asks a thousand times
}

const lacks = -1.0

// fontsOf holds each weight's fonts in the order in which a letter is looked for.
var fontsOf = [2]func() []*Font{
	Regular: sync.OnceValue(func() []*Font {
		return []*Font{load("go", goregular.TTF), load("dejavu", dejavusans.TTF)}
	}),
	Bold: sync.OnceValue(func() []*Font {
		return []*Font{load("gobold", gobold.TTF), load("dejavubold", dejavusansbold.TTF)}
	}),
}

func load(name string, ttf []byte) *Font {
	parsed, err := sfnt.Parse(ttf)
	if err != nil {
		panic(fmt.Sprintf("font %s, which is part of the program: %v", name, err))
	}
	return &Font{Name: name, TTF: ttf, Parsed: parsed}
}

// has tells whether the font has a letter.
func (f *Font) has(r rune) bool { return f.advanceEm(r) != lacks }

// widthEm is the sum of the letters' advances in units of the font's size.
func (f *Font) widthEm(text string) float64 {
	sum := 0.0
	for _, r := range text {
		sum += max(0, f.advanceEm(r))
	}
	return sum
}

// advanceEm is one letter's advance in units of the font's size, or lacks.
func (f *Font) advanceEm(r rune) float64 {
	if known, ok := f.widths.Load(r); ok {
		return known.(float64)
	}
	width := lacks
	var buffer sfnt.Buffer
	perEm := fixed.Int26_6(f.Parsed.UnitsPerEm()) << 6
	if glyph, err := f.Parsed.GlyphIndex(&buffer, r); err == nil && glyph != 0 {
		if advance, err := f.Parsed.GlyphAdvance(&buffer, glyph, perEm, font.HintingNone); err == nil {
			width = float64(advance) / float64(perEm)
		}
	}
	f.widths.Store(r, width)
	return width
}
