package paperwork

import (
	_ "embed"
	"fmt"
	"html/template"
	"io"
	"path"
	"slices"
	"strings"

	"fieldjacket/pipeline/audit"
)

//go:embed day.html
var dayHTML string

var dayPage = template.Must(template.New("day").Funcs(template.FuncMap{"path": softPath}).Parse(dayHTML))

// softPath lets a long path break behind its slashes and underscores instead of within a word.
func softPath(file string) template.HTML {
	safe := template.HTMLEscapeString(file)
	return template.HTML(strings.NewReplacer("/", "/<wbr>", "_", "_<wbr>").Replace(safe)) //nolint:gosec // escaped above
}

// WriteDay writes a day's page: one HTML file of at most [mostPageBytes] that needs nothing else, for a phone, for the screen in
// camp and for a printer. Its boxes can be ticked without scripts. What is meant by a mark is always a word, never a colour.
func WriteDay(w io.Writer, d Day) error {
	if d.Date.IsZero() {
		return fmt.Errorf("page of a day without a date")
	}
	d = printable(d, d.Season)
	view, err := pageOf(d)
	if err != nil {
		return err
	}
	return dayPage.Execute(w, view)
}

// A dayView is what the template shows.
type dayView struct {
	Day
	dayJackets
	Counts      string
	Unsorted    []audit.Loose
	Conflicts   []audit.Loose
	Others      []refusedView // this day's refused photos that no jacket's fix tells of
	Unreadable  []audit.Loose
	Strip       []thumb
	Pictureless string // how many small pictures had no room
}

// A refusedView is a refused photo with its picture; nil: there is none, or no room.
type refusedView struct {
	Refused
	Picture *picture
}

// dayJackets are the jackets by their standing.
type dayJackets struct {
	Fix, OnItsWay, Ready, Closed, Packed, Late []jacketView
	NoJackets                                  bool
}

// A jacketView is what is said of one jacket.
type jacketView struct {
	Number, Word, Lacks, Also string
	Fixes                     []fixView
}

type fixView struct {
	Key, Why, Do string
	Picture      *picture
}

func pageOf(d Day) (v dayView, err error) {
	told := d.told()
	album := newAlbum(d.Seen)
	v = dayView{
		Day: d, Unsorted: audit.Untold(d.Report.Unsorted, told), Conflicts: audit.Untold(d.Report.Conflicts, d.Report.Told()),
		Unreadable: audit.Untold(d.Report.Unreadable, told),
		Counts:     fmt.Sprintf("%s taken this day; in the season %d unsorted, %d unreadable", counted(d.Photos, "photo"), len(d.Report.Unsorted), len(d.Report.Unreadable)),
	}
	for _, l := range v.Unreadable {
		told[l.File] = true
	}
	if v.dayJackets, err = jacketsOf(d.Report, album); err != nil {
		return v, err
	}
	for _, r := range d.Refused {
		if !told[r.File] {
			told[r.File] = true
			p, err := album.picture(r.File)
			if err != nil {
				return v, err
			}
			v.Others = append(v.Others, refusedView{r, p})
		}
	}
	v.Strip, v.Pictureless, err = strip(d.Shots, album)
	return v, err
}

// jacketsOf sorts the jackets by their standing, the worst first.
func jacketsOf(report audit.Report, album *album) (out dayJackets, err error) {
	out.NoJackets = len(report.Jackets) == 0
	for _, j := range report.WorstFirst() {
		view := jacketView{Number: j.Number, Also: alsoOf(j)}
		switch j.Standing {
		case audit.CanBeFixed:
			view.Word, view.Lacks = "NOT READY", j.LacksText()
			if j.Cover != audit.CoverNo && j.Cover != audit.CoverYes {
				view.Word = "INCOMPLETE"
			}
			for i, f := range j.Fixes {
				one := fixView{Key: fmt.Sprintf("%s %d %s %s", j.Number, i, f.View, f.Photo), Do: f.Do, Why: whyOf(f)}
				if one.Picture, err = album.picture(f.Photo); err != nil {
					return out, err
				}
				view.Fixes = append(view.Fixes, one)
			}
			out.Fix = append(out.Fix, view)
		case audit.OnItsWay:
			view.Lacks = audit.ListViews(j.StillToTake())
			out.OnItsWay = append(out.OnItsWay, view)
		case audit.Ready:
			out.Ready = append(out.Ready, view)
		case audit.Closed:
			out.Closed = append(out.Closed, view)
		default:
			out.Packed = append(out.Packed, view)
		}
		if late := j.TooLate(); len(late) > 0 {
			out.Late = append(out.Late, jacketView{Number: j.Number, Lacks: audit.ListViews(late)})
		}
	}
	return out, nil
}

// whyOf names the photo that was meant and why it does not count.
func whyOf(f audit.Fix) string {
	if f.Photo == "" || f.Why == "" {
		return f.Why
	}
	return path.Base(f.Photo) + ": " + f.Why
}

// alsoOf is what else is said of a jacket: stage, photos, waivers, earlier numbers, what is in it.
func alsoOf(j audit.Jacket) string {
	stage := "stage " + notRecorded
	if j.Stage != "" {
		stage = string(j.Stage)
	}
	parts := []string{stage, counted(j.Photos, "photo")}
	for _, v := range j.Views {
		if v.State == audit.Waived {
			parts = append(parts, fmt.Sprintf("%s %s", v.View, v.Text))
		}
	}
	if len(j.Formerly) > 0 {
		parts = append(parts, "formerly "+strings.Join(j.Formerly, ", "))
	}
	if j.From != "" {
		parts = append(parts, "carried over: "+j.From)
	}
	if len(j.Finds) > 0 && !slices.Equal(j.Finds, []string{j.Number}) {
		parts = append(parts, "holds "+strings.Join(j.Finds, ", "))
	}
	if j.Cover == audit.CoverNoPoint {
		parts = append(parts, j.CoverReason)
	}
	return strings.Join(parts, "; ")
}
