package vision

import "fmt"

// Debug is scratch.
var Debug string

// DebugReadings is scratch.
var DebugReadings []*reading

// DebugMarks is scratch.
func DebugMarks(i int) (xy [][3]float64) {
	for _, s := range DebugReadings[i].stations {
		m := s.mark()
		g := 0.0
		if s.good {
			g = 1
		}
		xy = append(xy, [3]float64{m.XPx, m.YPx, g})
	}
	return xy
}

func debug(format string, args ...any) { Debug += fmt.Sprintf(format, args...) }
