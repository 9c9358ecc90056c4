package assign

import (
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/register"
)

func TestCodesAndCarrying(t *testing.T) {
	at := func(min, sec int) time.Time { return time.Date(2026, 2, 11, 14, 2+min, sec, 0, time.UTC) }
	shot := func(file string, min int, codes ...string) Shot {
		s := Shot{File: file, Taken: at(min, 0), Model: "Phone 3"}
		for _, c := range codes {
			s.Codes = append(s.Codes, CodeText(c))
		}
		return s
	}
	with := func(s Shot, set func(*Shot)) Shot { set(&s); return s }
	for name, c := range map[string]struct {
		shots []Shot
		want  string // of the last shot
		says  string
	}{
		"in the picture":           {[]Shot{shot("a/IMG_01.jpg", 0, "14")}, "14", "the code in the picture says jacket 14"},
		"a visitor's code":         {[]Shot{with(shot("a/IMG_01.jpg", 0), func(s *Shot) { s.Codes = []string{"https://example.org/14"} })}, "", "no folder"},
		"not in the register":      {[]Shot{shot("a/IMG_01.jpg", 0, "41")}, "", "the register does not have"},
		"two in the picture":       {[]Shot{shot("a/IMG_01.jpg", 0, "14", "15")}, "", "14 and 15"},
		"after two in the picture": {[]Shot{shot("a/IMG_01.jpg", 0, "14", "15"), shot("a/IMG_02.jpg", 1)}, "", "no folder"},
		"two between":              {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 1, "14", "15"), shot("a/IMG_03.jpg", 2)}, "", "no folder"},
		"two, and the folder":      {[]Shot{shot("a/jacket 14/IMG_01.jpg", 0, "15", "14")}, "", "codes of jackets 15 and 14"},
		"one code twice":           {[]Shot{shot("a/IMG_01.jpg", 0, "14", "14"), shot("a/IMG_02.jpg", 1)}, "14", "carried from 14:02"},
		"agrees with the folder":   {[]Shot{shot("a/jacket 14/IMG_01.jpg", 0, "14")}, "14", "the code"},
		"against the folder":       {[]Shot{shot("a/jacket 15/IMG_01.jpg", 0, "14")}, "", "says jacket 14, and folder"},
		"carried":                  {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 2)}, "14", "carried from 14:02"},
		"carried on":               {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 2), shot("a/IMG_03.jpg", 4)}, "14", "2 photos before"},
		"a pause":                  {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 4)}, "", "no folder"},
		"too late":                 {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 3), shot("a/IMG_03.jpg", 6), shot("a/IMG_04.jpg", 9), shot("a/IMG_05.jpg", 12), shot("a/IMG_06.jpg", 15), shot("a/IMG_07.jpg", 16)}, "", "no folder"},
		"a number is missing":      {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_03.jpg", 1)}, "", "no folder"},
		"the next placard":         {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 1, "15"), shot("a/IMG_03.jpg", 2)}, "15", "carried from 14:03"},
		"an unknown placard":       {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_02.jpg", 1, "41"), shot("a/IMG_03.jpg", 2)}, "", "no folder"},
		"another folder":           {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("b/IMG_02.jpg", 1)}, "", "no folder"},
		"another model":            {[]Shot{shot("a/IMG_01.jpg", 0, "14"), with(shot("a/IMG_02.jpg", 1), func(s *Shot) { s.Model = "Ridge 2" })}, "", "no folder"},
		"through a chat program":   {[]Shot{shot("a/IMG_01.jpg", 0, "14"), with(shot("a/IMG_02.jpg", 1), func(s *Shot) { s.Model, s.Taken = "", time.Time{} })}, "", "no folder"},
		"before the placard":       {[]Shot{shot("a/IMG_02.jpg", 1, "14"), shot("a/IMG_01.jpg", 0)}, "", "no folder"},
		"two phones in one folder": {[]Shot{shot("a/IMG_01.jpg", 0, "14"), shot("a/IMG_03.jpg", -9), shot("a/IMG_02.jpg", 1)}, "", "no folder"},
		"named by the time":        {[]Shot{shot("a/PXL_20260710_080020123.jpg", 0, "14"), shot("a/PXL_20260710_080151007.MP.jpg", 2)}, "14", "carried from 14:02"},
		"by the second":            {[]Shot{shot("a/20260710_080020.jpg", 0, "14"), shot("a/20260710_080221.jpg", 2), shot("a/20260710_080421.jpg", 4)}, "14", "2 photos before"},
		"two in a second":          {[]Shot{shot("a/20260710_080020.jpg", 0, "14"), shot("a/20260710_080020(0).jpg", 0)}, "14", "carried"},
		"listed before it":         {[]Shot{shot("a/IMG_20260710_080020.jpg", 1, "14"), shot("a/20260710_075959.jpg", 2)}, "14", "carried"},
		"by the time, a pause":     {[]Shot{shot("a/20260710_080020.jpg", 0, "14"), shot("a/20260710_080421.jpg", 4)}, "", "no folder"},
		"by the time, earlier":     {[]Shot{shot("a/20260710_080221.jpg", 2, "14"), shot("a/20260710_080020.jpg", 0)}, "", "no folder"},
		"by the time, next":        {[]Shot{shot("a/20260710_080020.jpg", 0, "14"), shot("a/20260710_080121.jpg", 1, "15"), shot("a/20260710_080221.jpg", 2)}, "15", "carried from 14:03"},
		"by the time, two phones":  {[]Shot{shot("a/20260710_080020.jpg", 0, "14"), shot("a/20260710_075921.jpg", 1), shot("a/20260710_080121.jpg", 2)}, "", "no folder"},
		"no time of day":           {[]Shot{shot("a/20260710_990020.jpg", 0, "14"), shot("a/20260710_990121.jpg", 1)}, "", "no folder"},
		"received by chat":         {[]Shot{shot("a/IMG-20260710-WA0003.jpg", 0, "14"), shot("a/IMG-20260710-WA0004.jpg", 1)}, "", "no folder"},
	} {
		reg := registerOf("14", "15")
		var files []string
		for _, s := range c.shots {
			files = append(files, s.File)
		}
		settled, _ := Photos(reg, nil, files)
		all := Coded(reg, 15*time.Minute, 3*time.Minute, settled, c.shots)
		got := all[len(all)-1]
		if strings.Join(got.Jackets, "+") != c.want || !strings.Contains(got.Reason, c.says) {
			t.Errorf("%s: %v, %s (%s); want %q", name, got.Jackets, got.Strength, got.Reason, c.want)
		}
	}
}

func TestAPersonOutweighsACard(t *testing.T) {
	reg := registerOf("14", "15")
	say(t, reg, register.PhotoWord{Photos: "a/IMG_01", Jackets: []string{"15"}})
	shots := []Shot{{File: "a/IMG_01.jpg", Taken: time.Unix(0, 0), Model: "m", Codes: []string{CodeText("14")}}, {File: "a/IMG_02.jpg", Taken: time.Unix(9, 0), Model: "m"}}
	settled, _ := Photos(reg, nil, []string{shots[0].File, shots[1].File})
	got := Coded(reg, 15*time.Minute, 3*time.Minute, settled, shots)
	if got[0].Jackets[0] != "15" || got[0].Strength != ByPerson || got[1].Jackets != nil {
		t.Errorf("%+v", got)
	}
}

// TestTwoCodesCarryNothing, not even where a person has said which jacket the photo shows.
func TestTwoCodesCarryNothing(t *testing.T) {
	reg := registerOf("14", "15")
	say(t, reg, register.PhotoWord{Photos: "a/IMG_01", Jackets: []string{"14"}})
	shots := []Shot{{File: "a/IMG_01.jpg", Taken: time.Unix(0, 0), Model: "m", Codes: []string{CodeText("14"), CodeText("15")}}, {File: "a/IMG_02.jpg", Taken: time.Unix(9, 0), Model: "m"}}
	settled, _ := Photos(reg, nil, []string{shots[0].File, shots[1].File})
	got := Coded(reg, 15*time.Minute, 3*time.Minute, settled, shots)
	if got[0].Strength != ByPerson || got[1].Strength != None || got[1].Jackets != nil {
		t.Errorf("%+v", got)
	}
	shots[0].Codes = shots[0].Codes[:1]
	if got := Coded(reg, 15*time.Minute, 3*time.Minute, settled, shots); got[1].Strength != Carried {
		t.Errorf("one code alone: %+v", got[1])
	}
}
