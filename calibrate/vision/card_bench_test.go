//go:build cgo

package vision

import (
	"fmt"
	"os"
	"testing"

	"fieldjacket/calibrate/scene"
)

// cardPhotos are the photos of 12 megapixels that the card's stages are timed
// on: those of the folder that BENCH_PHOTOS names, or one with a card and one of
// bare ground with a bone.
func cardPhotos(b *testing.B) map[string]*Picture {
	if os.Getenv("BENCH_PHOTOS") != "" {
		return benchPhotos(b)
	}
	OneThread()
	out := map[string]*Picture{}
	for _, name := range []string{"card", "bare"} {
		s := cardScene(3, cardCase{viewCm: 100, tiltDeg: 30, halfShade: true, mud: 0.1, width: 4032, height: 3024, number: 7})
		if name == "bare" {
			s.Cards = []scene.Card{}
		}
		img, _ := s.Render()
		p := opened(b, img, 26)
		b.Cleanup(p.Close)
		out[name] = p
	}
	return out
}

// BenchmarkCard times what finding a card takes beside the decode, pass by
// pass and as a whole, in ms of the processor (cpu-ms).
func BenchmarkCard(b *testing.B) {
	for name, p := range cardPhotos(b) {
		b.Run(name+"/halves", func(b *testing.B) {
			timed(b, func() {
				for _, m := range p.halves()[1:] {
					m.Close()
				}
			})
		})
		for _, pass := range p.passes() {
			b.Run(fmt.Sprintf("%s/blocks of 1 in %d", name, 1<<pass), func(b *testing.B) {
				p.blocksOf(pass)
				timed(b, func() { p.looked[pass] = nil; p.blocksOf(pass) })
			})
		}
		b.Run(name+"/whole", func(b *testing.B) {
			timed(b, func() {
				for i, m := range p.reduced {
					if i > 0 {
						m.Close()
					}
				}
				p.reduced, p.looked, p.carded, p.cardsSeen = nil, nil, false, nil
				p.cards()
			})
		})
	}
}
