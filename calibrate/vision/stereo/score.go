package stereo

// A reading's score: at 3 px a cm, windows of 6 cm in blocks of 2 cm. Before,
// all readings are put in order at half of it, by windows of 8 cm that stand
// well apart.
const (
	scorePerCm  = 3
	scoreBlock  = 6
	scoreReach  = 1
	scoreStepPx = 0.8
	scoreFromCm = -1
	scoreToCm   = 30

	roughPerCm  = 1.5
	roughSide   = 12 // px
	roughGrid   = 6  // windows each way
	roughStepPx = 1.0
)

// score is the share of the ground in both pictures that the second photo
// shows where its reading of the strings says, at some depth that the ground
// beside it agrees with.
func score(first, second *drawer, lo, hi [2]float64) float64 {
	f := sweep(newLattice(lo, hi, scorePerCm, scoreBlock), first, second, scoreFromCm, scoreToCm, scoreStepPx, scoreReach)
	agree := f.agreeing(func(i int) bool { return f.ncc[i] > goodNCC }, 2+f.step)
	seen, good := 0, 0
	for i := range agree {
		if f.seen[i] {
			seen++
			if agree[i] {
				good++
			}
		}
	}
	if seen < len(agree)/5 {
		return 0 // too little lies in both
	}
	return float64(good) / float64(seen)
}

// rough is how well a few windows are found again in the second photo at the
// depth that suits each best: the mean of their correlations. drawn is the
// first photo on the lattice.
func rough(l *lattice, drawn []float32, first, second *drawer) float64 {
	step := l.stepCm(&first.camera, &second.camera, (scoreFromCm+scoreToCm)/2, roughStepPx)
	levels := int((scoreToCm-scoreFromCm)/step) + 1
	if levels < 2 || levels > 200 || l.w < roughSide || l.h < roughSide {
		return 0
	}
	lens := second.lens()
	var row [roughSide]float32
	var best [roughGrid * roughGrid]float32
	var seen [roughGrid * roughGrid]bool
	for k := range levels {
		h := l.sight(&second.camera, &first.camera, scoreFromCm+float64(k)*step)
		for w := range best {
			x0, y0 := (l.w-roughSide)*(w%roughGrid)/(roughGrid-1), (l.h-roughSide)*(w/roughGrid)/(roughGrid-1)
			var s sums
			for y := y0; y < y0+roughSide; y++ {
				second.drawRow(&h, &lens, x0, y, row[:])
				s.take(drawn[y*l.w+x0:y*l.w+x0+roughSide], row[:])
			}
			if ncc, ok := s.ncc(0.4 * roughSide * roughSide); ok {
				best[w], seen[w] = max(best[w], ncc), true
			}
		}
	}
	sum, n := 0.0, 0.0
	for w, b := range best {
		if seen[w] {
			sum, n = sum+float64(b), n+1
		}
	}
	if n < roughGrid*roughGrid/5 {
		return 0
	}
	return sum / n
}
