//go:build cgo

package vision

import (
	"bytes"
	"math"
	"math/rand/v2"
	"os"
	"path/filepath"
	"testing"

	"gocv.io/x/gocv"
	"pgregory.net/rapid"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
)

// damages are what befalls a photo's file on a failing card or in a broken copy; from is where its picture's bytes begin. A
// card is written in clusters, of 4096 bytes or a multiple.
var damages = map[string]func(file []byte, from int, rng *rand.Rand) []byte{
	"zeroed": func(f []byte, from int, rng *rand.Rand) []byte {
		at := from + rng.IntN(len(f)-from)
		clear(f[at:min(len(f), at+512<<rng.IntN(5))])
		return f
	},
	"lost": func(f []byte, from int, rng *rand.Rand) []byte {
		at := from + rng.IntN(len(f)-from)
		return append(f[:at], f[min(len(f), at+512<<rng.IntN(5)):]...)
	},
	"foreign": func(f []byte, from int, rng *rand.Rand) []byte {
		for range 1 + rng.IntN(2) {
			copy(f[from+rng.IntN(len(f)-from):], bytes.Clone(f[from+rng.IntN((len(f)-from)/2):][:4096]))
		}
		return f
	},
	"exchanged": func(f []byte, from int, rng *rand.Rand) []byte {
		n := min(4096, (len(f)-from)/4)
		a, b := from+rng.IntN(len(f)-from-n), from+rng.IntN(len(f)-from-n)
		was := bytes.Clone(f[a : a+n])
		copy(f[a:a+n], bytes.Clone(f[b:b+n]))
		copy(f[b:b+n], was)
		return f
	},
	"flipped": func(f []byte, from int, rng *rand.Rand) []byte {
		for range 1 + rng.IntN(20) {
			f[from+rng.IntN(len(f)-from)] ^= 1 << rng.IntN(8)
		}
		return f
	},
	"cut and ended anew": func(f []byte, from int, rng *rand.Rand) []byte {
		return append(f[:from+rng.IntN(len(f)-from)], 0xff, 0xd9)
	},
}

// TestDamagedPhotosAreNotMeasuredWrongly: whatever befalls a photo's file, it is refused, or lengths between what is seen in
// it are right. A length is taken where its ends are seen after the damage, which may be beside their place.
func TestDamagedPhotosAreNotMeasuredWrongly(t *testing.T) {
	OneThread()
	c := manualCases(12)["grid"]
	img, truth := c.scene.Render()
	whole, err := gocv.ImageToMatRGB(img)
	if err != nil {
		t.Fatal(err)
	}
	defer whole.Close()
	segments := truth.Planes[0].Segments(40, 0, rand.New(rand.NewPCG(3, 3)))
	path := filepath.Join(t.TempDir(), "a.jpg")
	source := look.Source{Path: path, Format: "jpeg", Orientation: 1, WidthPx: whole.Cols(), HeightPx: whole.Rows(), Focal35Mm: 26}
	kinds := map[string][]byte{}
	for name, how := range map[string][]int{"plain": nil, "in passes": {gocv.IMWriteJpegProgressive, 1}, "with restart markers": {gocv.IMWriteJpegRstInterval, 100}} {
		b, err := gocv.IMEncodeWithParams(gocv.JPEGFileExt, whole, append([]int{gocv.IMWriteJpegQuality, 92}, how...))
		if err != nil {
			t.Fatal(err)
		}
		kinds[name] = bytes.Clone(b.GetBytes())
		b.Close()
		if err := os.WriteFile(path, kinds[name], 0o600); err != nil {
			t.Fatal(err)
		}
		if off, n := worstMiss(t, source, c.ref, whole, segments); n < len(segments)/2 || off > 1 {
			t.Fatalf("%s, undamaged: %d lengths, off by %.2f of what is allowed", name, n, off)
		}
	}
	rapid.Check(t, func(t *rapid.T) {
		kind := rapid.SampledFrom([]string{"plain", "in passes", "with restart markers"}).Draw(t, "kind")
		damage := rapid.SampledFrom([]string{"zeroed", "lost", "foreign", "exchanged", "flipped", "cut and ended anew"}).Draw(t, "damage")
		rng := rand.New(rand.NewPCG(rapid.Uint64().Draw(t, "seed"), 0))
		file := bytes.Clone(kinds[kind])
		file = damages[damage](file, bytes.Index(file, []byte{0xff, 0xda})+14, rng)
		if err := os.WriteFile(path, file, 0o600); err != nil {
			t.Fatal(err)
		}
		if off, n := worstMiss(t, source, c.ref, whole, segments); off > 1 {
			t.Errorf("%s, %s: of %d lengths the worst is off by %.2f of what is allowed", kind, damage, n, off)
		}
	})
}

// worstMiss is by how much the worst length is off, over 1.5 U and 0.5 %, and how many could be measured; 0 where the photo is
// refused.
func worstMiss(t rapid.TB, source look.Source, ref calibrate.Reference, whole gocv.Mat, segments []scene.Segment) (off float64, measured int) {
	p, err := Open(source)
	if err != nil {
		return 0, 0
	}
	defer p.Close()
	found := Look(p, []calibrate.Reference{ref}, 1)[0]
	if found.Refused != nil {
		return 0, 0
	}
	plane, err := calibrate.FitReference(ref, p.Camera(), found.Marks)
	if err != nil {
		return 0, 0
	}
	level, err := plane.At(0)
	if err != nil {
		t.Fatal(err)
	}
	for _, s := range segments {
		from, seen := seenAt(p.Colour, whole, s.From)
		to, seenToo := seenAt(p.Colour, whole, s.To)
		if !seen || !seenToo {
			continue
		}
		q, err := level.LengthCm(from, to)
		if err != nil {
			continue
		}
		off = max(off, math.Abs(q.Value-s.Cm)/(1.5*q.U+0.005*s.Cm))
		measured++
	}
	return off, measured
}

// seenAt is where in a damaged picture that is seen which lay at a place in the whole one: there, or whole blocks beside it;
// false where it is not seen, or nothing by which it could be known.
func seenAt(damaged, whole gocv.Mat, at calibrate.Point) (calibrate.Point, bool) {
	const reach, step, steps = 14, 8, 60
	x0, y0 := int(at.XPx), int(at.YPx)
	got, _ := damaged.DataPtrUint8()
	want, _ := whole.DataPtrUint8()
	w, h := whole.Cols(), whole.Rows()
	within := func(x, y int) bool { return x >= reach && y >= reach && x < w-reach && y < h-reach }
	apart := func(dx, dy int) (share float64) { // of how the green changes along lines
		if !within(x0, y0) || !within(x0+dx, y0+dy) {
			return math.Inf(1)
		}
		var off, all float64
		for y := y0 - reach; y < y0+reach; y++ {
			for x := x0 - reach; x < x0+reach; x++ {
				a, b := 3*((y+dy)*w+x+dx)+1, 3*(y*w+x)+1
				is := float64(int(want[b+3]) - int(want[b]))
				off += math.Abs(float64(int(got[a+3])-int(got[a])) - is)
				all += math.Abs(is)
			}
		}
		return off / all
	}
	least, best := apart(0, 0), at
	if least < 0.6 {
		return at, true
	}
	for n := -steps; n <= steps; n++ {
		for _, dy := range []int{-16, 0, 16} {
			if d := apart(step*n, dy); d < least {
				least, best = d, calibrate.Point{XPx: at.XPx + float64(step*n), YPx: at.YPx + float64(dy)}
			}
		}
	}
	return best, least < 0.5
}
