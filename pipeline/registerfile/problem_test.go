package registerfile

import (
	"strings"
	"testing"

	"github.com/google/go-cmp/cmp"

	"fieldjacket/pipeline/register"
)

// TestProblems holds what a person is told, for every kind of fault, and that all faults come at once.
func TestProblems(t *testing.T) {
	for name, c := range map[string]struct {
		files map[string]string
		want  []string
	}{
		"compulsory cells": {
			map[string]string{"finds.csv": "field_number,date,what,by\n,2026-02-11,rib,AB\n2,,,AB\n"},
			[]string{
				`finds.csv row 2, field_number: is blank and must be filled in; this row is not used`,
				`finds.csv row 3, date: is blank and should be filled in`,
				`finds.csv row 3, what: is blank and should be filled in`,
			},
		},
		"row numbers as a spreadsheet shows them": {
			map[string]string{"finds.csv": "\nfield_number;date;what;by\n\n;;;\r\n1;2026-02-11;\"two\nlines\";AB\n\n2;11.2.2026;rib;AB\n"},
			[]string{`finds.csv row 7, date "11.2.2026": want a day as 2026-02-11; this cell is not used`},
		},
		"numbers": {
			map[string]string{"jackets.csv": "jacket,length_cm,width_cm,depth_cm,bone_cover_mm,weighed_kg\n1,60 cm,3E5,\"1,5\",-3,NaN\n"},
			[]string{
				`jackets.csv row 2, length_cm "60 cm": want a number of centimetres from 0.1 to 2000, without the unit; this cell is not used`,
				`jackets.csv row 2, width_cm "3E5": want a number of centimetres from 0.1 to 2000, without the unit; this cell is not used`,
				`jackets.csv row 2, depth_cm "1,5": want a decimal point, since commas separate the cells of this sheet; this cell is not used`,
				`jackets.csv row 2, bone_cover_mm "-3": want a number of millimetres from 0 to 2000, without the unit; this cell is not used`,
				`jackets.csv row 2, weighed_kg "NaN": want a number of kilograms from 0.001 to 50000, without the unit; this cell is not used`,
			},
		},
		"words": {
			map[string]string{"jackets.csv": "jacket,kind,stage,pieces,waiver\n1,crate,mappd,3 of 2,\"gridded: rain; wide: rain, AB; bone rain AB\"\n"},
			[]string{
				`jackets.csv row 2, kind "crate": want one of jacket, bag, vial, foil, box, sack, sample, left in ground; this cell is not used`,
				`jackets.csv row 2, stage "mappd": want one of found, exposed, mapped, jacketed, flipped, capped, lifted, loaded, received, opened; this cell is not used`,
				`jackets.csv row 2, waiver "gridded: rain": want a view, the reason and who waives it, such as gridded: rain, AB; this cell is not used`,
				`jackets.csv row 2, waiver "wide: rain, AB": no such view: want one of setting, bone, gridded, jacketed, underside, close, ends, joint, section, loading, received, opened; this cell is not used`,
				`jackets.csv row 2, waiver "bone rain AB": want a view, the reason and who waives it, such as gridded: rain, AB; this cell is not used`,
				`jackets.csv row 2, pieces "3 of 2": want a piece of how many, such as 2 of 3; this cell is not used`,
			},
		},
		"set-ups": {
			map[string]string{
				"jackets.csv": "jacket\n1\n",
				"setups.csv":  "setup;jackets;cells;depth_to_bone_cm;tape_check\nS1;1;ten;\"8; C4 11\";A1 to F6\nS2;01;10x10;deep;A1, F6, far\n",
			},
			[]string{
				`setups.csv row 2, tape_check "A1 to F6": want from, to and millimetres, such as A1, F6, 707; this cell is not used`,
				`setups.csv row 2, cells "ten": want squares across and down, such as 10x10; this cell is not used`,
				`setups.csv row 2, depth_to_bone_cm "8": want one depth, such as 8, or each square with its own, such as B3 8; C4 11; this cell is not used`,
				`setups.csv row 3, tape_check "A1, F6, far": want from, to and millimetres, such as A1, F6, 707; this cell is not used`,
				`setups.csv row 3, depth_to_bone_cm "deep": want a number of centimetres from 0 to 300, without the unit; this cell is not used`,
				`setups.csv row 3, jackets "01": no such jacket in the register; it looks like 1: write the number in the same way everywhere; this cell is not used`,
			},
		},
		"a frame's diagonals": {
			map[string]string{
				"jackets.csv": "jacket\n1\n",
				"setups.csv":  "setup;jackets;diagonal_1_cm;diagonal_2_cm\nS1;1;141.2;\nS2;1;141.2;41.4\nS3;1;141.2;140.6\n",
			},
			[]string{
				`setups.csv row 2, diagonal_1_cm "141.2": want both diagonals of the frame: one alone does not tell its shape; this cell is not used`,
				`setups.csv row 3, diagonal_2_cm "41.4": grid's diagonals of 141.2 and 41.4 cm: want two of nearly one length; this cell is not used`,
			},
		},
		"diary": {
			map[string]string{
				"jackets.csv": "jacket\n14\n",
				"diary.csv":   "date,numbers,what,by,time,stage\nyesterday,14,x,AB,,\n2026-02-11,,x,AB,,\n2026-02-11,14-17,x,AB,25:00,done\n",
			},
			[]string{
				`diary.csv row 2, date "yesterday": want a day as 2026-02-11; this row is not used`,
				`diary.csv row 3, numbers: is blank: want the jackets' or finds' numbers, or all; this row is not used`,
				`diary.csv row 4, time "25:00": want a time of day as 14:05; this cell is not used`,
				`diary.csv row 4, stage "done": want one of found, exposed, mapped, jacketed, flipped, capped, lifted, loaded, received, opened; this cell is not used`,
				`diary.csv row 4, numbers "14-17": no such jacket or find in the register; this cell is not used`,
			},
		},
		"numbers of other sheets": {
			map[string]string{
				"finds.csv":      "field_number,date,what,by,locality\n7,2026-02-11,rib,AB,L2\n07,2026-02-11,claw,AB,L1\n7,2026-02-12,rib again,AB,L1\n",
				"localities.csv": "locality\nL1\n",
				"jackets.csv":    "jacket,finds,stage\nJO,8;007,mapped\nJ0,,\n7,07,\n",
				"photos.csv":     "photos,jackets,setup,view,chosen\nIMG_1,9,S9,grided,maybe\n[x,J0,,,\nIMG_9-3,J0,,,\nIMG_31-04,J0,,,\n",
				"diary.csv":      "date,numbers,what,by,stage\n2026-02-11,JO,x,AB,exposed\n",
			},
			[]string{
				`finds.csv row 4, field_number "7": row 2 has the same number: want each number once; this row is not used`,
				`photos.csv row 2, chosen "maybe": want one of yes, no; this cell is not used`,
				`photos.csv row 2, view "grided": want one of setting, bone, gridded, jacketed, underside, close, ends, joint, section, loading, received, opened; this cell is not used`,
				`photos.csv row 3, photos "[x": want a wildcard of *, ? and closed [...], such as ann/IMG_04*; this row is not used`,
				`photos.csv row 4, photos "IMG_9-3": the range runs backwards: want the lower number first, IMG_3-9; this row is not used`,
				`photos.csv row 5, photos "IMG_31-04": the range runs backwards: want the lower number first, IMG_04-31; this row is not used`,
				`finds.csv row 2, locality "L2": no such locality in the register; this cell is not used`,
				`finds.csv row 3, field_number "07": 7 and 07 are both in this sheet and are easily taken for each other`,
				`jackets.csv row 2, finds "8": no such find in the register; this cell is not used`,
				`jackets.csv row 2, finds "007": no such find in the register; it looks like 7 and 07: write the number in the same way everywhere; this cell is not used`,
				`jackets.csv row 2, stage "mapped": the last stage in the diary is exposed (diary, 2026-02-11), and the diary counts: write the step into the diary too`,
				`jackets.csv row 3, jacket "J0": JO and J0 are both in this sheet and are easily taken for each other`,
				`jackets.csv row 4, finds "07": find 7 is not in the jacket of the same number: a name with 7 alone in it does not tell which is meant`,
				`photos.csv row 2, jackets "9": no such jacket in the register; this cell is not used`,
				`photos.csv row 2, setup "S9": no such set-up in the register; this cell is not used`,
			},
		},
		"heads": {
			map[string]string{
				"finds.csv":   "Field Number,what,by,what\n1,rib,AB,rib too\n",
				"jackets.csv": "number,finds\n1,1\n",
				"diary.csv":   "date,what,by\n2026-02-11,x,AB\n",
			},
			[]string{
				`finds.csv row 1, what: the column is there twice: the first counts; this cell is not used`,
				`finds.csv row 1, date: the column is missing; this cell is not used`,
				`jackets.csv row 1, jacket: the column is missing: want heads such as jacket, finds, kind, stage; this file is not used`,
				`diary.csv row 1, numbers: the column is missing; this cell is not used`,
			},
		},
		"shifted and broken rows": {
			map[string]string{"finds.csv": "field_number,date,what,by\n1,2026-02-11,femur, left,AB\n2,2026-02-11,\"rib,AB\n3,2026-02-11,14\" claw,AB\n4,2026-02-11,\"a \"\"good\"\" one\",AB\n5,2026-02-11,S\xe1enz,AB\n"},
			[]string{
				`finds.csv row 2 "AB": more cells than the head row's 4: a text with a separator in it must stand in quotation marks; this row is not used`,
				`finds.csv row 3 "2,2026-02-11,\"rib,AB": a quotation mark is out of place: want a cell with quotation marks as "14"" wide"; this row is not used`,
				`finds.csv row 4 "3,2026-02-11,14\" claw,AB": a quotation mark is out of place: want a cell with quotation marks as "14"" wide"; this row is not used`,
				`finds.csv row 6, what "S?enz": is not UTF-8 text: save the sheet as "CSV UTF-8", not as plain CSV; this cell is not used`,
			},
		},
		"other formats": {
			map[string]string{"finds.csv": "PK\x03\x04 and so on", "jackets.csv": "j\x00a\x00c\x00k\x00e\x00t\x00", "finds.txt": "field_number\n", "notes.txt": "rain\n", "register.xlsx": "PK\x03\x04"},
			[]string{
				`finds.txt: is not read: call it finds.csv if it is the sheet, or move it out of the folder`,
				`register.xlsx: cannot be read: zip: not a valid zip file: open it, save it as .xlsx again, or save each sheet as CSV UTF-8; this file is not used`,
				`finds.csv: is a workbook under another name: call it register.xlsx, or save the sheet as CSV UTF-8; this file is not used`,
				`jackets.csv: is not UTF-8 text: save the sheet as "CSV UTF-8", not as plain CSV; this file is not used`,
			},
		},
		"half a character of UTF-16": {
			map[string]string{"finds.csv": "\xff\xfe" + wide("field_number\tdate\twhat\tby\n1\t2026-02-11\tr\xc3\xb6d ") + "\x3d\xd8" + wide("\tAB\n2\t2026-02-11\trib\tAB\n")},
			[]string{
				`finds.csv row 2, what "röd ?": is not UTF-8 text: save the sheet as "CSV UTF-8", not as plain CSV; this cell is not used`,
			},
		},
		"no finds": {
			map[string]string{"finds.csv": ""},
			[]string{`finds.csv: is missing or empty: want the sheet of finds, even with its head row only`},
		},
	} {
		t.Run(name, func(t *testing.T) {
			if diff := cmp.Diff(c.want, complaints(read(t, c.files))); diff != "" {
				t.Errorf("(-want +got):\n%s", diff)
			}
		})
	}
}

func TestABadRowCostsThatRow(t *testing.T) {
	r := read(t, map[string]string{"finds.csv": "field_number,date,what,by\n1,2026-02-11,\"rib,AB\n2,2026-02-11,claw,AB\n3,2026-02-11,a,b,c,d\n4,2026-02-11,\"two\nlines\",AB\n"})
	var got []string
	for _, f := range r.Finds {
		got = append(got, f.FieldNumber+" "+f.What)
	}
	if diff := cmp.Diff([]string{"2 claw", "4 two\nlines"}, got); diff != "" {
		t.Errorf("(-want +got):\n%s", diff)
	}
}

func TestSheetsAsSpreadsheetsSaveThem(t *testing.T) {
	want := []register.Find{{Row: 2, FieldNumber: "1", Date: register.Date{Year: 2026, Month: 2, Day: 11}, What: "rib, left", By: "AB", DipDeg: pointer(12.5), Formerly: []string{"a", "b"}}}
	for name, text := range map[string]string{
		"commas":                "field_number,date,what,by,dip_deg,formerly\n1,2026-02-11,\"rib, left\",AB,12.5,a; b\n",
		"semicolons":            "field_number;date;what;by;dip_deg;formerly\n1;2026-02-11;rib, left;AB;12,5;\"a; b\"\n",
		"semicolons, a point":   "field_number;date;what;by;dip_deg;formerly\n1;2026-02-11;rib, left;AB;12.5;\"a; b\"\n",
		"mark at the beginning": "\ufefffield_number,date,what,by,dip_deg,formerly\r\n1,2026-02-11,\"rib, left\",AB,12.5,a;b\r\n",
		"mark and quotes":       "\ufeff\"field_number\",\"date\",\"what\",\"by\",\"dip_deg\",\"formerly\"\r\n\"1\",\"2026-02-11\",\"rib, left\",\"AB\",\"12.5\",\"a;b\"\r\n",
		"carriage returns":      "field_number,date,what,by,dip_deg,formerly\r1,2026-02-11,\"rib, left\",AB,12.5,a;b\r",
		"another order":         "by,formerly,dip_deg,what,date,field_number\nAB,a;b,12.5,\"rib, left\",2026-02-11,1",
		"empty columns":         "field_number,date,what,by,dip_deg,formerly,,\n1,2026-02-11,\"rib, left\",AB,12.5,a;b,,,,\n,,,,,,,\n",
		"spaces":                " Field_Number , date,what,BY,dip_deg,formerly\n  1 ,2026-02-11 ,\"rib, left\",AB,12.5, a ;b;\n",
	} {
		r := read(t, map[string]string{"finds.csv": text})
		if diff := cmp.Diff(want, r.Finds); diff != "" || r.Problems != nil {
			t.Errorf("%s: (-want +got):\n%s\n%s", name, diff, strings.Join(complaints(r), "\n"))
		}
	}
}
