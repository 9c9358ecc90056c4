package sheet

import "fieldjacket/overlay/letters"

// Contact sets pictures in rows of columns, small, each with its whole caption
// below. They are not to scale: that is for Picture.
func (s *Sheets) Contact(pictures []Picture, columns int) {
	const gap = 3
	wide := (s.WidthMm() - gap*float64(columns-1)) / float64(columns)
	tall := wide * 3 / 4
	for len(pictures) > 0 {
		row := pictures[:min(columns, len(pictures))]
		pictures = pictures[len(row):]
		captions, most := make([][]string, len(row)), 0
		for i, p := range row {
			captions[i] = s.wrap(p.Caption, smallEm, wide, letters.Regular)
			most = max(most, len(captions[i]))
		}
		high := tall + float64(most)*leadEm*smallEm + gap
		s.Need(high)
		for i, p := range row {
			name, w, h, err := s.registered(p.JPEG)
			if err != nil {
				s.fail(err)
				return
			}
			x := leftMm + float64(i)*(wide+gap)
			perPx := min(wide/float64(w), tall/float64(h))
			s.image(name, x, s.y, perPx*float64(w), perPx*float64(h))
			for n, line := range captions[i] {
				s.line(line, x, s.y+tall+smallEm+leadEm*smallEm*float64(n), smallEm, letters.Regular)
			}
		}
		s.y += high
	}
}
