package demo

import (
	"errors"
	"fmt"
	"io/fs"
	"math"
	"os"
	"path/filepath"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/words"
)

// said writes what somebody said on the evening of 12 February: where the two
// ends of bones 21 and 24 lie under the strings. A words.log that is there already may
// hold words of a person who tries the program, and is left as it is.
func said(dir string) error {
	if _, err := os.Stat(filepath.Join(dir, words.File)); !errors.Is(err, fs.ErrNotExist) {
		return err
	}
	var all []words.Word
	at := time.Date(2026, 2, 12, 19, 40, 0, 0, time.FixedZone("", -3*60*60))
	for _, s := range shots {
		if s.ends == "" {
			continue
		}
		a, b := s.endsOfFemur()
		for i, end := range []calibrate.Point{a, b} {
			at = at.Add(4 * time.Second)
			all = append(all, words.Word{At: at, By: "TMO", About: words.Photo(s.file), What: words.End, Name: fmt.Sprintf("%d %s", i+1, s.ends),
				Value: fmt.Sprintf("%.0f,%.0f", end.XPx, end.YPx)})
		}
	}
	_, err := words.Append(dir, all...)
	return err
}

// endsOfFemur is where both ends of the long bone lie in a photo with strings.
func (s shot) endsOfFemur() (a, b calibrate.Point) {
	sc := s.scene()
	bone, strings := sc.Bones[0], sc.Truth().Planes[0]
	dv, du := math.Sincos((bone.TurnDeg - sc.Grids[0].TurnDeg) * math.Pi / 180)
	at := func(alongCm float64) calibrate.Point {
		p, _ := strings.Photo(alongCm*du, alongCm*dv, s.stringsCm()-bone.ZCm)
		return p
	}
	return at(-bone.LengthCm / 2), at(bone.LengthCm / 2)
}
