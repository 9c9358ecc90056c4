package geotag

import (
	"cmp"
	"errors"
	"fmt"
	"maps"
	"slices"

	"fieldjacket/pipeline/assign"
	"fieldjacket/pipeline/folder"
	"fieldjacket/pipeline/locate"
	"fieldjacket/pipeline/phones"
	"fieldjacket/pipeline/record"
	"fieldjacket/pipeline/register"
)

const fromPhone = "the phone"

// How far from what it shows a photo may be taken before it is told of, beyond what both positions are uncertain by (common
// practice, no source): a setting is photographed from across a gully, a locality is a slope.
const (
	farFromFindM     = 200
	farFromLocalityM = 2000
)

// A Notice is one sentence about the season's phones, tracks and places that a person may want to look into.
type Notice struct {
	Days []string // on whose pages it stands, "2026-02-11"; nil: on all
	Text string
}

// OnDay is what a day's page tells of phones, tracks and places.
func OnDay(day string, perDay []phones.Count, all []Notice) (took []phones.Count, notices []string) {
	for _, c := range perDay {
		if c.Day == day {
			took = append(took, c)
		}
	}
	for _, n := range all {
		if n.Days == nil || slices.Contains(n.Days, day) {
			notices = append(notices, n.Text)
		}
	}
	return took, notices
}

// Times gives every photo its time, and tells of clocks that are wrong, with the phones whose times are in doubt for it,
// and of numbers that are not there.
func Times(records []*record.Record, season register.Season) (notices []Notice, doubts []phones.Doubt) {
	photos, _ := phonesOf(records, season)
	when, doubts := phones.Settle(photos, season)
	for _, d := range doubts {
		notices = append(notices, Notice{Text: d.Text})
	}
	for _, g := range phones.Gaps(photos, when) {
		notices = append(notices, Notice{Days: []string{g.DayBefore, g.DayBehind}, Text: g.String()})
	}
	for i, r := range records {
		r.When = when[i]
	}
	return notices, doubts
}

// Places gives every photo its place, and tells of tracks that cannot be used and of photos far from what they belong to.
func Places(records []*record.Record, sheets *register.Register, dir folder.Dir) (notices []Notice, folder Tracks, err error) {
	tracks, folder, err := tracksFor(records, dir)
	if err != nil {
		return nil, folder, err
	}
	for _, text := range folder.Notices {
		notices = append(notices, Notice{Text: text})
	}
	var far []farPhoto
	for _, r := range records {
		if err := place(r, tracks, folder.Key); err != nil {
			folder.Apart[r.Photo.File] = err.Error()
		}
		if text, apart := folder.Apart[r.Photo.File]; apart {
			notices = append(notices, Notice{Days: []string{r.When.Day()}, Text: r.Photo.File + ": no position: " + text})
		}
		if r.Where != nil {
			if allowedM, ok := farFrom(sheets, r.Where, r.Belongs); !ok {
				far = append(far, farPhoto{r, allowedM})
			}
		}
	}
	notices = append(notices, farNotices(far)...)
	notices = append(notices, halvesNotices(sheets, records)...)
	notices = append(notices, straysNotices(records, sheets)...)
	return notices, folder, nil
}

// halvesNotices says what to write for UTM positions of which nothing in the register tells the half of the globe, where the places of
// all photos do.
func halvesNotices(sheets *register.Register, records []*record.Record) (notices []Notice) {
	var known []locate.Place
	for _, r := range records {
		if r.Where != nil {
			known = append(known, r.Where.Place)
		}
	}
	unclear := sheets.Unclear()
	for _, where := range slices.Sorted(maps.Keys(unclear)) {
		if text := unclear[where].By(known); text != "" {
			notices = append(notices, Notice{Days: []string{}, Text: fmt.Sprintf("%s, position: the photos were taken about %s: if that is meant, write it so", where, text)})
		}
	}
	return notices
}

// A farPhoto was taken further from what it shows than it can be.
type farPhoto struct {
	*record.Record
	allowedM float64
}

// farNotices makes one notice of all photos that are far from the same find or locality and were taken on the same day.
func farNotices(far []farPhoto) (out []Notice) {
	for i, f := range far {
		together := func(o farPhoto) bool { return o.Where.Of == f.Where.Of && o.When.Day() == f.When.Day() }
		if slices.IndexFunc(far, together) < i {
			continue
		}
		name, more := f.Photo.File, -1
		for _, o := range far {
			if together(o) {
				more++
			}
		}
		if more > 0 {
			name += fmt.Sprintf(", like %d more of that day,", more)
		}
		out = append(out, Notice{Days: []string{f.When.Day()}, Text: fmt.Sprintf(
			"%s was taken %.0f m from %s by %s, more than %.0f m: look whether the photo, the jacket or a position is wrong",
			name, f.Where.AwayM, f.Where.Of, f.Where.From, f.allowedM)})
	}
	return out
}

// place finds where the photo was taken, by its phone or, where that says nothing, by the tracks; nil where neither does. A place
// from the tracks of the same key stands. The error says that the tracks contradict each other.
func place(r *record.Record, tracks []locate.Track, key string) (err error) {
	if !lacksPlace(r) {
		delete(r.Keys, "where")
		r.Where = nil
		// A phone that does not name the datum gives WGS84, which is what its receiver works on; another name is not shifted.
		if r.Capture != nil && r.Capture.Position != nil && locate.IsWGS84(cmp.Or(r.Capture.Position.Datum, "WGS84")) {
			p := r.Capture.Position
			r.Where = &record.Where{Place: locate.Place{LatDeg: p.LatDeg, LonDeg: p.LonDeg}, UM: p.UncertaintyM, From: fromPhone}
		}
		return nil
	}
	if tracks == nil { // nothing has changed
		if r.Where != nil {
			r.Where.Of, r.Where.AwayM = "", 0
		}
		return nil
	}
	r.Where = nil
	r.Keys["where"] = whereKey(r, key)
	utc, _ := r.When.UTC()
	at, u, name, err := locate.OnTracks(tracks, utc)
	switch {
	case err == nil:
		r.Where = &record.Where{Place: at, UM: &u, From: "track " + name}
	case !errors.Is(err, locate.ErrNoTrack):
		return err
	}
	return nil
}

// farFrom measures how far a photo was taken from what it shows: the nearest of its finds, else their locality. It is not ok
// where that is further than allowedM.
func farFrom(sheets *register.Register, w *record.Where, belongs assign.Belongs) (allowedM float64, ok bool) {
	if belongs.View.Elsewhere() {
		return 0, true
	}
	least, spread, allowed := 0., 0., 0.
	try := func(of string, at register.Position, limitM float64) {
		t, err := at.Read()
		if err != nil || t.Place == nil {
			return
		}
		d := locate.Distance(w.Place, *t.Place)
		if w.Of != "" && d >= least {
			return
		}
		w.Of, w.AwayM = of, float64(int(d*10+0.5))/10
		least, spread, allowed = d, t.SizeM, limitM
		for _, u := range []*float64{w.UM, at.UncertaintyM} {
			if u != nil {
				spread += *u
			}
		}
	}
	var localities []string
	for _, j := range belongs.Jackets {
		for _, f := range sheets.FindsOf(j) {
			try("find "+f.FieldNumber, f.Position, farFromFindM)
			localities = append(localities, f.Locality)
		}
	}
	if w.Of == "" {
		for _, l := range sheets.Localities {
			if slices.Contains(localities, l.Number) {
				try("locality "+l.Number, l.Position, farFromLocalityM)
			}
		}
	}
	return allowed + spread, w.Of == "" || least <= allowed+spread
}
