package assign

import (
	"fmt"
	"slices"
	"strings"
	"time"

	"fieldjacket/pipeline/register"
)

// diaryReach is how far in time from a line of the diary a photo may lie for the line to suggest its jacket, and
// mostSuggested is how many jackets a line may name to suggest any (common practice, no source).
const (
	diaryReach    = 30 * time.Minute
	mostSuggested = 3
)

// A noted is a moment of the diary and the jackets that it names.
type noted struct {
	at      time.Time // by the crew's clock, as if in UTC
	jackets []string
}

// momentsOf lists the lines of the diary that have a time, those on all jackets left out.
func momentsOf(reg *register.Register) (out []noted) {
	place := map[int]int{} // row of the diary -> index in out
	for _, j := range reg.Jackets {
		for _, e := range reg.DiaryOf(j.Number) {
			at, err := time.Parse("2006-01-02 15:04", e.Date.String()+" "+e.Time)
			if err != nil || slices.Contains(e.Numbers, register.AllNumbers) {
				continue
			}
			i, known := place[e.Row]
			if !known {
				i = len(out)
				place[e.Row] = i
				out = append(out, noted{at: at})
			}
			if !slices.Contains(out[i].jackets, j.Number) {
				out[i].jackets = append(out[i].jackets, j.Number)
			}
		}
	}
	return out
}

// suggest tells of a photo that nothing settles, and for which nothing is suggested yet, what the diary says was at work on
// about then: the nearest line in time. It settles nothing: a line's time is when somebody wrote, not what the phone was held at.
func suggest(b *Belongs, s Shot, moments []noted) {
	if b.Strength != None || len(b.Suggested) > 0 || s.Wall.IsZero() {
		return
	}
	nearest, least := -1, diaryReach+1
	for i, m := range moments {
		if off := s.Wall.Sub(m.at).Abs(); off < least {
			nearest, least = i, off
		}
	}
	if nearest < 0 || len(moments[nearest].jackets) > mostSuggested {
		return
	}
	m := moments[nearest]
	b.Suggested = slices.Clone(m.jackets)
	b.Reason += fmt.Sprintf("; the diary names %s at %s", strings.Join(m.jackets, " and "), m.at.Format("15:04"))
	if b.Unsure = s.ClockInDoubt; b.Unsure {
		b.Reason += ", but the phone's clock is in doubt"
	}
}
