package assign

import (
	"slices"
	"strings"
	"testing"
	"time"

	"fieldjacket/pipeline/register"
)

func TestDiarySuggestsOnly(t *testing.T) {
	reg := registerOf("14", "15", "16", "17")
	day, err := register.ParseDate("2026-02-11")
	if err != nil {
		t.Fatal(err)
	}
	reg.Diary = []register.Entry{
		{Row: 2, Date: day, Time: "10:00", Numbers: []string{"14"}, What: "hardened"},
		{Row: 3, Date: day, Time: "11:00", Numbers: []string{"15", "16"}, What: "trench dug"},
		{Row: 4, Date: day, Time: "12:00", Numbers: []string{register.AllNumbers}, What: "rain"},
		{Row: 5, Date: day, Time: "13:00", Numbers: []string{"14", "15", "16", "17"}, What: "sun sails up"},
		{Row: 6, Date: day, Numbers: []string{"17"}, What: "no time"},
	}
	for clock, want := range map[string]string{
		"09:29": "", "09:31": "14", "10:29": "14", "10:31": "15 16", "11:25": "15 16", "12:05": "", "13:00": "", "18:00": "", "": "",
	} {
		shot := Shot{File: "ann/IMG_0001.JPG"}
		if clock != "" {
			if shot.Wall, err = time.Parse("2006-01-02 15:04", "2026-02-11 "+clock); err != nil {
				t.Fatal(err)
			}
		}
		settled, _ := Photos(reg, nil, []string{shot.File})
		b := Coded(reg, 15*time.Minute, time.Minute, settled, []Shot{shot})[0]
		if got := strings.Join(b.Suggested, " "); got != want || b.Jackets != nil || b.Strength != None || (want != "") != strings.Contains(b.Reason, "the diary names") {
			t.Errorf("%s: suggested %q, want %q; %s, %v: %s", clock, got, want, b.Strength, b.Jackets, b.Reason)
		}
	}
	// What a name tells, the diary does not touch.
	file := "ann/jacket 14/IMG_0001.JPG"
	settled, _ := Photos(reg, nil, []string{file})
	if b := Coded(reg, 15*time.Minute, time.Minute, settled, []Shot{{File: file, Wall: time.Date(2026, 2, 11, 11, 0, 0, 0, time.UTC)}})[0]; !slices.Equal(b.Jackets, []string{"14"}) || b.Suggested != nil {
		t.Errorf("%+v", b)
	}
}
