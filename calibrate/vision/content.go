//go:build cgo

package vision

import (
	"fmt"
	"image"
	"strconv"

	"gocv.io/x/gocv"

	"fieldjacket/calibrate/look"
)

// sharpPx is about the long side at which sharpness is measured: the noise of single pixels counts less, and 12 and 48 megapixels of
// one view alike.
const sharpPx = 2000

// ContentOf reduces a picture to what tells it from others.
func ContentOf(p *Picture) (look.Content, error) {
	sharp, err := sharpness(p)
	if err != nil {
		return look.Content{}, err
	}
	cells, err := contentCells(p, look.GreyCells)
	if err != nil {
		return look.Content{}, err
	}
	c := look.Content{Sharp: sharp}
	for i := 0; i < len(cells); i += 3 {
		c.Grey = append(c.Grey, cells[i])
	}
	const of = look.GreyCells / look.TintCells // each way
	for plane := 1; plane < 3; plane++ {
		for i := range look.TintCells * look.TintCells {
			x, y, sum := i%look.TintCells*of, i/look.TintCells*of, of*of/2
			for k := range of * of {
				sum += int(cells[3*((y+k/of)*look.GreyCells+x+k%of)+plane])
			}
			c.Tint = append(c.Tint, byte(sum/(of*of)))
		}
	}
	return c, nil
}

// contentCells is the mean of luma, Cr and Cb in n x n cells that cover the picture, row by row.
func contentCells(p *Picture, n int) ([]byte, error) {
	cells := gocv.NewMat()
	defer cells.Close()
	gocv.Resize(p.halvedTo(finestCells*float64(n)), &cells, image.Pt(n, n), 0, 0, gocv.InterpolationArea)
	gocv.CvtColor(cells, &cells, gocv.ColorBGRToYCrCb)
	out := cells.ToBytes()
	if len(out) != 3*n*n {
		return nil, fmt.Errorf("%d cells give %d bytes", n*n, len(out))
	}
	return out, nil
}

// finestCells is how many pixels a cell has along the picture's long side, at least.
const finestCells = 20

// sharpness is the variance of the Laplacian of the grey picture at sharpPx, lightly smoothed, to three digits.
func sharpness(p *Picture) (float64, error) {
	w, h := p.Size()
	m := gocv.NewMat()
	defer m.Close()
	whole := (max(w, h) + sharpPx/2) / sharpPx // reduced by a whole number, several times faster than to an exact size
	if whole > 1 && min(w, h) >= whole {
		part := p.Grey.Region(image.Rect(0, 0, w-w%whole, h-h%whole))
		defer part.Close()
		gocv.Resize(part, &m, image.Pt(w/whole, h/whole), 0, 0, gocv.InterpolationArea)
	} else {
		p.Grey.CopyTo(&m)
	}
	gocv.GaussianBlur(m, &m, image.Pt(3, 3), 0, 0, gocv.BorderDefault)
	edges, mean, deviation := gocv.NewMat(), gocv.NewMat(), gocv.NewMat()
	defer edges.Close()
	defer mean.Close()
	defer deviation.Close()
	gocv.Laplacian(m, &edges, gocv.MatTypeCV16S, 1, 1, 0, gocv.BorderDefault)
	gocv.MeanStdDev(edges, &mean, &deviation)
	s := deviation.GetDoubleAt(0, 0)
	return strconv.ParseFloat(strconv.FormatFloat(s*s, 'g', 3, 64), 64)
}
