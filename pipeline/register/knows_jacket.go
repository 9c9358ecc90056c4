package register

import (
	"fmt"
	"strings"
)

// KnowsJacket tells a number that the register does not have, and which it
// may have been taken for.
func KnowsJacket(r *Register, number string) error {
	if _, ok := r.Jacket(number); ok {
		return nil
	}
	if now := r.NowOf(number); len(now) > 0 {
		return fmt.Errorf("jacket %s: that number is no longer in use, it is now %s", number, strings.Join(now, " and "))
	}
	for _, j := range r.Jackets {
		if Twins(j.Number, number) {
			return fmt.Errorf("jacket %s: the register has no such jacket; it has %s, which looks like it", number, j.Number)
		}
	}
	return fmt.Errorf("jacket %s: the register has no such jacket", number)
}
