package sheet

import "fieldjacket/overlay/letters"

// Contact sets pictures in rows of columns, small, each with its caption below. They are not to scale: that is for
// Picture.
func (s *Sheets) Contact(pictures []Picture, columns int) {
	const gap, captionLines = 3, 2
	wide := (s.WidthMm() - gap*float64(columns-1)) / float64(columns)
	tall := wide * 3 / 4
	row := tall + captionLines*leadEm*smallEm + gap
	for i, p := range pictures {
		column := i % columns
		if column == 0 {
			s.Need(row)
		}
		name, w, h, err := s.registered(p.JPEG)
		if err != nil {
			s.fail(err)
			return
		}
		x := leftMm + float64(column)*(wide+gap)
		perPx := min(wide/float64(w), tall/float64(h))
		s.image(name, x, s.y, perPx*float64(w), perPx*float64(h))
		lines := s.wrap(p.Caption, smallEm, wide, letters.Regular)
		for n, line := range lines[:min(captionLines, len(lines))] {
			s.line(line, x, s.y+tall+smallEm+leadEm*smallEm*float64(n), smallEm, letters.Regular)
		}
		if column == columns-1 || i == len(pictures)-1 {
			s.y += row
		}
	}
}
