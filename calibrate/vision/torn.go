package vision

// A JPEG's picture is written block by block without any of their places. A damaged one often decodes without a word from
// the library: as many blocks are lost at one place as are won at another, and all between lies beside its place.

// mcuSize is the size in px of what a JPEG codes at a time (T.81, A.2.3: a minimum coded unit).
type mcuSize struct{ widthPx, heightPx int }

// torn tells whether the rows of blocks in a picture (BGR, as stored) go on from one to the next only when one is moved by
// whole blocks, from some place to the end of the row and in the next row up to that place. That is how a picture looks
// where blocks were lost or won; things do not, since they have no edges just there and do not end at the picture's sides.
func torn(bgr []byte, widthPx, heightPx int, b mcuSize) bool {
	t := tear{bgr: bgr, stride: 3 * widthPx, b: b, n: widthPx / b.widthPx}
	if t.n < fewestColumns {
		return false
	}
	rows := heightPx / b.heightPx
	was := t.jumps(1)
	for r := 2; r <= rows-1; r++ {
		is := t.jumps(r)
		if was+is >= t.n/4 && t.moved(r-1) {
			return true
		}
		was = is
	}
	return false
}

const (
	fewestColumns = 16
	jumpLevels    = 5 // of 255, a pixel: less is noise or the coder's own step between blocks
)

// A tear looks at where one row of blocks meets the next.
type tear struct {
	bgr    []byte
	stride int
	b      mcuSize
	n      int // whole blocks in a row
}

// line is the green of one line's pixels, every third byte from there.
func (t *tear) line(y int) []byte { return t.bgr[y*t.stride+1 : (y+1)*t.stride] }

// jumps counts the columns in which the picture changes much more from row r-1 to row r than beside.
func (t *tear) jumps(r int) (count int) {
	y := r * t.b.heightPx
	above, last, first, below := t.line(y-2), t.line(y-1), t.line(y), t.line(y+1)
	for c := range t.n {
		var across, beside0, beside1 int
		for x := 3 * c * t.b.widthPx; x < 3*(c+1)*t.b.widthPx; x += 3 {
			across += apart(last[x], first[x])
			beside0 += apart(above[x], last[x])
			beside1 += apart(first[x], below[x])
		}
		if across > 2*max(beside0, beside1)+jumpLevels*t.b.widthPx {
			count++
		}
	}
	return count
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
	last, first := t.line(y-1), t.line(y)
	sum := 0
	for i := range t.n {
		c := i // up to some column
		if !upTo {
			c = t.n - 1 - i
		}
		if c+by < 0 || c+by >= t.n {
			continue
		}
		lies, moved := t.cost(last, first, c, c), t.cost(last, first, c, c+by)
		switch noise := jumpLevels * t.b.widthPx; {
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

func apart(a, b byte) int { return max(int(a)-int(b), int(b)-int(a)) }
