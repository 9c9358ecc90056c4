package assign

import (
	"fmt"
	"path"
	"slices"
	"strings"
	"time"

	"fieldjacket/calibrate/placard"
	"fieldjacket/pipeline/register"
)

// A Shot is what the pictures themselves tell beside their names.
type Shot struct {
	File  string
	Taken time.Time // the phone's wall clock, as if in UTC; zero: not known
	Wall  time.Time // the same, set right: what the crew's clock showed; zero: not known
	// ClockInDoubt: something speaks against the phone's clock, and so against Wall.
	ClockInDoubt bool
	Model        string   // of the phone; "": not known, and then nothing is carried to or from it
	Codes        []string // texts of cards and placards in it, see [CodeText]
}

// CodeText is what a card or placard for a jacket has to say in its code.
func CodeText(number string) string { return placard.Prefix + number }

// Coded puts what is seen in the pictures to what [Photos] settled by words and names: a card or placard in the picture, then
// what is carried from a placard to the photos after it, at most limit later and over no pause between two photos longer
// than pause: whoever puts the phone away may come back to another jacket. shots and settled are in the order of Photos'
// files; settled is not changed.
//
// A code is stronger than a name, but where they name different jackets one of the two was used wrongly, and a person has
// to say. Two codes of different jackets in a picture settle nothing either: the neighbour's may be in view.
//
// Nothing is carried over a gap in the running numbers, a pause, a photo that says something else, or in a folder where
// numbers and times run differently, as those of two phones in one folder do. Where a phone names its photos by the time, they
// follow each other by time, and only a pause shows that one is missing. Last, the diary's times suggest what they cannot
// settle.
func Coded(reg *register.Register, limit, pause time.Duration, settled []Belongs, shots []Shot) []Belongs {
	v := vocabularyOf(reg)
	out := slices.Clone(settled)
	placards := make([]bool, len(out))
	for i, s := range shots {
		out[i], placards[i] = v.coded(out[i], s.Codes)
	}
	for _, phone := range rolls(shots) {
		propagate(out, placards, shots, phone, limit, pause)
	}
	moments := momentsOf(reg)
	for i := range out {
		suggest(&out[i], shots[i], moments)
	}
	return out
}

// coded puts the codes of one picture to what is settled of it; placard: it shows exactly one jacket's code and belongs to it.
func (v *vocabulary) coded(b Belongs, codes []string) (_ Belongs, placard bool) {
	var numbers []string
	for _, code := range codes {
		if n, ok := strings.CutPrefix(code, CodeText("")); ok && !slices.Contains(numbers, n) {
			numbers = append(numbers, n)
		}
	}
	if len(numbers) == 0 || b.Strength == ByPerson {
		return b, len(numbers) == 1 && slices.Equal(numbers, b.Jackets)
	}
	conflict := func(reason string) (Belongs, bool) {
		hints := b.Suggested
		named := append(slices.Clone(b.Jackets), numbers...)
		for _, n := range numbers {
			named = append(named, v.reg.OnceCalled(n)...)
		}
		for _, n := range named {
			if _, ok := v.reg.Jacket(n); ok && !slices.Contains(hints, n) {
				hints = append(slices.Clone(hints), n)
			}
		}
		b.Jackets, b.Strength, b.Reason, b.Suggested, b.SetUp = nil, Conflict, reason, hints, ""
		return b, false
	}
	n := numbers[0]
	_, known := v.reg.Jacket(n)
	once := slices.DeleteFunc(v.reg.OnceCalled(n), func(j string) bool { return j == n })
	switch {
	case len(numbers) > 1:
		return conflict(fmt.Sprintf("codes of jackets %s are in the picture", strings.Join(numbers, " and ")))
	case !known:
		return conflict(fmt.Sprintf("the code in the picture says jacket %s, %s", n, v.missing(n)))
	case len(once) > 0:
		return conflict(fmt.Sprintf("the code in the picture says jacket %s, which was also the number of %s: it may be the old label", n, strings.Join(once, " and ")))
	case b.Strength == Conflict:
		return conflict(fmt.Sprintf("%s, and the code in the picture says jacket %s", b.Reason, n))
	case len(b.Jackets) > 0 && !slices.Equal(b.Jackets, numbers):
		return conflict(fmt.Sprintf("the code in the picture says jacket %s, and %s", n, b.Reason))
	}
	b.Jackets, b.Strength, b.Suggested = numbers, ByCard, nil
	b.Reason = fmt.Sprintf("the code in the picture says jacket %s", n)
	return b, true
}

// propagate gives the photos after each placard of a series to its jacket, as long as nothing speaks against it.
func propagate(out []Belongs, placards []bool, shots []Shot, series []numberedShot, limit, pause time.Duration) {
	for i, from := range series {
		if !placards[from.shot] {
			continue
		}
		at := shots[from.shot].Taken
		for j := i + 1; j < len(series); j++ {
			to, before := series[j], series[j-1]
			taken := shots[to.shot].Taken
			if placards[to.shot] || out[to.shot].Strength != None || out[to.shot].LeaveOut || to.number != before.number+1 ||
				taken.Sub(at) > limit || taken.Sub(shots[before.shot].Taken) > pause {
				break
			}
			b := &out[to.shot]
			b.Jackets, b.Strength = slices.Clone(out[from.shot].Jackets), Carried
			photos := "photo"
			if j-i > 1 {
				photos = "photos"
			}
			b.Reason = fmt.Sprintf("carried from %s: the placard of %s in %s, %d %s before by the same phone",
				at.Format("15:04"), strings.Join(b.Jackets, "+"), path.Base(shots[from.shot].File), j-i, photos)
			b.SetUp = ""
		}
	}
}
