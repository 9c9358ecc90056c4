package evidence

import (
	"math"
	"testing"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestWhereAJacketLies: at its first find with a position that can be read, else at its locality; the grid's north is known where
// that was typed on a grid.
func TestWhereAJacketLies(t *testing.T) {
	at := func(typed string) register.Position { return register.Position{Typed: typed, Datum: "WGS84"} }
	high := at("-31.2, -32.6")
	metres := 1800.0
	high.AltitudeM = &metres
	for name, c := range map[string]struct {
		finds    []register.Position
		locality register.Position
		lat      float64 // 0: nowhere
		onGrid   bool
		altitude float64
	}{
		"a find":               {[]register.Position{at("-31.2, -32.6")}, at("-40, -60"), -31.2, false, 0},
		"the first of two":     {[]register.Position{at("-31.2, -32.6"), at("-35, -32.6")}, register.Position{}, -31.2, false, 0},
		"the second of two":    {[]register.Position{{}, at("-35, -32.6")}, register.Position{}, -35, false, 0},
		"one that is no place": {[]register.Position{at("by the ford")}, at("-40, -60"), -40, false, 0},
		"the locality":         {[]register.Position{{}}, at("-40, -60"), -40, false, 0},
		"on a grid":            {[]register.Position{at("25 south 581454 5688351")}, register.Position{}, -38.95, true, 0},
		"with its altitude":    {[]register.Position{high}, register.Position{}, -31.2, false, 1800},
		"nowhere":              {[]register.Position{{}}, register.Position{}, 0, false, 0},
	} {
		reg := &register.Register{Localities: []register.Locality{{Number: "L1", Position: c.locality}}}
		j := register.Jacket{Number: "14"}
		for i, p := range c.finds {
			f := register.Find{FieldNumber: string(rune('A' + i)), Locality: "L1", Position: p}
			reg.Finds, j.Finds = append(reg.Finds, f), append(j.Finds, f.FieldNumber)
		}
		reg.Jackets = []register.Jacket{j}
		place, onGrid, altitude, ok := placeOf(reg, "14")
		if ok != (c.lat != 0) || ok && (math.Abs(place.LatDeg-c.lat) > 0.01 || onGrid != c.onGrid || altitude != c.altitude) {
			t.Errorf("%s: %+v, on a grid %t, %g m, %t", name, place, onGrid, altitude, ok)
		}
	}
}

// TestDepthsBySquareOfWordsGoFirst: what a person said of one square of this photo stands in the place of the set-up's, and what was
// said of the whole photo is of no square.
func TestDepthsBySquareOfWordsGoFirst(t *testing.T) {
	u := &register.SetUp{Name: "S1", DepthsToBone: []register.SquareDepth{{Square: "B3", DepthCm: 8}, {Square: "C4", DepthCm: 11}}}
	log := words.Parse([]byte("2026-02-11T18:42:05-03:00\tAB\tphoto a.jpg\tdepth B3\t6cm\n2026-02-11T18:42:05-03:00\tAB\tphoto a.jpg\tdepth\t7cm\n2026-02-11T18:42:05-03:00\tAB\tphoto a.jpg\tdepth D5\t9cm\n"))
	p := Photo{Record: &record.Record{}, Words: log.Photo("a.jpg")}
	got := map[string]float64{}
	for _, d := range p.DepthsBySquare(u) {
		got[d.Square] = d.DepthCm
	}
	if len(got) != 3 || got["B3"] != 6 || got["C4"] != 11 || got["D5"] != 9 {
		t.Errorf("%v", got)
	}
	if len(u.DepthsToBone) != 2 || u.DepthsToBone[0].DepthCm != 8 {
		t.Errorf("the set-up's own were changed: %v", u.DepthsToBone)
	}
	if got := (Photo{Record: &record.Record{}}).DepthsBySquare(nil); got != nil {
		t.Errorf("nobody said anything: %v", got)
	}
}

// TestACardWithoutScaleTellsNoCorner, nor does another kind of reference.
func TestACardWithoutScaleTellsNoCorner(t *testing.T) {
	reg := &register.Register{Season: register.Season{References: []register.Reference{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 7}, Origin: register.OriginLetters}}}}
	p := Photo{Sheets: reg, Record: &record.Record{Sightings: []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindCard, Card: 7}}, lying(smallBoard, 60).Sighting}}}
	if o, untold := p.originCard(register.SetUp{Name: "S1"}, lying(ten, 160).Sighting); o != nil || untold != "" {
		t.Errorf("%+v, %q", o, untold)
	}
}
