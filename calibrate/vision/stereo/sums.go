package stereo

import "math"

// sums are those of one window or block over px good in both pictures.
type sums struct{ n, a, b, aa, bb, ab float32 }

// take adds px that are seen in both pictures.
func (s *sums) take(a, b []float32) {
	t := *s
	b = b[:len(a)]
	for i, p := range a {
		q := b[i]
		pq := p * q
		if pq != pq { // one of them is left out
			continue
		}
		t.n++
		t.a += p
		t.b += q
		t.aa += p * p
		t.bb += q * q
		t.ab += pq
	}
	*s = t
}

// blockSums adds up each block of the lattice for a level; drawn is the first
// photo, row one row's room.
func (d *drawer) blockSums(l *lattice, first *drawer, drawn []float32, below float64, row []float32, out []sums) {
	h, n := l.sight(&d.camera, &first.camera, below), d.lens()
	clear(out)
	for y := range l.h {
		d.drawRow(&h, &n, 0, y, row)
		a := drawn[y*l.w : (y+1)*l.w]
		at := out[y/l.block*l.cols:]
		for col := range l.cols {
			at[col].take(a[col*l.block:(col+1)*l.block], row[col*l.block:(col+1)*l.block])
		}
	}
}

func (s *sums) add(o *sums) {
	s.n += o.n
	s.a += o.a
	s.b += o.b
	s.aa += o.aa
	s.bb += o.bb
	s.ab += o.ab
}

// windows turns block sums into sums over (2 reach + 1) blocks each way, in
// place; spare is of the same length.
func windows(cols, rows, reach int, all, spare []sums) {
	for r := range rows {
		from, to := all[r*cols:(r+1)*cols], spare[r*cols:(r+1)*cols]
		for c := range cols {
			var s sums
			for k := max(0, c-reach); k <= min(cols-1, c+reach); k++ {
				s.add(&from[k])
			}
			to[c] = s
		}
	}
	for r := range rows {
		for c := range cols {
			var s sums
			for k := max(0, r-reach); k <= min(rows-1, r+reach); k++ {
				s.add(&spare[k*cols+c])
			}
			all[r*cols+c] = s
		}
	}
}

// flat is the least variance of logarithms that a window must show: below it
// noise alone is correlated.
const flat = 2e-5

// ncc is the normalised correlation; false where too few px are good in both.
func (s *sums) ncc(least float32) (float32, bool) {
	if s.n < least {
		return 0, false
	}
	in := 1 / s.n
	va, vb := s.aa*in-s.a*s.a*in*in, s.bb*in-s.b*s.b*in*in
	if !(va > flat) || !(vb > flat) {
		return 0, true
	}
	return (s.ab*in - s.a*s.b*in*in) / float32(math.Sqrt(float64(va*vb))), true
}
