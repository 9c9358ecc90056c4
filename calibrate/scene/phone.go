package scene

import "image"

// Phone is what a phone makes of the picture before it is written. The zero value leaves it as it is.
type Phone struct {
	Smooth float64 // how many steps of 255 neighbours may differ and still be averaged: fine texture goes
	Halo   float64 // 0 to 1: how far dark parts are lit up and light ones toned down; what stands between them gets a rim
	Crisp  float64 // strength of the sharpening, in the written values
}

// work applies it to the picture, in bands that do not depend on the machine.
func (p Phone) work(img *image.RGBA) {
	if p.Smooth > 0 {
		p.smooth(img)
	}
	if p.Halo > 0 {
		p.tone(img)
	}
	if p.Crisp > 0 {
		p.sharpen(img)
	}
}

// luma is the grey picture, times 256 (the weights of ITU-R BT.601).
func luma(img *image.RGBA) (grey []int32, w, h int) {
	w, h = img.Rect.Dx(), img.Rect.Dy()
	grey = make([]int32, w*h)
	bands(h, bandRows, func(from, to int) {
		for y := from; y < to; y++ {
			pix := img.Pix[y*img.Stride:]
			for x := range w {
				grey[y*w+x] = 77*int32(pix[4*x]) + 150*int32(pix[4*x+1]) + 29*int32(pix[4*x+2])
			}
		}
	})
	return grey, w, h
}

// shift adds to a pixel's three values, times 256.
func shift(pix []byte, by int32) {
	for c := range 3 {
		pix[c] = uint8(min(max((int32(pix[c])<<8+by+128)>>8, 0), 255))
	}
}

// smooth averages each pixel with those of the 5 x 5 about it that are like it (a sigma filter, Lee 1983).
func (p Phone) smooth(img *image.RGBA) {
	grey, w, h := luma(img)
	old := append([]byte(nil), img.Pix...)
	like := int32(256 * p.Smooth)
	bands(h-4, bandRows, func(from, to int) {
		for y := from + 2; y < to+2; y++ {
			for x := 2; x < w-2; x++ {
				own := grey[y*w+x]
				var sum [3]int32
				n := int32(0)
				for j := y - 2; j <= y+2; j++ {
					for i := x - 2; i <= x+2; i++ {
						if d := grey[j*w+i] - own; d > like || d < -like {
							continue
						}
						q := old[j*img.Stride+4*i:]
						sum[0], sum[1], sum[2] = sum[0]+int32(q[0]), sum[1]+int32(q[1]), sum[2]+int32(q[2])
						n++
					}
				}
				q := img.Pix[y*img.Stride+4*x:]
				for c := range 3 {
					q[c] = uint8((sum[c] + n/2) / n)
				}
			}
		}
	})
}

// tone moves each pixel's surroundings towards a mid grey and lifts it out of them.
func (p Phone) tone(img *image.RGBA) {
	grey, w, h := luma(img)
	base := boxed(boxed(grey, w, h, max(4, w/70)), w, h, max(4, w/70))
	bands(h, bandRows, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range w {
				n := y*w + x
				by := p.Halo * (0.35*(115*256-float64(base[n])) + 0.25*float64(grey[n]-base[n]))
				shift(img.Pix[y*img.Stride+4*x:], int32(by))
			}
		}
	})
}

// sharpen adds to each pixel what it differs from the mean of the 3 x 3 about it, softly weighted.
func (p Phone) sharpen(img *image.RGBA) {
	grey, w, h := luma(img)
	soft := boxed(boxed(grey, w, h, 1), w, h, 1)
	bands(h, bandRows, func(from, to int) {
		for y := from; y < to; y++ {
			for x := range w {
				n := y*w + x
				shift(img.Pix[y*img.Stride+4*x:], int32(p.Crisp*float64(grey[n]-soft[n])))
			}
		}
	})
}

// boxed is the mean over squares of 2 r + 1 px; the edges are held.
func boxed(in []int32, w, h, r int) []int32 {
	across, out := make([]int32, len(in)), make([]int32, len(in))
	n := int64(2*r + 1)
	bands(h, bandRows, func(from, to int) {
		for y := from; y < to; y++ {
			row, sum := in[y*w:(y+1)*w], int64(0)
			for i := -r; i <= r; i++ {
				sum += int64(row[min(max(i, 0), w-1)])
			}
			for x := range w {
				across[y*w+x] = int32(sum / n)
				sum += int64(row[min(x+r+1, w-1)]) - int64(row[max(x-r, 0)])
			}
		}
	})
	bands(w, bandRows, func(from, to int) {
		sums := make([]int64, to-from)
		for j := -r; j <= r; j++ {
			for x := from; x < to; x++ {
				sums[x-from] += int64(across[min(max(j, 0), h-1)*w+x])
			}
		}
		for y := range h {
			add, drop := min(y+r+1, h-1)*w, max(y-r, 0)*w
			for x := from; x < to; x++ {
				out[y*w+x] = int32(sums[x-from] / n)
				sums[x-from] += int64(across[add+x]) - int64(across[drop+x])
			}
		}
	})
	return out
}
