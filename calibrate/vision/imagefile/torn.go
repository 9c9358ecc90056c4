package imagefile

// A JPEG's picture is written block by block without any of their places, and of each only by how much it is lighter than
// the one before. A damaged one often decodes without a word from the library: as many blocks are lost at one place as are
// won at another, and all between lies beside its place, lighter or darker.

// mcuSize is the size in px of what a JPEG codes at a time (T.81, A.2.3: a minimum coded unit); a column and a row are of these.
type mcuSize struct{ widthPx, heightPx int }

// torn tells whether a picture (BGR, as stored) changes in the order of its blocks: from some column on to the end of a row,
// and in the next row up to that column, it goes on from the row above only when it is moved by whole blocks, or all of it is
// lighter or darker by the same amount. Things do not look so, since they have no edges just there and do not end at the
// picture's sides.
func torn(bgr []byte, widthPx, heightPx int, b mcuSize) bool {
	t := tear{bgr: bgr, stride: 3 * widthPx, b: b, n: widthPx / b.widthPx}
	if t.n < fewestColumns {
		return false
	}
	was := t.meeting(1)
	for r := 2; r < heightPx/b.heightPx; r++ {
		is := t.meeting(r)
		if stepped(was.steps, is.steps) || was.jumps+is.jumps >= t.n/4 && t.moved(r-1) {
			return true
		}
		was = is
	}
	return false
}

const (
	fewestColumns = 48
	jumpLevels    = 5 // of 255, a pixel: less is noise or the coder's own step between blocks
	stepLevels    = 4 // the same, of a row's mean
)

// A tear looks at where one row of blocks meets the next.
type tear struct {
	bgr    []byte
	stride int
	b      mcuSize
	n      int // whole blocks in a row
}

// A meeting is how a row of blocks goes on from the one above.
type meeting struct {
	jumps int          // in how many columns it changes much more there than beside
	steps [][3]float64 // by how much each column is lighter than above, beyond how it changes beside
}

func (t *tear) line(y int) []byte { return t.bgr[y*t.stride : (y+1)*t.stride] }

func (t *tear) meeting(r int) meeting {
	m := meeting{steps: make([][3]float64, t.n)}
	y, w := r*t.b.heightPx, 3*t.b.widthPx
	above, last, first, below := t.line(y-2), t.line(y-1), t.line(y), t.line(y+1)
	for c := range t.n {
		var across, beside0, beside1 int
		var steps [3]int
		a, l, f, b := above[c*w:(c+1)*w], last[c*w:(c+1)*w], first[c*w:(c+1)*w], below[c*w:(c+1)*w]
		for x := 0; x+2 < len(a) && x+2 < len(l) && x+2 < len(f) && x+2 < len(b); x += 3 {
			for colour := range steps { // twice the change across, less those beside
				steps[colour] += 3*(int(f[x+colour])-int(l[x+colour])) + int(a[x+colour]) - int(b[x+colour])
			}
			green := x + 1 // of the most detail
			across += differ(f[green], l[green])
			beside0 += differ(l[green], a[green])
			beside1 += differ(b[green], f[green])
		}
		for colour, sum := range steps {
			m.steps[c][colour] = float64(sum) / float64(2*t.b.widthPx)
		}
		if across > 2*max(beside0, beside1)+jumpLevels*t.b.widthPx {
			m.jumps++
		}
	}
	return m
}

// moved tells whether row r is moved from some column on, and row r+1 up to there, by the same number of blocks.
func (t *tear) moved(r int) bool {
	for by := 1 - t.n; by < t.n; by++ {
		if by != 0 && t.votes(r, by, false)+t.votes(r+1, by, true) >= max(12, t.n/8) {
			return true
		}
	}
	return false
}

// votes is by how many columns more row r goes on from row r-1 when it is moved than where it lies: of those from some
// column on, or up to it, as many as speak most for it.
func (t *tear) votes(r, by int, upTo bool) (most int) {
	y := r * t.b.heightPx
	last, first := t.line(y - 1)[1:], t.line(y)[1:]
	noise := jumpLevels * t.b.widthPx
	sum := 0
	for i := range t.n {
		c := i
		if !upTo {
			c = t.n - 1 - i
		}
		if c+by < 0 || c+by >= t.n {
			continue
		}
		switch lies, moved := t.cost(last, first, c, c), t.cost(last, first, c, c+by); {
		case lies > noise && 2*moved < lies:
			sum++
		case moved > noise && 2*lies < moved:
			sum -= 3
		}
		most = max(most, sum)
	}
	return most
}

// cost is by how much a block's last line and another's first differ, their means apart.
func (t *tear) cost(last, first []byte, c, d int) (sum int) {
	a, b := last[3*c*t.b.widthPx:], first[3*d*t.b.widthPx:]
	mean := 0
	for x := 0; x < 3*t.b.widthPx-2; x += 3 {
		mean += int(a[x]) - int(b[x])
	}
	mean /= t.b.widthPx
	for x := 0; x < 3*t.b.widthPx-2; x += 3 {
		off := int(a[x]) - int(b[x]) - mean
		sum += max(off, -off)
	}
	return sum
}

func differ(a, b byte) int { d := int(a) - int(b); return max(d, -d) }
