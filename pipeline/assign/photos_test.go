package assign

import (
	"strings"
	"testing"

	"fieldjacket/pipeline/register"
)

// registerOf makes a register of jackets written "number" or "number: find, find" or "number (kind)".
func registerOf(jackets ...string) *register.Register {
	reg := &register.Register{}
	for _, text := range jackets {
		number, finds, _ := strings.Cut(text, ": ")
		number, kind, _ := strings.Cut(strings.TrimSuffix(number, ")"), " (")
		j := register.Jacket{Number: number, Kind: register.Package(kind)}
		for f := range strings.SplitSeq(finds, ", ") {
			if f == "" {
				continue
			}
			j.Finds = append(j.Finds, f)
			if _, ok := reg.Find(f); !ok {
				reg.Finds = append(reg.Finds, register.Find{FieldNumber: f})
			}
		}
		reg.Jackets = append(reg.Jackets, j)
	}
	return reg
}

// say adds a row to photos.csv.
func say(t interface{ Fatal(...any) }, reg *register.Register, w register.PhotoWord) {
	var err error
	if w.Which, err = register.ParseWhich(w.Photos); err != nil {
		t.Fatal(err)
	}
	w.Row = len(reg.Words) + 2
	reg.Words = append(reg.Words, w)
}

func one(reg *register.Register, file string) Belongs {
	b, _ := Photos(reg, nil, []string{file})
	return b[0]
}

// TestNames: what a path alone says. want "" is nothing settled; then strength says how.
func TestNames(t *testing.T) {
	many := []string{"14", "15", "16", "7", "J30", "BD-26-07", "14a", "Daisy", "2026", "vial 3", "K7"}
	for _, c := range []struct {
		jackets  []string
		file     string
		want     string
		strength Strength
	}{
		// A folder with the number, alone or behind the word.
		{many, "ann/14/IMG_0412.JPG", "14", ByName},
		{many, "ann/jacket 14/IMG_0412.JPG", "14", ByName},
		{many, "ann/Jacket_14/IMG_0412.JPG", "14", ByName},
		{many, "ann/jacket14/IMG_0412.JPG", "14", ByName},
		{many, "ann/jkt-14/IMG_0412.JPG", "14", ByName},
		{many, "J14_gridded/IMG_0412.JPG", "14", ByName},
		{many, "14/gridded/IMG_0412.JPG", "14", ByName},
		{many, "J30/IMG_0412.JPG", "J30", ByName},
		{many, "j30_gridded/IMG_0412.JPG", "J30", ByName},
		{many, "ann/BD-26-07/IMG_0412.JPG", "BD-26-07", ByName},
		{many, "ann/14a/IMG_0412.JPG", "14a", ByName},
		{many, "2026-02-11/14/IMG_0412.JPG", "14", ByName},
		{many, "11.02.2026/14/IMG_0412.JPG", "14", ByName},
		{many, "jacket Daisy/IMG_0412.JPG", "Daisy", ByName},
		// A file name.
		{many, "ann/jacket 14 gridded.jpg", "14", ByName},
		{many, "ann/IMG_0015 jacket 14.jpg", "14", ByName},
		{many, "ann/IMG_0015-jacket-14.jpg", "14", ByName},
		{many, "ann/BD-26-07_gridded.jpg", "BD-26-07", ByName},
		{many, "ann/2026-02-11_K7 bone.jpg", "K7", ByName},
		{many, "ann/K7-gridded.jpg", "K7", ByName},
		{many, "ann/jacket 14 (2).jpg", "14", ByName},
		{many, "ann/jacket 14 gridded 15.jpg", "14", ByName},
		// The running numbers of cameras, phones, chat programs and exports never count.
		{many, "ann/IMG_0014.JPG", "", None},
		{many, "ann/IMG_14.JPG", "", None},
		{many, "ann/IMG-14.JPG", "", None},
		{many, "ann/IMG 14.JPG", "", None},
		{many, "ann/IMG_0007.JPG", "", None},
		{many, "ann/DSC00014.JPG", "", None},
		{many, "ann/DSC_0014.JPG", "", None},
		{many, "ann/PXL_20260214_141516007.jpg", "", None},
		{many, "ann/20260214_141516.jpg", "", None},
		{many, "ann/20260214_14.jpg", "", None},
		{many, "ann/2026-02-14 14.15.16.jpg", "", None},
		{many, "ann/IMG-20260214-WA0014.jpg", "", None},
		{many, "ann/IMG-20260214-WA14.jpg", "", None},
		{many, "ann/photo 14.jpg", "", None},
		{many, "ann/photo_14_2026-02-14.jpg", "", None},
		{many, "ann/14.jpg", "", None},
		{many, "ann/(14).jpg", "", None},
		{many, "ann/jacket (14).jpg", "", None},
		{many, "ann/J14.jpg", "", None}, // J's photo 14
		{many, "P1010014.JPG", "", None},
		{[]string{"IMG_0014", "WA0014", "14"}, "ann/IMG_0014.JPG", "", None},
		{[]string{"IMG_0014", "WA0014", "14"}, "ann/IMG-20260214-WA0014.jpg", "", None},
		// Nor do days, months, years and camera folders.
		{many, "2026/02/14/IMG_0412.JPG", "", Suggested},
		{many, "2026-02/14/IMG_0412.JPG", "", Suggested},
		{many, "February/14/IMG_0412.JPG", "", Suggested},
		{many, "02/14/IMG_0412.JPG", "", Suggested},
		{many, "day 14/IMG_0412.JPG", "", Suggested},
		{many, "14 Feb/IMG_0412.JPG", "", Suggested},
		{many, "2026/IMG_0412.JPG", "", Suggested},
		{many, "2026-02-14/IMG_0412.JPG", "", None},
		{many, "14.02.2026/IMG_0412.JPG", "", None},
		{[]string{"100"}, "DCIM/100/IMG_0412.JPG", "", Suggested},
		{[]string{"100"}, "DCIM/100APPLE/IMG_0412.JPG", "", None},
		// A bare number beside a view may be an order or a count.
		{many, "14 gridded/IMG_0412.JPG", "", Suggested},
		{many, "gridded 14/IMG_0412.JPG", "", Suggested},
		{many, "ann/14_gridded.jpg", "", Suggested},
		{many, "ann/gridded_14.jpg", "", Suggested},
		// Numbers that look alike settle nothing.
		{many, "07/IMG_0412.JPG", "", Suggested},
		{many, "jacket 07/IMG_0412.JPG", "", Suggested},
		{many, "J3O/IMG_0412.JPG", "", Suggested},
		{many, "J-30/IMG_0412.JPG", "", Suggested},
		{many, "K07_gridded/IMG_0412.JPG", "", Suggested},
		{many, "BD-26-7/IMG_0412.JPG", "", Suggested},
		{[]string{"7", "07"}, "7/IMG_0412.JPG", "", Conflict},
		{[]string{"7", "07"}, "jacket 07/IMG_0412.JPG", "", Conflict},
		// A part of a number is not the number.
		{many, "jacket 14b/IMG_0412.JPG", "", None},
		{many, "jacket 14-17/IMG_0412.JPG", "", None},
		{many, "jacket 14.2/IMG_0412.JPG", "", None},
		{many, "BD-26-07-2/IMG_0412.JPG", "", None},
		{many, "X-K7/IMG_0412.JPG", "", None},
		{many, "K71/IMG_0412.JPG", "", None},
		{many, "114/IMG_0412.JPG", "", None},
		// Words that may be people's names.
		{many, "Daisy/IMG_0412.JPG", "", Suggested},
		{many, "Daisy's phone/IMG_0412.JPG", "", None},
		// Lists.
		{many, "14+15/IMG_0412.JPG", "14+15", ByName},
		{many, "jackets 14 & 15/IMG_0412.JPG", "14+15", ByName},
		{many, "jacket 14, 15 and 16/IMG_0412.JPG", "14+15+16", ByName},
		{many, "ann/14+15_gridded.jpg", "14+15", ByName},
		{many, "99+K7/IMG_0412.JPG", "", Suggested},
		{many, "99 and K7/IMG_0412.JPG", "", Suggested},
		{many, "99, K7 & 15/IMG_0412.JPG", "", Suggested},
		{many, "2026-02-11, K7/IMG_0412.JPG", "K7", ByName},
		{many, "14+99/IMG_0412.JPG", "", Suggested},
		// Contradictions.
		{many, "jacket 14/jacket 15.jpg", "", Conflict},
		{many, "jacket 14/15/IMG_0412.JPG", "", Conflict},
		{many, "14/J15_gridded.jpg", "", Conflict},
		{many, "jacket 14 jacket 15/IMG_0412.JPG", "", Conflict},
		{many, "jacket 14/jacket 14+15.jpg", "", Conflict},
		{many, "jacket 14/jacket 99.jpg", "", Conflict},
		{many, "jacket 14/J-30 bone.jpg", "", Conflict},
		{many, "jacket 14/jacket 14 bone.jpg", "14", ByName},
		// Other packages.
		{many, "vial 3/IMG_0412.JPG", "vial 3", ByName},
		{[]string{"3 (vial)", "vial 3"}, "vial 3/IMG_0412.JPG", "", None},
		{[]string{"3 (vial)", "14"}, "vial 3/IMG_0412.JPG", "3", ByName},
		{[]string{"3 (bag)", "14"}, "vial 3/IMG_0412.JPG", "", Suggested},
		{[]string{"3 (vial)", "14"}, "bag 14/IMG_0412.JPG", "", Suggested},
		// Finds.
		{[]string{"A: 7, 8", "B: 8, 9"}, "find 7/IMG_0412.JPG", "A", ByName},
		{[]string{"A: 7, 8", "B: 8, 9"}, "7/IMG_0412.JPG", "A", ByName},
		{[]string{"A: 7, 8", "B: 8, 9"}, "ann/find 9 bone.jpg", "B", ByName},
		{[]string{"A: 7, 8", "B: 8, 9"}, "find 8/IMG_0412.JPG", "", Suggested},
		{[]string{"A: 7, 8", "B: 8, 9"}, "jacket B/find 8/IMG_0412.JPG", "B", ByName},
		{[]string{"A: 7, 8", "B: 8, 9"}, "jacket B/find 7/IMG_0412.JPG", "", Conflict},
		{[]string{"A: 7, 8", "B: 8, 9"}, "find 70/IMG_0412.JPG", "", None},
		{[]string{"A: 7, 8", "B: 8, 9"}, "ann/IMG_0007.JPG", "", None},
		{[]string{"A: 7, 8", "B: 8, 9"}, "ann/7.JPG", "", None},
		{[]string{"7: 9", "8: 7"}, "7/IMG_0412.JPG", "", Suggested},
		{[]string{"7: 9", "8: 7"}, "jacket 7/IMG_0412.JPG", "7", ByName},
		{[]string{"7: 9", "8: 07"}, "07/IMG_0412.JPG", "", Suggested},
	} {
		b := one(registerOf(c.jackets...), c.file)
		if got := strings.Join(b.Jackets, "+"); got != c.want || b.Strength != c.strength || b.Reason == "" {
			t.Errorf("%s: jackets %q, %s (%s), suggested %v; want %q, %s", c.file, got, b.Strength, b.Reason, b.Suggested, c.want, c.strength)
		}
	}
}

func TestViews(t *testing.T) {
	reg := registerOf("14")
	for _, c := range []struct {
		file  string
		want  register.View
		clash bool
	}{
		{"14/gridded/IMG_0412.JPG", register.ViewGridded, false},
		{"14/Bone/IMG_0412.JPG", register.ViewBone, false},
		{"ann/J14_underside.jpg", register.ViewUnderside, false},
		{"ann/jacket 14 close-up.jpg", register.ViewClose, false},
		{"ann/bone_1.jpg", register.ViewBone, false},
		{"ann/bone/J14 bone.jpg", register.ViewBone, false},
		{"14/IMG_0412.JPG", "", false},
		{"14/bones/IMG_0412.JPG", "", false},
		{"14/backbone/IMG_0412.JPG", "", false},
		{"jacket 14/IMG_0412.JPG", "", false},
		{"14/gridded/J14_bone.jpg", "", true},
	} {
		b := one(reg, c.file)
		if b.View != c.want || b.ViewConflict != c.clash || (b.ViewFrom == "") != (c.want == "" && !c.clash) {
			t.Errorf("%s: view %q, conflict %v (%s); want %q, %v", c.file, b.View, b.ViewConflict, b.ViewFrom, c.want, c.clash)
		}
	}
}
