package paperwork

import (
	"bytes"
	"encoding/base64"
	"fmt"
	"html/template"
	"image"
	"image/jpeg"
	"os"
	"path"
	"strings"

	"github.com/disintegration/imaging"
)

// Limits of a day's page, which goes from phone to phone by message.
const (
	mostPageBytes    = 5 << 20
	mostPictureBytes = mostPageBytes - 1<<20 // the rest is for words
	picturePx        = 720                   // long side: twice a phone's width
	pictureQuality   = 70
)

// A Seen is a refused photo's picture and what was seen in it.
type Seen struct {
	File     string     `json:"File"`
	Preview  string     `json:"Preview"` // path of the photo upright and reduced
	WidthPx  int        `json:"WidthPx"` // of the upright photo
	HeightPx int        `json:"HeightPx"`
	Lines    [][][2]int `json:"Lines,omitempty"` // what was looked at and not believed, in px of the upright photo
}

// A picture is one that stands within the page, with what was seen drawn in.
type picture struct {
	Src               template.URL
	WidthPx, HeightPx int // of the photo, which its lines are in
	Path, Says        string
	Thick, Halo       int
}

// An album holds the page's pictures to what a page may weigh.
type album struct {
	seen map[string]Seen
	room int // bytes
}

func newAlbum(all []Seen) *album {
	a := &album{seen: map[string]Seen{}, room: mostPictureBytes}
	for _, s := range all {
		a.seen[s.File] = s
	}
	return a
}

// embedded is a JPEG as a page holds it; "": there is no room.
func (a *album) embedded(jpeg []byte) template.URL {
	n := base64.StdEncoding.EncodedLen(len(jpeg))
	if n > a.room {
		return ""
	}
	a.room -= n
	return template.URL("data:image/jpeg;base64," + base64.StdEncoding.EncodeToString(jpeg)) //nolint:gosec // of the program's own making
}

// picture is a refused photo's; nil: there is none, or no room for it.
func (a *album) picture(file string) (*picture, error) {
	s, ok := a.seen[file]
	if !ok || s.WidthPx < 1 || s.HeightPx < 1 {
		return nil, nil
	}
	from, err := imaging.Open(s.Preview)
	if err != nil {
		return nil, fmt.Errorf("preview of %s: %w", s.File, err)
	}
	var b bytes.Buffer
	if err := jpeg.Encode(&b, image.Image(imaging.Fit(from, picturePx, picturePx, imaging.CatmullRom)), &jpeg.Options{Quality: pictureQuality}); err != nil {
		return nil, err
	}
	p := &picture{Src: a.embedded(b.Bytes()), WidthPx: s.WidthPx, HeightPx: s.HeightPx, Path: pathOf(s.Lines), Says: path.Base(file)}
	if p.Src == "" {
		return nil, nil
	}
	p.Thick = max(1, max(s.WidthPx, s.HeightPx)/240)
	p.Halo = 2 * p.Thick
	if p.Path != "" {
		p.Says += ", with what was seen in it drawn in"
	}
	return p, nil
}

// pathOf writes lines as a path of SVG.
func pathOf(lines [][][2]int) string {
	var b strings.Builder
	for _, line := range lines {
		for i, at := range line {
			letter := "L"
			if i == 0 {
				letter = "M"
			}
			fmt.Fprintf(&b, "%s%d %d", letter, at[0], at[1])
		}
	}
	return b.String()
}

// A thumb is a small picture of one of the day's photos.
type thumb struct {
	Src         template.URL // "": there is none, or no room
	Whose, Says string
}

// strip are the day's photos, and what is said where there was no room for all their pictures.
func strip(shots []Shot, a *album) (out []thumb, pictureless string, err error) {
	without := 0
	for _, s := range shots {
		t := thumb{Whose: "no jacket", Says: s.says()}
		if len(s.Jackets) > 0 {
			t.Whose = strings.Join(s.Jackets, ", ")
		}
		if s.Small != "" {
			jpeg, err := os.ReadFile(s.Small)
			if err != nil {
				return nil, "", fmt.Errorf("small picture of %s: %w", s.File, err)
			}
			if t.Src = a.embedded(jpeg); t.Src == "" {
				without++
			}
		}
		out = append(out, t)
	}
	if without > 0 {
		pictureless = fmt.Sprintf("%s left out, so that the page stays below %d MB.", counted(without, "more picture"), mostPageBytes>>20)
	}
	return out, pictureless, nil
}

// says is a photo in a few words: view, time of day, name, scaled or not.
func (s Shot) says() string {
	var parts []string
	if s.View != "" {
		parts = append(parts, string(s.View))
	}
	if len(s.Taken) >= 16 {
		parts = append(parts, s.Taken[11:16])
	}
	parts = append(parts, path.Base(s.File))
	if s.ScaledBy != "" {
		parts = append(parts, "scaled by its "+s.ScaledBy)
	}
	return strings.Join(parts, ", ")
}
