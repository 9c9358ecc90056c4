package scene

import (
	"image"
	"math"

	"fieldjacket/calibrate/scene/noise"
)

// A Film is what the phone makes of the light. The zero value exposes for the middle of the picture, with a little blur,
// grain and sharpening.
type Film struct {
	ExposureEV float64 // over what the phone would choose; what is too bright is clipped
	BlurPx     float64 // standard deviation of the blur; 0: 0.6 px; below zero: none
	Noise      float64 // of a mid grey, in steps of 255; 0: 1.5; below zero: none
	White      Colour  // gains of the white balance; zero: set by the sun's colour
	Sharpen    float64 // strength of what the phone adds to its edges
	Flare      float64 // light scattered over the whole picture, as a share of its mean
	Phone      Phone   // what is done to the picture afterwards
}

// bandRows is how many rows are drawn together. It is fixed, so that pictures do not depend on the machine.
const bandRows = 128

// develop draws the view band by band.
func (f Film) develop(v *view, seed uint64) *image.RGBA {
	out := image.NewRGBA(image.Rect(0, 0, v.width, v.height))
	gain := f.gains(v)
	sigma := f.BlurPx
	if sigma == 0 {
		sigma = 0.6
	}
	kernel := gauss(max(0, sigma))
	soft := gauss(1)
	reach := len(kernel) / 2
	if f.Sharpen > 0 {
		reach += len(soft) / 2
	}
	tone := toneTable()
	flare := float32(0.2 * f.Flare)
	bands(v.height, bandRows, func(from, to int) {
		rows := v.drawBand(from-reach, to+reach)
		lines := make([][]float32, len(rows))
		for i, r := range rows {
			lines[i] = r.rgb
		}
		lines = blur(lines, kernel)
		var smoothed [][]float32
		if f.Sharpen > 0 {
			smoothed = blur(lines, soft)
			lines = lines[len(soft)/2 : len(lines)-len(soft)/2]
		}
		for i, line := range lines {
			y := from + i
			if f.Sharpen > 0 {
				for n := range line {
					line[n] = max(0, line[n]+float32(f.Sharpen)*(line[n]-smoothed[i][n]))
				}
			}
			f.expose(out.Pix[y*out.Stride:], line, y, v, gain, flare, tone, seed)
		}
	})
	f.Phone.work(out)
	return out
}

// drawBand draws rows from to to-1; rows beyond the picture repeat its first or last.
func (v *view) drawBand(from, to int) []*row {
	rows := make([]*row, to-from+2) // one more on each side, for its parts only
	for i := range rows {
		y := min(max(from-1+i, 0), v.height-1)
		rows[i] = newRow(v.width)
		v.draw(rows[i], y)
	}
	threads := newCloth(v.width)
	for i := 1; i < len(rows)-1; i++ {
		y := min(max(from-1+i, 0), v.height-1)
		v.refine(rows[i], rows[i-1], rows[i+1], y)
		v.drawCords(rows[i], threads, y)
	}
	return rows[1 : len(rows)-1]
}

// gains are the exposure times the white balance: the mean ground in the middle becomes a mid grey.
func (f Film) gains(v *view) (gain [3]float32) {
	var mean [3]float64
	n := 0.0
	for j := range 24 {
		for i := range 32 {
			c, _ := v.groundAt((2*i+1)*v.width/64, (2*j+1)*v.height/48)
			w := 1.0
			if i > 7 && i < 24 && j > 5 && j < 18 {
				w = 3
			}
			for k := range mean {
				mean[k] += w * float64(c[k])
			}
			n += w
		}
	}
	white := f.White
	if white == (Colour{}) {
		for k := range white {
			white[k] = 1 / float64(0.8*v.lamp.sun[k]+v.lamp.sky[k])
		}
		g := white[1]
		for k := range white {
			white[k] /= g
		}
	}
	light := (mean[0]*white[0] + mean[1]*white[1] + mean[2]*white[2]) / (3 * n)
	for k := range gain {
		gain[k] = float32(0.24 * math.Exp2(f.ExposureEV) / max(light, 1e-6) * white[k])
	}
	return gain
}

// expose turns a row of light into a row of the picture.
func (f Film) expose(pix []byte, line []float32, y int, v *view, gain [3]float32, flare float32, tone []uint16, seed uint64) {
	graininess := f.Noise
	if graininess == 0 {
		graininess = 1.5
	}
	strength := float32(max(0, graininess) * 256 / 1.0)
	h := noise.Hash(seed, y, 3)
	far := 0.22 / (v.eye.cx*v.eye.cx + v.eye.cy*v.eye.cy) // the corners are darker
	dy := float64(y) - v.eye.cy
	for x := range v.width {
		dx := float64(x) - v.eye.cx
		fall := float32(1 - far*(dx*dx+dy*dy))
		h = h*6364136223846793005 + 1442695040888963407
		g := noise.Mix(h)
		// grey noise and a little of each colour's own, each the sum of two even ones
		grey := float32(g&0xff) + float32(g>>8&0xff) - 255
		for c := range 3 {
			own := float32(g>>(16+16*c)&0xff) + float32(g>>(24+16*c)&0xff) - 255
			e := line[3*x+c]*gain[c]*fall + flare
			t := float32(tone[min(int(e*toneSteps), len(tone)-1)])
			t += (0.8*grey + 0.6*own) * strength / 104 * (1.25 - t/131072)
			pix[4*x+c] = uint8(min(max(t/256+0.5, 0), 255))
		}
		pix[4*x+3] = 255
	}
}

// toneSteps is the number of steps of the tone table per unit of exposed light.
const toneSteps = 8192

// toneTable is the curve from light to the picture's values times 256: that of sRGB (IEC 61966-2-1), with a shoulder.
func toneTable() []uint16 {
	out := make([]uint16, toneSteps*2)
	for i := range out {
		e := float64(i) / toneSteps
		if e > 0.6 {
			e = 0.6 + 0.4*math.Tanh((e-0.6)/0.4)*1.02
		}
		e = min(e, 1)
		s := 12.92 * e
		if e > 0.0031308 {
			s = 1.055*math.Pow(e, 1/2.4) - 0.055
		}
		s += 0.06 * math.Sin(2*math.Pi*(s-0.5)) * s * (1 - s) * 2 // a little contrast
		out[i] = uint16(min(max(s, 0), 1) * 255 * 256)
	}
	return out
}
