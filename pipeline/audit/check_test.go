package audit

import (
	"fmt"
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/calibrate"
	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/register"
)

func of(view register.View, jackets ...string) Photo {
	file := fmt.Sprintf("%s/%s.jpg", strings.Join(jackets, "+"), view)
	b := assign.Belongs{Jackets: jackets, Strength: assign.ByName, Reason: "the folder says so", View: view}
	if len(jackets) == 0 {
		b.Strength, b.Reason = assign.None, "nothing names a jacket"
	}
	return Photo{File: file, Belongs: b}
}

func scaled(p Photo, by calibrate.Kind) Photo {
	p.Scaled, p.Reference, p.File = true, by, strings.Replace(p.File, ".jpg", " scaled.jpg", 1)
	return p
}

func unreadable(p Photo) Photo { p.Unreadable = "cut short"; return p }

func leftOut(p Photo) Photo { p.Belongs.LeaveOut = true; return p }

func registerOf(jackets ...register.Jacket) *register.Register {
	return &register.Register{Season: register.Season{Due: register.DefaultDue}, Jackets: jackets}
}

func pointer(v float64) *float64 { return &v }

func refused(p Photo) Photo {
	p.Refused = "no strings: go nearer"
	return p
}

// TestCheck: each view's text at each stage, and the answer to "ready to jacket?".
func TestCheck(t *testing.T) {
	rain := []register.Waiver{{View: register.ViewGridded, Reason: "rain", By: "AB"}}
	small := func(j register.Jacket) register.Jacket { j.LengthCm = pointer(30); return j }
	const small50 = ", by a checker: enough for a block under 50 cm, and this one's length is not recorded"
	for name, c := range map[string]struct {
		jacket register.Jacket
		photos []Photo
		want   map[register.View]string // views not named are "not required before ..."
		cover  Cover
		reason string
		lacks  int
	}{
		"found, no photo": {
			register.Jacket{Number: "1", Stage: register.Found}, nil,
			map[register.View]string{"setting": "missing"}, CoverNo, "setting missing; bone missing; gridded missing", 1,
		},
		"stage not recorded": {
			register.Jacket{Number: "1"}, nil,
			map[register.View]string{"setting": "missing"}, CoverNo, "setting missing; bone missing; gridded missing", 1,
		},
		"mapped, all there": {
			small(register.Jacket{Number: "1", Stage: register.Mapped}),
			[]Photo{of("setting", "1", "2"), of("bone", "1"), scaled(of("gridded", "1"), "checker")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "there"}, CoverYes, "every view required before jacketing is there", 0,
		},
		"mapped, not scaled": {
			register.Jacket{Number: "1", Stage: register.Mapped},
			[]Photo{of("setting", "1"), of("bone", "1"), of("gridded", "1")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "gridded, but not scaled: retake squarer, whole board or grid in frame"},
			CoverNo, "gridded, but not scaled: retake squarer, whole board or grid in frame", 1,
		},
		"mapped, refused with a reason": {
			register.Jacket{Number: "1", Stage: register.Mapped},
			[]Photo{of("setting", "1"), of("bone", "1"), refused(of("gridded", "1"))},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "gridded, but not scaled: no strings: go nearer"},
			CoverNo, "gridded, but not scaled: no strings: go nearer", 1,
		},
		"one scaled of two": {
			register.Jacket{Number: "1", Stage: register.Mapped},
			[]Photo{of("setting", "1"), of("bone", "1"), of("gridded", "1"), scaled(of("gridded", "1"), "checker")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "there" + small50}, CoverYes, "every view required before jacketing is there", 0,
		},
		"a board without a word": {
			small(register.Jacket{Number: "1", Stage: register.Mapped}),
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("", "1"), "checker")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "there"}, CoverYes, "every view required before jacketing is there", 0,
		},
		"a board in the setting": {
			register.Jacket{Number: "1", Stage: register.Mapped},
			[]Photo{scaled(of("setting", "1"), "checker"), of("bone", "1")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "missing"}, CoverNo, "gridded missing", 1,
		},
		"a large block": {
			register.Jacket{Number: "1", Stage: register.Mapped, LengthCm: pointer(120)},
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("gridded", "1"), "checker")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "gridded, but by a checker only: a block of 120 cm wants a grid, whole in frame"},
			CoverNo, "gridded, but by a checker only: a block of 120 cm wants a grid, whole in frame", 1,
		},
		"a large block under a grid": {
			register.Jacket{Number: "1", Stage: register.Mapped, LengthCm: pointer(120)},
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("gridded", "1"), "grid")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "there"}, CoverYes, "every view required before jacketing is there", 0,
		},
		"a block 50 cm wide": {
			register.Jacket{Number: "1", Stage: register.Exposed, LengthCm: pointer(30), WidthCm: pointer(50)},
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("", "1"), "card")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "gridded, but by a card only: a block of 50 cm wants a grid, whole in frame"},
			CoverNo, "gridded, but by a card only: a block of 50 cm wants a grid, whole in frame", 0,
		},
		"a large block, a board, waived": {
			register.Jacket{Number: "1", Stage: register.Mapped, LengthCm: pointer(120), Waivers: rain},
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("gridded", "1"), "bar")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "waived: rain, AB"}, CoverYes, "gridded waived: rain, AB", 0,
		},
		"a bar without a word": {
			register.Jacket{Number: "1", Stage: register.Mapped},
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("", "1"), "bar")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "missing; may be among this jacket's 1 photo with no view yet"}, CoverNo, "gridded missing; may be among this jacket's 1 photo with no view yet", 1,
		},
		"waived": {
			register.Jacket{Number: "1", Stage: register.Mapped, Waivers: rain},
			[]Photo{of("setting", "1"), of("bone", "1"), of("gridded", "1")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "waived: rain, AB"}, CoverYes, "gridded waived: rain, AB", 0,
		},
		"waived, but there": {
			small(register.Jacket{Number: "1", Stage: register.Mapped, Waivers: rain}),
			[]Photo{of("setting", "1"), of("bone", "1"), scaled(of("gridded", "1"), "checker")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "there"}, CoverYes, "every view required before jacketing is there", 0,
		},
		"among unsorted": {
			register.Jacket{Number: "1", Stage: register.Mapped},
			[]Photo{of("setting", "1"), of("", "1"), of("bone"), of(""), of("bone", "2"), unreadable(of("")), leftOut(of(""))},
			map[register.View]string{"setting": "there", "bone": "missing; may be among 2 unsorted photos, or 1 of this jacket's with no view yet", "gridded": "missing; may be among 2 unsorted photos, or 1 of this jacket's with no view yet"},
			CoverNo, "bone missing; may be among 2 unsorted photos, or 1 of this jacket's with no view yet; gridded missing; may be among 2 unsorted photos, or 1 of this jacket's with no view yet", 2,
		},
		"unreadable and left out": {
			register.Jacket{Number: "1", Stage: register.Found},
			[]Photo{unreadable(of("setting", "1")), leftOut(of("setting", "1"))},
			map[register.View]string{"setting": "missing"}, CoverNo, "setting missing; bone missing; gridded missing", 1,
		},
		"lifted": {
			register.Jacket{Number: "1", Stage: register.Lifted},
			[]Photo{of("setting", "1"), of("bone", "1")},
			map[register.View]string{"setting": "there", "bone": "there", "gridded": "missing", "jacketed": "missing", "underside": "missing"},
			CoverDone, "its stage is lifted", 3,
		},
		"a vial": {
			register.Jacket{Number: "1", Stage: register.Lifted, Kind: register.Vial}, nil,
			map[register.View]string{"setting": "missing"}, CoverNoPoint, "a vial needs no plaster jacket", 1,
		},
		"a box": {
			register.Jacket{Number: "1", Stage: register.Lifted, Kind: register.Box}, []Photo{of("setting", "1")},
			map[register.View]string{"setting": "there", "bone": "missing"}, CoverNoPoint, "a box needs no plaster jacket", 1,
		},
		"left in ground": {
			register.Jacket{Number: "1", Stage: register.Mapped, Kind: register.LeftInGround}, []Photo{of("setting", "1")},
			map[register.View]string{"setting": "there"}, CoverNoPoint, "a find left in the ground needs no plaster jacket", 0,
		},
	} {
		r := Check(registerOf(c.jacket), c.photos)
		j := r.Jackets[0]
		got := map[register.View]string{}
		for _, v := range j.Views {
			if v.State != NotDue {
				got[v.View] = v.Text
			} else if v.Due || !strings.HasPrefix(v.Text, "not required before ") {
				t.Errorf("%s, %s: not due, %q", name, v.View, v.Text)
			}
		}
		if diff := cmp.Diff(c.want, got); diff != "" {
			t.Errorf("%s: (-want +got):\n%s", name, diff)
		}
		if j.Cover != c.cover || j.CoverReason != c.reason {
			t.Errorf("%s: ready to cover %s (%s), want %s (%s)", name, j.Cover, j.CoverReason, c.cover, c.reason)
		}
		if len(j.Lacks()) != c.lacks || r.Incomplete() != (c.lacks > 0) {
			t.Errorf("%s: lacks %d, incomplete %v, want %d", name, len(j.Lacks()), r.Incomplete(), c.lacks)
		}
	}
}

func TestTheSeasonSaysWhatIsDue(t *testing.T) {
	reg := registerOf(register.Jacket{Number: "1", Stage: register.Covered})
	reg.Season.Due = []register.DueView{{View: register.ViewClose, Stage: register.Found}, {View: register.ViewJacketed, Stage: register.Flipped}}
	j := Check(reg, nil).Jackets[0]
	if len(j.Views) != 2 || j.Views[0].State != Missing || j.Views[1].State != NotDue || j.Views[1].Text != "not required before flipped" {
		t.Errorf("%+v", j.Views)
	}
	reg.Season.Due = nil
	if r := Check(reg, nil); r.Incomplete() || len(r.Jackets[0].Views) != 0 {
		t.Error("a season that asks for nothing is incomplete")
	}
}

func TestTheDiaryMakesAViewDue(t *testing.T) {
	reg := registerOf(register.Jacket{Number: "1", Stage: register.Found})
	reg.Diary = []register.Entry{{Date: register.Date{Year: 2026, Month: 2, Day: 11}, Numbers: []string{"1"}, Stage: register.Mapped}}
	j := Check(reg, nil).Jackets[0]
	if j.Stage != register.Mapped || j.StageFrom != "diary, 2026-02-11" || len(j.Lacks()) != 3 {
		t.Errorf("%+v", j)
	}
}
