package diagnostic

import (
	"fmt"
	"math"
	"strings"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
)

const (
	carriedOn  = 2    // steps by which the plane's lines are carried on beyond the reference
	linePlaces = 33   // places of a drawn line, which a lens bends
	nameSteps  = 0.75 // steps beyond the reference at which a line's number stands
	barSteps   = 1.5  // the same of a bar, whose second row may carry no fit
)

// scaled draws a plane, its lines and marks.
func (d *drawer) scaled(s calibrate.Sighting, f look.Found) {
	text := fmt.Sprintf("%s: ", s.Reference)
	level, err := s.Plane.At(0)
	if err == nil {
		u, v := s.Plane.MiddleCm()
		if q, err := level.ScalePxPerCm(u, v); err == nil {
			text += fmt.Sprintf("%s px/cm (k = 2) at its centre", q)
		}
	}
	if s.Counted != "" {
		text += ", " + s.Counted
	}
	if tilt, known := s.Plane.TiltDeg(); known {
		text += fmt.Sprintf(", camera tilt %.0f°", tilt)
	}
	if s.Reference.Kind == calibrate.KindPoints {
		d.say("%s", text)
		d.points(s.Reference, true)
		d.legend["points"] = true
		return
	}
	residuals := s.Plane.Residuals(s.Reference, f.Marks)
	farthest, used := 0.0, 0
	for _, m := range residuals {
		if m.Used {
			used++
			farthest = max(farthest, m.OffPx)
		}
	}
	d.say("%s; %d of %d marks carry the fit, rms %.2f px, the farthest %.2f px off", text, used, len(f.Marks), s.Plane.RMSPx, farthest)
	d.lines(s, residuals)
	for _, m := range residuals {
		d.spot(m)
	}
	d.legend["scaled"] = true
}

// lines draws the lines that carry the fit, numbered, and the plane's own
// between and beyond them.
func (d *drawer) lines(s calibrate.Sighting, residuals []calibrate.Residual) {
	ref, step := s.Reference, s.Reference.StepCm()
	lo, hi := [2]float64{math.Inf(1), math.Inf(1)}, [2]float64{math.Inf(-1), math.Inf(-1)}
	marked := map[[2]int]bool{} // family, number of the line
	for _, m := range residuals {
		if !m.Used {
			continue
		}
		for family, at := range [2]float64{m.Mark.UCm, m.Mark.VCm} {
			if m.Mark.Pins == calibrate.PinsBoth || m.Mark.Pins == pinning[family] {
				lo[family], hi[family] = min(lo[family], at), max(hi[family], at)
				marked[[2]int{family, int(math.Round(at / step))}] = true
			}
		}
	}
	first, last := [2]int{}, [2]int{}
	for family := range 2 {
		if !(hi[family] >= lo[family]) {
			return
		}
		first[family], last[family] = int(math.Round(lo[family]/step)), int(math.Round(hi[family]/step))
	}
	line := func(family, number int, beyond float64) []calibrate.Point {
		from, to := float64(first[1-family])-beyond, float64(last[1-family])+beyond
		return s.Plane.Line(ref, pinning[family], float64(number)*step, from*step, to*step, linePlaces)
	}
	for family := range 2 {
		for n := first[family] - carriedOn; n <= last[family]+carriedOn; n++ {
			d.curve(look.StrokePlane, line(family, n, carriedOn))
		}
	}
	beside := nameSteps
	if ref.Kind == calibrate.KindBar {
		beside = barSteps
	}
	for family, stroke := range [2]look.Stroke{look.StrokeFirst, look.StrokeSecond} {
		var before calibrate.Point
		for n := first[family]; n <= last[family]; n++ {
			if marked[[2]int{family, n}] {
				d.curve(stroke, line(family, n, 0))
			}
			named := line(family, n, beside)
			if len(named) == 0 {
				continue
			}
			crowded := math.Hypot(named[0].XPx-before.XPx, named[0].YPx-before.YPx) < d.apartPx
			if n == first[family] || n == last[family] || !crowded {
				d.Curves = append(d.Curves, look.Curve{Stroke: stroke, Through: [][2]float64{pair(named[0])}, Name: fmt.Sprint(n - first[family] + 1)})
				before = named[0]
			}
		}
	}
}

// pinning is which coordinate a mark on a line of each family pins.
var pinning = [2]calibrate.Pins{calibrate.PinsU, calibrate.PinsV}

// refused draws what was considered.
func (d *drawer) refused(s calibrate.Sighting, f look.Found) {
	reason := s.Refused.Reason // which mostly names the reference, or its kind
	for _, name := range []string{s.Reference.String(), string(s.Reference.Kind)} {
		reason = strings.TrimPrefix(reason, name+": ")
	}
	d.say("%s: NOT SCALED: %s", s.Reference, reason)
	if s.Refused.Retake != "" {
		d.say("what to do: %s", s.Refused.Retake)
	}
	if s.Reference.Kind == calibrate.KindPoints {
		d.points(s.Reference, false)
		return
	}
	var lines []int // in the order of the marks
	byLine := map[int][]calibrate.Point{}
	for _, m := range f.Marks {
		if m.Line != 0 {
			if len(byLine[m.Line]) == 0 {
				lines = append(lines, m.Line)
			}
			byLine[m.Line] = append(byLine[m.Line], m.At)
		}
		d.spot(calibrate.Residual{Mark: m, Expected: m.At})
	}
	for _, through := range f.Considered {
		d.curve(look.StrokeConsidered, through)
		for _, at := range through {
			d.hold(at)
		}
	}
	for _, line := range lines {
		d.curve(look.StrokeConsidered, byLine[line])
	}
	if len(f.Marks)+len(f.Considered) > 0 {
		d.legend["refused"] = true
	} else {
		d.say("no marks of a %s to show", s.Reference.Kind)
	}
}

// points draws the two places given by hand.
func (d *drawer) points(ref calibrate.Reference, used bool) {
	stroke := look.StrokeFirst
	if !used {
		stroke = look.StrokeConsidered
	}
	d.curve(stroke, []calibrate.Point{*ref.From, *ref.To})
	for _, at := range []calibrate.Point{*ref.From, *ref.To} {
		d.spot(calibrate.Residual{Mark: calibrate.Mark{At: at}, Expected: at, Used: used})
	}
}

// explain says what the colours mean.
func (d *drawer) explain() {
	if d.legend["scaled"] {
		d.say("Orange and blue: the reference's lines, numbered each way: count them against the real one. Pale: its plane carried on. Green dots: marks that carry the fit; red crosses: marks left out. Yellow: how far a mark lies from its place, drawn %d times as long.", pointerTimes)
	}
	if d.legend["points"] {
		d.say("Orange line: the two places given by hand.")
	}
	if d.legend["measured"] {
		d.say("Yellow lines: the lengths asked for, measured where the reference lies or as far below it as was asked.")
	}
	if d.legend["refused"] {
		d.say("Purple lines and red crosses: what was considered and not believed.")
	}
}
