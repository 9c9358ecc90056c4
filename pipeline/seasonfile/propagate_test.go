package seasonfile

import (
	"strings"
	"testing"
	"time"
)

// TestCarryKeys: what is out of bounds leaves the usual value and is named; another type than a number costs the file.
func TestCarryKeys(t *testing.T) {
	for text, c := range map[string]struct {
		pause, limit time.Duration
		says         string // "": nothing
	}{
		"":                     {30 * time.Second, 15 * time.Minute, ""},
		"carry_pause_s = 0":    {0, 15 * time.Minute, ""},
		"carry_pause_s = 180":  {3 * time.Minute, 15 * time.Minute, ""},
		"carry_pause_s = 0.5":  {time.Second / 2, 15 * time.Minute, ""},
		"carry_pause_s = 181":  {30 * time.Second, 15 * time.Minute, `season.toml, carry_pause_s "181": want 0 to 180; this key is not used`},
		"carry_pause_s = -1":   {30 * time.Second, 15 * time.Minute, `season.toml, carry_pause_s "-1": want 0 to 180; this key is not used`},
		"carry_pause_s = nan":  {30 * time.Second, 15 * time.Minute, `carry_pause_s "NaN": want 0 to 180`},
		"carry_pause_s = inf":  {30 * time.Second, 15 * time.Minute, `carry_pause_s "+Inf": want 0 to 180`},
		"carry_minutes = 16":   {30 * time.Second, 15 * time.Minute, `carry_minutes "16": want 0 to 15`},
		"carry_minutes = -0.1": {30 * time.Second, 15 * time.Minute, `carry_minutes "-0.1": want 0 to 15`},
		"carry_minutes = nan":  {30 * time.Second, 15 * time.Minute, `carry_minutes "NaN": want 0 to 15`},
		"carry_minutes = 0":    {30 * time.Second, 0, ""},
	} {
		s, problems, err := parse([]byte("name = \"x\"\n" + text))
		said := ""
		for _, p := range problems {
			said += p.Error()
		}
		if err != nil || s.CarryPause != c.pause || s.PropagateFor != c.limit || (said == "") != (c.says == "") || !strings.Contains(said, c.says) {
			t.Errorf("%s: pause %v, at most %v, said %q (%v)", text, s.CarryPause, s.PropagateFor, said, err)
		}
	}
	if _, _, err := parse([]byte("carry_pause_s = \"60\"")); err == nil || !strings.Contains(err.Error(), "line 1") {
		t.Errorf("a text: %v", err)
	}
}
