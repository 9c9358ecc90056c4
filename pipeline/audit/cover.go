package audit

import (
	"fmt"
	"strings"

	"fieldjacket/pipeline/register"
)

// cover answers whether a jacket may be jacketed now: every view that is due before that must be there or waived,
// whatever the jacket's stage, since afterwards nobody can take it.
func cover(j register.Jacket, stage register.Stage, views []ViewState) (Cover, string) {
	if !j.Plastered() {
		return CoverNoPoint, fmt.Sprintf("a %s needs no plaster jacket", nameOf(j.Kind))
	}
	if stage.Reached(register.Covered) {
		return CoverDone, fmt.Sprintf("its stage is %s", stage)
	}
	var lacking, waived []string
	for _, v := range views {
		if !v.DueFrom.Reached(register.Covered) {
			switch v.State {
			case There:
			case Waived:
				waived = append(waived, fmt.Sprintf("%s %s", v.View, v.Text))
			case NotDue:
				lacking = append(lacking, fmt.Sprintf("%s missing", v.View))
			case NotScaled, NotEnough:
				lacking = append(lacking, v.Text)
			default:
				lacking = append(lacking, fmt.Sprintf("%s %s", v.View, v.Text))
			}
		}
	}
	if len(lacking) > 0 {
		return CoverNo, strings.Join(lacking, "; ")
	}
	reason := "every view required before jacketing is there"
	if len(waived) > 0 {
		reason = strings.Join(waived, "; ")
	}
	return CoverYes, reason
}

func nameOf(k register.Package) string {
	if k == register.LeftInGround {
		return "find left in the ground"
	}
	return string(k)
}
