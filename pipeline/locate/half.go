package locate

import (
	"errors"
	"fmt"
)

// A HalfUnclear is the error of a UTM position of which it is not told on which half of the globe it lies, and which fits both.
type HalfUnclear struct {
	Zone        int
	Half        string // as typed; "": nothing was
	East, North string // as typed, metres
	places      [2]Place
}

// Both are the two positions that may be meant, north first, as [Parse] reads them.
func (e *HalfUnclear) Both() [2]string {
	return [2]string{fmt.Sprintf("%d north %s %s", e.Zone, e.East, e.North), fmt.Sprintf("%d south %s %s", e.Zone, e.East, e.North)}
}

func (e *HalfUnclear) Error() string {
	both := e.Both()
	want := fmt.Sprintf("write %s or %s", both[0], both[1])
	if e.Half == "" {
		return "UTM without its half of the globe is two places: " + want
	}
	return fmt.Sprintf("%d%s may be the southern half or the band S (32 to 40° N), and the northing fits both: %s", e.Zone, e.Half, want)
}

// sameDigM is how far apart places of one season are at most: the two that may be meant lie further apart, but for those close to
// the equator, of which then neither is chosen.
const sameDigM = 1_000_000

// By gives the one of the two positions that may be meant which known places decide: all of them lie within 1000 km of it, and none
// of the other. It is "" where they do not, or where there are none.
func (e *HalfUnclear) By(known []Place) string {
	near := [2]int{}
	for _, k := range known {
		for i, p := range e.places {
			if Distance(k, p) <= sameDigM {
				near[i]++
			}
		}
	}
	for i, n := range near {
		if n > 0 && n == len(known) && near[1-i] == 0 {
			return e.Both()[i]
		}
	}
	return ""
}

// unclear makes the error of a position of which the half of the globe is not told.
func (u UTM) unclear(half, east, north string) (Place, error) {
	var places [2]Place
	for i, south := range []bool{false, true} {
		at := u
		at.South = south
		var err error
		if places[i], err = at.onGrid(); err != nil {
			return Place{}, errors.New("UTM without its half of the globe is two places: want north, south or the band's letter behind the zone")
		}
	}
	return Place{}, &HalfUnclear{Zone: u.Zone, Half: half, East: east, North: north, places: places}
}
