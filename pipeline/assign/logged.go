package assign

import (
	"fmt"
	"slices"
	"strings"

	"fieldjacket/pipeline/words"
)

// logged puts what words.log says of a photo over everything else: a person said it while looking at the photo, and may have
// settled by it what else contradicts itself.
func (v *vocabulary) logged(said words.PhotoAnnotations, b Belongs) Belongs {
	if said.Jackets != nil {
		b = v.loggedJackets(said, b)
	}
	if said.SetUp != nil {
		b = v.loggedSetUp(said, b)
	}
	if said.View != nil {
		b.View, b.ViewFrom, b.ViewConflict = said.View.Value, said.View.String(), false
	}
	if said.Caption != nil {
		b.Caption = said.Caption.Value
	}
	if said.Chosen != nil {
		b.Chosen = said.Chosen.Value
	}
	if said.LeaveOut != nil {
		b.LeaveOut = said.LeaveOut.Value
	}
	return b
}

// loggedJackets settles the jackets by the log, naming what it stands against. A number that the register does not have
// settles nothing.
func (v *vocabulary) loggedJackets(said words.PhotoAnnotations, b Belongs) Belongs {
	told := said.Jackets
	before := b
	b.Suggested, b.Jackets, b.By = nil, nil, told.Line.By
	for _, n := range told.Value {
		if _, ok := v.reg.Jacket(n); !ok {
			b.Strength, b.SetUp = Conflict, ""
			b.Reason = fmt.Sprintf("%s says jacket %s, %s", told, n, v.missing(n))
			b.Suggested = v.meant(n)
			return b
		}
	}
	b.Strength, b.Jackets = ByPerson, slices.Clone(told.Value)
	b.Reason = told.String() + " says so"
	if len(told.Value) == 0 {
		b.Reason = told.String() + " says that it shows no jacket"
		b.Jackets = nil
	}
	switch {
	case before.Strength == Conflict, len(before.Jackets) > 0 && !sameSet(before.Jackets, b.Jackets):
		b.Reason += ", though " + before.Reason
	}
	if s, ok := v.reg.SetUp(b.SetUp); ok && said.SetUp == nil && len(s.Jackets) > 0 && !sharesJacket(b.Jackets, s.Jackets) {
		b.SetUp = "" // it was said with other jackets
	}
	return b
}

// loggedSetUp takes the set-up from the log where it can be one of the photo's jackets'.
func (v *vocabulary) loggedSetUp(said words.PhotoAnnotations, b Belongs) Belongs {
	told := said.SetUp
	if told.Value == "" {
		b.SetUp = ""
		return b
	}
	s, ok := v.reg.SetUp(told.Value)
	switch {
	case !ok:
		b.Suggested, b.Jackets, b.Strength = append(slices.Clone(b.Suggested), b.Jackets...), nil, Conflict
		b.Reason, b.SetUp = fmt.Sprintf("%s says set-up %s, which the register does not have", told, told.Value), ""
	case len(b.Jackets) > 0 && len(s.Jackets) > 0 && !sharesJacket(b.Jackets, s.Jackets):
		b.Reason = fmt.Sprintf("%s, and %s says set-up %s, which is of %s", b.Reason, told, s.Name, strings.Join(s.Jackets, ", "))
		b.Suggested, b.Jackets, b.Strength, b.SetUp = append(slices.Clone(s.Jackets), b.Jackets...), nil, Conflict, ""
	case len(b.Jackets) == 0 && len(s.Jackets) == 1 && said.Jackets == nil:
		if _, known := v.reg.Jacket(s.Jackets[0]); known {
			b.Jackets, b.Strength, b.Suggested, b.By = slices.Clone(s.Jackets), ByPerson, nil, told.Line.By
			b.Reason = fmt.Sprintf("%s says set-up %s, which is of jacket %s alone", told, s.Name, s.Jackets[0])
		}
		b.SetUp = s.Name
	default:
		b.SetUp = s.Name
	}
	return b
}

func sharesJacket(a, b []string) bool {
	return slices.ContainsFunc(a, func(n string) bool { return slices.Contains(b, n) })
}
