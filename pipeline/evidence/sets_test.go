package evidence

import (
	"fmt"
	"slices"
	"testing"
	"time"

	"fieldjacket/calibrate"
	"fieldjacket/calibrate/look"
	"fieldjacket/calibrate/scene"
	"fieldjacket/pipeline/intake"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/truth"
)

// laid is a photo of the strings over jacket 14, taken some minutes after ten, so far from straight above.
func laid(t *testing.T, n int, minutes, tiltDeg, headingDeg float64) *Photo {
	t.Helper()
	l := truth.LayDown(t, 0, scene.Camera{WidthPx: 4000, HeightPx: 3000, Focal35Mm: 26, DistanceCm: 150, TiltDeg: tiltDeg, HeadingDeg: headingDeg}, 0)
	p := shot(fmt.Sprintf("ann/IMG_%d.JPG", n), "14")
	p.Photo.WidthPx, p.Photo.HeightPx = 4000, 3000
	p.Belongs.View = register.ViewGridded
	focal := 26.0
	local := clock(t, time.Duration(minutes*float64(time.Minute)))
	p.Capture = &intake.Capture{Make: "Anvil", Model: "Phone 3", Focal35Mm: &focal, Local: &local}
	p.When = &phones.When{Local: local}
	p.Sightings = []calibrate.Sighting{{Reference: calibrate.Reference{Kind: calibrate.KindGrid, PitchCm: 10}, Plane: l.Plane}}
	return p
}

// clock is so long after ten.
func clock(t *testing.T, after time.Duration) intake.LocalTime {
	t.Helper()
	local, err := intake.ParseLocalTime(time.Date(2026, 2, 11, 10, 0, 0, 0, time.UTC).Add(after).Format("2006-01-02T15:04:05"))
	if err != nil {
		t.Fatal(err)
	}
	return local
}

// TestSetsAreOfOneLaying: three photos of one laid grid are a set, the one from straight above first; whatever tells that one
// belongs elsewhere, or cannot tell a depth with the others, leaves it out.
func TestSetsAreOfOneLaying(t *testing.T) {
	for name, c := range map[string]struct {
		change func(p *Photo) // the last of the three
		first  int
		want   []int // how many photos each set has
	}{
		"as it is":             {func(*Photo) {}, 1, []int{3}},
		"another phone":        {func(p *Photo) { p.Capture.Model = "Phone 4" }, 1, []int{2, 1}},
		"another folder":       {func(p *Photo) { p.Photo.File = "bob/IMG_9.JPG" }, 1, []int{2, 1}},
		"another lens":         {func(p *Photo) { *p.Capture.Focal35Mm = 13 }, 1, []int{2, 1}},
		"zoomed":               {func(p *Photo) { p.Capture.DigitalZoom = new(2.0) }, 1, []int{2, 1}},
		"another size":         {func(p *Photo) { p.Photo.WidthPx = 2000 }, 1, []int{2, 1}},
		"an hour later":        {func(p *Photo) { later(p, time.Hour) }, 1, []int{2, 1}},
		"fourteen minutes":     {func(p *Photo) { later(p, 13*time.Minute) }, 1, []int{3}},
		"another jacket":       {func(p *Photo) { p.Belongs.Jackets = []string{"16"} }, 1, []int{2, 1}},
		"another set-up":       {func(p *Photo) { p.Belongs.SetUp = "S2" }, 1, []int{2, 1}},
		"no jacket":            {func(p *Photo) { p.Belongs.Jackets = nil }, 1, []int{3}},
		"other strings":        {func(p *Photo) { p.Sightings[0].Reference.PitchCm = 5 }, 1, []int{2, 1}},
		"no strings":           {func(p *Photo) { p.Sightings[0].Reference.Kind = calibrate.KindChecker }, 1, []int{2}},
		"set by hand":          {func(p *Photo) { p.Sightings[0].By = "RKA" }, 1, []int{2}},
		"not scaled":           {func(p *Photo) { p.Sightings = nil }, 1, []int{2}},
		"no time":              {func(p *Photo) { p.When = nil }, 1, []int{2}},
		"mirrored":             {func(p *Photo) { p.Codes = []look.Code{{Mirrored: true}} }, 1, []int{2}},
		"left out":             {func(p *Photo) { p.Belongs.LeaveOut = true }, 1, []int{2}},
		"the underside":        {func(p *Photo) { p.Belongs.View = register.ViewUnderside }, 1, []int{2}},
		"plaster":              {func(p *Photo) { p.Belongs.View = register.ViewJacketed }, 1, []int{2}},
		"no scale wanted":      {func(p *Photo) { p.NoScale = "RKA" }, 1, []int{2}},
		"from the same place":  {func(p *Photo) { p.Sightings[0].Plane = laid(t, 1, 0, 3, 180).Sightings[0].Plane }, 1, []int{2}},
		"from too far aside":   {func(p *Photo) { p.Sightings[0].Plane = laid(t, 1, 0, 40, 0).Sightings[0].Plane }, 1, []int{2}},
		"straighter, the last": {func(p *Photo) { p.Sightings[0].Plane = laid(t, 1, 0, 1, 0).Sightings[0].Plane }, 1, []int{2}},
	} {
		photos := []*Photo{laid(t, 0, 0, 22, 0), laid(t, 1, 0.5, 3, 0), laid(t, 2, 1, 22, 90)}
		c.change(photos[2])
		sets := Sets(photos, func(int) bool { return true })
		var got []int
		for _, s := range sets {
			got = append(got, len(s.Photos))
		}
		slices.SortFunc(got, func(a, b int) int { return b - a })
		if !slices.Equal(got, c.want) {
			t.Errorf("%s: sets %v", name, sets)
			continue
		}
		if at := slices.IndexFunc(sets, func(s Set) bool { return len(s.Photos) > 1 }); at >= 0 && sets[at].Photos[0] != c.first {
			t.Errorf("%s: photo %d is the first", name, sets[at].Photos[0])
		}
	}
	photos := []*Photo{laid(t, 0, 0, 22, 0), laid(t, 1, 0.5, 3, 0)}
	if sets := Sets(photos, func(i int) bool { return i == 0 }); len(sets) != 1 || len(sets[0].Photos) != 1 {
		t.Errorf("a copy counts: %v", sets)
	}
}

func later(p *Photo, by time.Duration) {
	local, err := intake.ParseLocalTime(p.Capture.Local.At(0).Add(by).Format("2006-01-02T15:04:05"))
	if err != nil {
		panic(err)
	}
	p.Capture.Local, p.When.Local = &local, local
}

// TestSetsAreBounded: of many photos of one grid five are taken, whatever the order they come in.
func TestSetsAreBounded(t *testing.T) {
	var photos []*Photo
	for n := range 9 {
		photos = append(photos, laid(t, n, 0.2*float64(n), 18+float64(n), 40*float64(n)))
	}
	one := Sets(photos, func(int) bool { return true })
	files := func(s Set, of []*Photo) (out []string) {
		for _, i := range s.Photos {
			out = append(out, of[i].Photo.File)
		}
		return out
	}
	back := slices.Clone(photos)
	slices.Reverse(back)
	two := Sets(back, func(int) bool { return true })
	if len(one) != 1 || len(one[0].Photos) != mostOfSet || !slices.Equal(files(one[0], photos), files(two[0], back)) {
		t.Errorf("%v and %v", one, two)
	}
}
