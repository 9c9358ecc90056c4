package seasonfile

import (
	"strings"
	"testing"
)

// TestTemplateExplainsOnlyWhatIsRead turns the commented keys of the template on: they too must be known.
func TestTemplateExplainsOnlyWhatIsRead(t *testing.T) {
	var lines []string
	for line := range strings.SplitSeq(Empty, "\n") {
		rest, comment := strings.CutPrefix(line, "# ")
		if comment && (strings.Contains(rest, " = ") || strings.HasPrefix(rest, "[")) {
			line = rest
		}
		lines = append(lines, line)
	}
	s, problems, err := parse([]byte(strings.Join(lines, "\n")))
	if err != nil || problems != nil {
		t.Fatal(err, problems)
	}
	if s.Zone == nil || len(s.Mixes) != 1 || len(s.People) != 2 || s.References[0].DiagonalsCm == nil || s.References[3].CheckLineMm == nil {
		t.Errorf("not all keys were turned on: %+v", s)
	}
}
