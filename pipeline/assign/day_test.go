package assign

import (
	"flag"
	"fmt"
	"math/rand/v2"
	"slices"
	"testing"

	"fieldjacket/pipeline/register"
)

var (
	days  = flag.Int("days", 300, "simulated days")
	first = flag.Int("first", 0, "number of the first of them")
)

// A day is an invented season's photos with the truth: which jackets each shows, nil for a photo of the landscape.
type day struct {
	*rand.Rand
	reg   *register.Register
	files []string
	truth [][]string
	taken map[string]bool
}

func (d *day) pick(of ...string) string { return of[d.IntN(len(of))] }

// numberings are the ways in which crews number; all of one season's jackets follow one, some follow two.
var numberings = []func(i int) string{
	func(i int) string { return fmt.Sprint(i) },
	func(i int) string { return fmt.Sprintf("%02d", i) },
	func(i int) string { return fmt.Sprintf("J%d", i) },
	func(i int) string { return fmt.Sprintf("K-%d", i) },
	func(i int) string { return fmt.Sprintf("QB-26-%02d", i) },
	func(i int) string { return fmt.Sprintf("%d%c", (i+1)/2, 'a'+i%2) },
	func(i int) string { return fmt.Sprintf("26/%d", i) },
	func(i int) string { return string(rune('A' + i - 1)) },
	func(i int) string { return fmt.Sprintf("10%d", i) },
	func(i int) string { return fmt.Sprintf("MB %d", i) },
}

func newDay(seed uint64) *day {
	d := &day{Rand: rand.New(rand.NewPCG(seed, 14)), reg: &register.Register{}, taken: map[string]bool{}}
	first, second := d.IntN(len(numberings)), d.IntN(len(numberings))
	mixed := d.IntN(3) == 0
	n := 4 + d.IntN(20)
	for i := 1; i <= n; i++ {
		if d.IntN(6) == 0 {
			continue // a gap in the numbers
		}
		number := numberings[first](i)
		if mixed && d.IntN(2) == 0 {
			number = numberings[second](i)
		}
		if _, twice := d.reg.Jacket(number); twice {
			continue
		}
		find := fmt.Sprintf("%s%d", d.pick("", "F", "0"), 1+d.IntN(n))
		j := register.Jacket{Number: number, Finds: []string{find}}
		if d.IntN(8) == 0 {
			j.Kind = register.Vial
		}
		d.reg.Jackets = append(d.reg.Jackets, j)
		if _, ok := d.reg.Find(find); !ok {
			d.reg.Finds = append(d.reg.Finds, register.Find{FieldNumber: find})
		}
	}
	if len(d.reg.Jackets) == 0 {
		return newDay(seed + 1e9)
	}
	for _, person := range []string{"ann", "ben", "Carla's phone", "photos of Dora", "J", "K", "phone of MB"}[:2+d.IntN(6)] {
		d.phone(person)
	}
	return d
}

func (d *day) add(file string, jackets ...string) {
	if d.taken[file] {
		return
	}
	d.taken[file] = true
	d.files = append(d.files, file)
	d.truth = append(d.truth, jackets)
}

// camera gives a phone's own name for its photo n.
func (d *day) camera(style, n, date int) string {
	return []string{
		fmt.Sprintf("IMG_%04d.JPG", n), fmt.Sprintf("IMG_%d.jpg", n), fmt.Sprintf("DSC_%04d.JPG", n), fmt.Sprintf("DSC%05d.JPG", n),
		fmt.Sprintf("PXL_202602%02d_%02d%02d%02d%03d.jpg", date, n%24, n%60, n%59, n), fmt.Sprintf("202602%02d_%06d.jpg", date, 90000+n),
		fmt.Sprintf("IMG-202602%02d-WA%04d.jpg", date, n), fmt.Sprintf("photo %d.jpg", n), fmt.Sprintf("%d.jpg", n),
		fmt.Sprintf("WhatsApp Image 2026-02-%02d at %d.%02d.%02d.jpeg", date, n%24, n%60, n%59), fmt.Sprintf("P10100%02d.JPG", n%100),
		fmt.Sprintf("2026-02-%02d %02d.%02d.%02d.jpg", date, n%24, n%60, n%59), fmt.Sprintf("Image (%d).jpg", n), fmt.Sprintf("GX01%04d.JPG", n),
	}[style]
}

// phone adds one person's photos, named and sorted by that person's habits. All phones count from 1 or thereabouts, so
// that names repeat between them and running numbers hit jackets' numbers.
func (d *day) phone(person string) {
	style, habit := d.IntN(14), d.IntN(13)
	date := 1 + d.IntN(28)
	n := 1 + d.IntN(6)
	for k := 0; k < 12; k++ {
		j := d.reg.Jackets[d.IntN(len(d.reg.Jackets))].Number
		other := d.reg.Jackets[d.IntN(len(d.reg.Jackets))].Number
		safe := func(s string) string { // what a file system takes
			return string(slices.DeleteFunc([]rune(s), func(c rune) bool { return c == '/' }))
		}
		view := string(register.Views[d.IntN(5)])
		from := len(d.files)
		for range 1 + d.IntN(4) {
			own := d.camera(style, n, date)
			n++
			switch habit {
			case 0: // not sorted
				d.add(person+"/"+own, j)
			case 1: // a folder per jacket
				d.add(person+"/"+safe(j)+"/"+own, j)
			case 2:
				d.add(person+"/jacket "+safe(j)+"/"+own, j)
			case 3: // a folder per view in the jacket's
				d.add(person+"/Jacket_"+safe(j)+"/"+view+"/"+own, j)
			case 4: // by day
				d.add(fmt.Sprintf("%s/2026-02-%02d/%s", person, date, own), j)
			case 5: // by year, month and day
				d.add(fmt.Sprintf("%s/2026/%02d/%02d/%s", person, 2, date, own), j)
			case 6: // by view, batch-renamed
				d.add(fmt.Sprintf("%s/%s_%d.jpg", person, view, n), j)
			case 7: // a number before the view, to keep the order
				d.add(fmt.Sprintf("%s/%02d_%s.jpg", person, n, view), j)
			case 8: // named after the jacket
				d.add(fmt.Sprintf("%s/jacket %s %s %d.jpg", person, safe(j), view, n), j)
			case 9: // batch-renamed: the number counts the photos
				d.add(fmt.Sprintf("%s/jacket %d.jpg", person, n), j)
			case 10: // the jacket's word, but the number written in another way
				d.add(fmt.Sprintf("%s/jacket %s/%s", person, d.pick("0"+safe(j), "J"+safe(j)+"x", safe(j)+"-2"), own), j)
			case 11: // a photo that shows two
				if j != other {
					d.add(person+"/"+safe(j)+"+"+safe(other)+"/"+own, j, other)
				}
			case 12: // put into the wrong person's folder of another jacket, with the right name
				d.add(person+"/jacket "+safe(other)+"/jacket "+safe(j)+" "+own, j)
			}
		}
		if len(d.files) > from && d.IntN(4) == 0 {
			d.words(person, from, j)
		}
		if d.IntN(3) == 0 { // the landscape, lunch
			d.add(person + "/" + d.camera(style, n, date))
			n++
		}
	}
}

// words writes a row of photos.csv on the photos from that one on.
func (d *day) words(person string, from int, jacket string) {
	if d.truth[from] == nil || len(d.truth[from]) > 1 || d.truth[len(d.truth)-1] == nil {
		return
	}
	w := register.PhotoWord{Photos: d.files[from], Jackets: []string{jacket}}
	switch d.IntN(4) {
	case 0: // the folder forgotten
		for i := len(w.Photos) - 1; i >= 0; i-- {
			if w.Photos[i] == '/' {
				w.Photos = w.Photos[i+1:]
				break
			}
		}
	case 1: // a slip of the pen
		w.Jackets = []string{jacket + "9"}
		if _, ok := d.reg.Jacket(w.Jackets[0]); ok {
			return
		}
	}
	var err error
	if w.Which, err = register.ParseWhich(w.Photos); err != nil {
		return
	}
	w.Row = len(d.reg.Words) + 2
	d.reg.Words = append(d.reg.Words, w)
}

// TestSimulatedDays: no photo gets a jacket that it does not show. How many are left to a person is a matter of comfort
// and only logged, but a half must be right, so that refusing everything does not pass.
func TestSimulatedDays(t *testing.T) {
	right, left, wrong, signed := 0, 0, 0, 0
	for seed := *first; seed < *first+*days; seed++ {
		d := newDay(uint64(seed))
		got, _ := Photos(d.reg, nil, d.files)
		for i, b := range got {
			switch {
			case len(b.Jackets) == 0:
				left++
			case sameSet(b.Jackets, d.truth[i]):
				right++
			default:
				wrong++
				if wrong <= 20 {
					t.Errorf("day %d, %s: %v (%s), truth %v", seed, d.files[i], b.Jackets, b.Reason, d.truth[i])
				}
			}
			if b.Reason == "" {
				t.Fatalf("day %d, %s: no reason", seed, d.files[i])
			}
			if b.Strength != None {
				signed++
			}
		}
	}
	t.Logf("%d days, %d photos: %d right, %d left to a person, %d WRONG; %d with some sign of a jacket", *days, right+left+wrong, right, left, wrong, signed)
	if right < (right+left)/5 {
		t.Errorf("only %d of %d photos settled", right, right+left)
	}
}

func FuzzNames(f *testing.F) {
	for _, file := range []string{"ann/jacket 14/IMG_0412.JPG", "14+15/é.jpg", "J14_gridded-.jpg", "find 7 and", "jackets 14, 15 and 7/-.-"} {
		f.Add(file, "14", "15", "7")
	}
	f.Fuzz(func(t *testing.T, file, a, b, find string) {
		reg := registerOf()
		for _, number := range []string{a, b} {
			if _, twice := reg.Jacket(number); number != "" && !twice {
				reg.Jackets = append(reg.Jackets, register.Jacket{Number: number, Finds: []string{find}})
			}
		}
		reg.Finds = append(reg.Finds, register.Find{FieldNumber: find})
		out := one(reg, file)
		for _, n := range append(slices.Clone(out.Jackets), out.Suggested...) {
			if _, ok := reg.Jacket(n); !ok {
				t.Fatalf("%q: jacket %q is not in the register", file, n)
			}
		}
		settled := out.Strength == ByName
		if settled != (len(out.Jackets) > 0) || out.Reason == "" {
			t.Fatalf("%q: %+v", file, out)
		}
	})
}
