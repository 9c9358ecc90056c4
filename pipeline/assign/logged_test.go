package assign

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
	"fieldjacket/pipeline/words"
)

// TestWhatTheLogSaysOfAPhoto: the last word counts before folder and photos.csv, and a set-up of other jackets is a contradiction that
// a person settles.
func TestWhatTheLogSaysOfAPhoto(t *testing.T) {
	const file = "ann/jacket 14/IMG_1.jpg"
	for name, c := range map[string]struct {
		said     []string // what and value, of the photo
		row      register.PhotoWord
		jackets  string
		strength Strength
		setUp    string
		says     string
	}{
		"nothing":                       {nil, register.PhotoWord{}, "14", ByName, "", ""},
		"another jacket":                {[]string{"jackets", "15"}, register.PhotoWord{}, "15", ByPerson, "", `line 1 (AB) says so, though folder "jacket 14" names jacket 14`},
		"the same jacket":               {[]string{"jackets", "14"}, register.PhotoWord{}, "14", ByPerson, "", "line 1 (AB) says so"},
		"two":                           {[]string{"jackets", "15; 14"}, register.PhotoWord{}, "15+14", ByPerson, "", "though"},
		"none":                          {[]string{"jackets", "none"}, register.PhotoWord{}, "", ByPerson, "", "says that it shows no jacket, though folder"},
		"the last counts":               {[]string{"jackets", "15", "jackets", "14"}, register.PhotoWord{}, "14", ByPerson, "", "line 2 (AB) says so"},
		"against photos.csv":            {[]string{"jackets", "14"}, register.PhotoWord{Photos: "IMG_1", Jackets: []string{"15"}}, "14", ByPerson, "", "line 1 (AB) says so, though photos.csv row 2"},
		"a set-up of the jacket":        {[]string{"setup", "S1"}, register.PhotoWord{}, "14", ByName, "S1", ""},
		"a set-up of others":            {[]string{"setup", "S2"}, register.PhotoWord{}, "", Conflict, "", "says set-up S2, which is of 15, 16"},
		"a set-up of one other":         {[]string{"setup", "S3"}, register.PhotoWord{}, "", Conflict, "", "says set-up S3, which is of 15"},
		"a set-up of no jackets":        {[]string{"setup", "S0"}, register.PhotoWord{}, "14", ByName, "S0", ""},
		"a set-up that is not there":    {[]string{"setup", "S9"}, register.PhotoWord{}, "", Conflict, "", "says set-up S9, which the register does not have"},
		"no set-up":                     {[]string{"setup", "none"}, register.PhotoWord{Photos: "IMG_1", SetUp: "S1"}, "14", ByPerson, "", ""},
		"jacket and its set-up":         {[]string{"jackets", "15", "setup", "S3"}, register.PhotoWord{}, "15", ByPerson, "S3", ""},
		"jacket and another's set-up":   {[]string{"jackets", "15", "setup", "S1"}, register.PhotoWord{}, "", Conflict, "", "says set-up S1, which is of 14"},
		"a jacket, photos.csv's set-up": {[]string{"jackets", "15"}, register.PhotoWord{Photos: "IMG_1", SetUp: "S1"}, "15", ByPerson, "", ""},
		"the same, photos.csv's set-up": {[]string{"jackets", "14"}, register.PhotoWord{Photos: "IMG_1", SetUp: "S1"}, "14", ByPerson, "S1", ""},
		"no jacket, and a set-up":       {[]string{"jackets", "none", "setup", "S3"}, register.PhotoWord{}, "", ByPerson, "S3", "says that it shows no jacket"},
	} {
		t.Run(name, func(t *testing.T) {
			reg := registerOf("14", "15", "16")
			reg.SetUps = []register.SetUp{{Name: "S0"}, {Name: "S1", Jackets: []string{"14"}}, {Name: "S2", Jackets: []string{"15", "16"}}, {Name: "S3", Jackets: []string{"15"}}}
			if c.row.Photos != "" {
				say(t, reg, c.row)
			}
			var log strings.Builder
			for i := 0; i < len(c.said); i += 2 {
				log.WriteString("2026-02-11T18:42:05-03:00\tAB\tphoto " + file + "\t" + c.said[i] + "\t" + c.said[i+1] + "\n")
			}
			all, _ := Photos(reg, words.Parse([]byte(log.String())), []string{file})
			b := all[0]
			if got := strings.Join(b.Jackets, "+"); got != c.jackets || b.Strength != c.strength || b.SetUp != c.setUp || !strings.Contains(b.Reason, c.says) {
				t.Errorf("%q, %s, set-up %q (%s); want %q, %s, %q (%s)", got, b.Strength, b.SetUp, b.Reason, c.jackets, c.strength, c.setUp, c.says)
			}
		})
	}
	// A photo that nothing names takes the only jacket of the set-up that a person said.
	reg := registerOf("14", "15")
	reg.SetUps = []register.SetUp{{Name: "S2", Jackets: []string{"14", "15"}}, {Name: "S3", Jackets: []string{"15"}}, {Name: "S8", Jackets: []string{"41"}}}
	for setUp, want := range map[string]string{"S3": "15", "S2": "", "S8": ""} {
		all, _ := Photos(reg, words.Parse([]byte("2026-02-11T18:42:05-03:00\tAB\tphoto ann/IMG_1.jpg\tsetup\t"+setUp+"\n")), []string{"ann/IMG_1.jpg"})
		if got := strings.Join(all[0].Jackets, "+"); got != want || all[0].SetUp != setUp {
			t.Errorf("set-up %s alone: jacket %q, set-up %q, want %q", setUp, got, all[0].SetUp, want)
		}
	}
}
