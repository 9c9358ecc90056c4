package pipeline

import (
	"math"
	"strings"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
	"fieldjacket/pipeline/words"
)

// TestMeasuredOnAPhoto: a length and an area on the plane and below it; farther
// off, both are longer.
func TestMeasuredOnAPhoto(t *testing.T) {
	s := &Season{Words: &words.Log{}, Register: &register.Register{}}
	r := &record.Record{Sightings: []calibrate.Sighting{{Plane: truth.FlatOn(t), Reference: calibrate.Reference{Kind: calibrate.KindGrid}}}}
	at := []calibrate.Point{{XPx: 200, YPx: 200}, {XPx: 500, YPx: 200}, {XPx: 500, YPx: 400}}
	deep := 10.0
	for _, c := range []struct {
		at    []calibrate.Point
		level *float64
		want  string
	}{
		{at[:2], nil, "cm (k = 2), at the level of the strings"},
		{at, nil, "cm² (k = 2), at the level of the strings"},
		{at[:2], &deep, "cm (k = 2), 10 cm below the strings"},
	} {
		text, err := s.Measured(r, c.at, c.level)
		if err != nil || !strings.HasSuffix(text, c.want) {
			t.Errorf("%q, %v, want %q", text, err, c.want)
		}
	}
	level, _ := truth.FlatOn(t).At(deep)
	q, err := level.LengthCm(at[0], at[1])
	if err != nil || q.Value < 30.5 || math.IsNaN(q.U) {
		t.Errorf("10 cm below: %v, %v", q, err)
	}
	if _, err := s.Measured(&record.Record{}, at, nil); err == nil {
		t.Error("a photo without scale is measured")
	}
}
