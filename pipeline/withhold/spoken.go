package withhold

import "regexp"

// pointed is a line of what people said of a photo, of which the last part is places in the photo, in pixels: nothing of it can be
// typed freely. What is before it may be, the name of an outline for one. See package words for the forms.
var pointed = regexp.MustCompile(`^([^:]*:[^:]*: (?:reference|end|north|origin|up|outline|depth|tape)(?: [^:]*)?: )` +
	`((?:[a-z0-9./ ]{1,60} at )?-?[0-9.]+,-?[0-9.]+(?: -?[0-9.]+,-?[0-9.]+)*(?: (?:magnetic|true|grid))?)$`)

// spoken are lines of what people said, without positions on the ground.
func spoken(lines []string, cut *bool) []string {
	var out []string
	for _, line := range lines {
		free, places := line, ""
		if m := pointed.FindStringSubmatch(line); m != nil {
			free, places = m[1], m[2]
		}
		text := Text(free) + places
		*cut = *cut || text != line
		out = append(out, text)
	}
	return out
}
