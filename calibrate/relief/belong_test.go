package relief

import (
	"testing"
	"time"

	"fieldjacket/calibrate"
)

func TestWhatTheFilesSpeakAgainst(t *testing.T) {
	noon := time.Date(2026, 2, 11, 12, 0, 0, 0, time.UTC)
	shot := Shot{Name: "a.jpg", Camera: calibrate.Camera{WidthPx: 4032, HeightPx: 3024, Focal35Mm: 26}, Lens: "x", Taken: noon}
	for _, c := range []struct {
		name   string
		change func(*Shot)
		want   Why
	}{
		{"as the first", func(*Shot) {}, ""},
		{"held upright", func(s *Shot) { s.Camera.WidthPx, s.Camera.HeightPx = 3024, 4032 }, ""},
		{"no time", func(s *Shot) { s.Taken = time.Time{} }, ""},
		{"a quarter of an hour later", func(s *Shot) { s.Taken = noon.Add(15 * time.Minute) }, ""},
		{"later", func(s *Shot) { s.Taken = noon.Add(15*time.Minute + time.Second) }, WhyApart},
		{"earlier", func(s *Shot) { s.Taken = noon.Add(-time.Hour) }, WhyApart},
		{"another lens", func(s *Shot) { s.Camera.Focal35Mm = 13 }, WhyOther},
		{"another phone", func(s *Shot) { s.Lens = "y" }, WhyOther},
		{"zoomed", func(s *Shot) { s.Zoom = 2 }, WhyOther},
		{"cropped", func(s *Shot) { s.Camera.WidthPx = 4000 }, WhyOther},
		{"no focal length", func(s *Shot) { s.Camera.Focal35Mm = 0 }, WhyOther},
	} {
		other := shot
		other.Name = "b.jpg"
		c.change(&other)
		got := Belong([]Shot{shot, other})
		if (got == nil) != (c.want == "") || got != nil && (got.Why != c.want || got.Reason == "" || got.Retake == "") {
			t.Errorf("%s: %+v, want %q", c.name, got, c.want)
		}
	}
}
