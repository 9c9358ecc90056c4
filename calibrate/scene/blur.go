package scene

import "math"

// gauss is a Gaussian of standard deviation sigma px, each weight the integral over its pixel; one weight for sigma 0.
func gauss(sigma float64) []float32 {
	if sigma <= 0 {
		return []float32{1}
	}
	r := int(math.Ceil(3 * sigma))
	k := make([]float32, 2*r+1)
	total := math.Erf((float64(r) + 0.5) / (sigma * math.Sqrt2))
	for i := range k {
		x := float64(i - r)
		k[i] = float32((math.Erf((x+0.5)/(sigma*math.Sqrt2)) - math.Erf((x-0.5)/(sigma*math.Sqrt2))) / 2 / total)
	}
	return k
}

// blur averages rows of three values per pixel with a kernel, both ways. It gives len(kernel)/2 rows fewer at each end; at
// the sides the last pixel is held.
func blur(rows [][]float32, kernel []float32) [][]float32 {
	r := len(kernel) / 2
	if r == 0 {
		return rows
	}
	width := len(rows[0])
	out := make([][]float32, len(rows)-2*r)
	mixed := make([]float32, width+6*r)
	for j := range out {
		middle := mixed[3*r : 3*r+width]
		clear(middle)
		for i, w := range kernel {
			row := rows[j+i]
			for n := range middle {
				middle[n] += w * row[n]
			}
		}
		for n := range 3 * r {
			mixed[n] = middle[n%3]
			mixed[3*r+width+n] = middle[width-3+n%3]
		}
		line := make([]float32, width)
		for i, w := range kernel {
			part := mixed[3*i : 3*i+width]
			for n := range line {
				line[n] += w * part[n]
			}
		}
		out[j] = line
	}
	return out
}
